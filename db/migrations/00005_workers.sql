-- +goose Up

-- Processes that work on jobs. One that has not written its beat for the time
-- of a lease is dead, and its jobs go to others.
create table workers (
    id      text primary key,
    started timestamptz not null default now(),
    beat    timestamptz not null default now()
);

-- +goose Down
drop table workers;
