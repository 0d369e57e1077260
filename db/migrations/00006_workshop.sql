-- +goose Up

-- The workshop's data. Every change adds a version; old ones stay, so that a
-- plan can say what it was made with.
create table stocks (
    id text not null, version int not null, doc json not null,
    withdrawn boolean not null default false, created timestamptz not null default now(),
    primary key (id, version)
);
create table machines (like stocks including all);
create table settings (like stocks including all);
create table conventions (like stocks including all);
create table price_lists (like stocks including all);
create table sheets (like stocks including all);

-- +goose Down
drop table sheets;
drop table price_lists;
drop table conventions;
drop table settings;
drop table machines;
drop table stocks;
