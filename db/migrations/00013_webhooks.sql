-- +goose Up

-- Who is told of events, and where. What is signed with has to be kept as it is.
create table webhooks (
    id      uuid primary key default gen_random_uuid(),
    owner   text not null default '', -- whose plans it is told of; empty: all
    url     text not null,
    secret  bytea not null,
    events  text[] not null default '{}', -- empty: all
    active  boolean not null default true,
    created timestamptz not null default now()
);

-- What is told, once for each receiver. It goes with its plan.
create table deliveries (
    id       uuid primary key default gen_random_uuid(),
    webhook  uuid not null references webhooks on delete cascade,
    plan     uuid not null references plans on delete cascade,
    event    text not null,
    payload  text not null, -- JSON, byte for byte as it is signed
    state    text not null default 'waiting' check (state in ('waiting', 'delivered', 'dead')),
    attempts int not null default 0, -- since it was sent or resent
    status   int not null default 0, -- the last answer; 0: there was none
    fault    text not null default '', -- a stable word for why there was none
    created  timestamptz not null default now(),
    updated  timestamptz not null default now()
);
create index deliveries_webhook on deliveries (webhook, created desc, id desc);
create index deliveries_plan on deliveries (plan);

-- +goose Down
drop table deliveries;
drop table webhooks;
