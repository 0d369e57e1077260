-- +goose Up

-- Keys say who calls. Of a key itself only a sum is kept.
create table keys (
    id         uuid primary key,
    owner      text not null,            -- whose drawings and plans it makes and sees
    name       text not null default '', -- what it is for
    scopes     text[] not null check (cardinality(scopes) > 0 and scopes <@ array['submit', 'read', 'manage']),
    hash       bytea not null check (length(hash) = 32), -- SHA-256
    old_hash   bytea,                    -- of the key before the last rotation
    old_until  timestamptz,              -- until when that is taken too
    stock      text not null default '', -- what a course decided for its plans
    convention text not null default '',
    frame      text not null default '',
    per_minute int not null default 0 check (per_minute >= 0), -- requests; 0: as many as the service allows
    expires    timestamptz,
    revoked    timestamptz,
    used       timestamptz,
    created    timestamptz not null default now()
);

-- Tokens let a browser send one drawing. Spent, a token goes with its drawing.
create table tokens (
    id         uuid primary key,
    key        uuid references keys, -- that made it; null: it was made without one
    owner      text not null,
    hash       bytea not null check (length(hash) = 32),
    stock      text not null default '',
    convention text not null default '',
    frame      text not null default '',
    expires    timestamptz not null, -- until when it can be spent
    session    interval not null,    -- how long its drawing can be worked on then
    until      timestamptz,          -- until when that is; null: it is not spent
    drawing    uuid references drawings on delete cascade,
    created    timestamptz not null default now()
);
create index tokens_drawing on tokens (drawing);
create index tokens_expires on tokens (expires);

-- What links and capabilities are signed with, made by the first who needs it.
create table signing (
    one    boolean primary key default true check (one),
    secret bytea not null check (length(secret) = 32)
);

-- The lists of those who see all plans.
create index plans_created on plans (created desc, id desc);

-- +goose Down
drop index plans_created;
drop table signing;
drop table tokens;
drop table keys;
