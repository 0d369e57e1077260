-- +goose Up

-- Requests that carried an Idempotency-Key, and what they were answered.
create table idempotency (
    client       text not null,
    key          text not null,
    request_hash bytea not null,
    status       int, -- null until answered
    headers      json,
    body         bytea,
    created      timestamptz not null default now(),
    primary key (client, key)
);
create index idempotency_created on idempotency (created);

-- +goose Down
drop table idempotency;
