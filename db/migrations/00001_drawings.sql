-- +goose Up

-- The bytes of drawings, shared between all that sent the same file.
create table blobs (
    hash    bytea primary key check (length(hash) = 32), -- SHA-256
    bytes   bytea not null,
    created timestamptz not null default now()
);

-- A drawing belongs to the client that sent it.
create table drawings (
    id      uuid primary key default gen_random_uuid(),
    client  text not null,
    hash    bytea not null references blobs,
    name    text not null, -- the file's name, as it was sent
    created timestamptz not null default now()
);
create index drawings_hash on drawings (hash);
create index drawings_client on drawings (client, created desc, id desc);

-- +goose Down
drop table drawings;
drop table blobs;
