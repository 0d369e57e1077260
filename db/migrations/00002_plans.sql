-- +goose Up

create table plans (
    id               uuid primary key default gen_random_uuid(),
    client           text not null,
    drawing          uuid not null references drawings,
    -- json and not jsonb: keys are hashed from what was written, to the byte.
    request          json not null,
    status           text not null check (status in
                     ('queued', 'working', 'asking', 'ready', 'refused', 'failed', 'cancelled')),
    failure          text not null default '', -- a stable code, where it failed
    queue            text not null check (queue in ('interactive', 'batch')),
    client_reference text not null default '',
    supersedes       uuid references plans on delete set null,
    revision         int not null default 1, -- raised by every change of the request
    created          timestamptz not null default now(),
    updated          timestamptz not null default now()
);
create index plans_client on plans (client, created desc, id desc);
create index plans_reference on plans (client, client_reference) where client_reference <> '';
create index plans_drawing on plans (drawing);

-- How far a plan has come, and under which key each stage's result lies.
create table plan_stages (
    plan    uuid not null references plans on delete cascade,
    stage   text not null,
    place   int not null, -- in the order of the stages
    key     text,         -- known once the stages before it are done
    state   text not null check (state in ('waiting', 'queued', 'working', 'done', 'failed')),
    reused  boolean not null default false, -- the result was there already
    started timestamptz,
    ended   timestamptz,
    primary key (plan, stage)
);
create index plan_stages_key on plan_stages (key);

-- +goose Down
drop table plan_stages;
drop table plans;
