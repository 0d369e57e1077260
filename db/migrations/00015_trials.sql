-- +goose Up

-- Blades that were put in, each with the offset that was measured on it.
create table blades (like stocks including all);

-- Test cuts, in the order in which they were looked at. A wrong one is withdrawn and
-- stays.
create table trials (
    id        uuid primary key default gen_random_uuid(),
    place     bigint generated always as identity, -- the order; by now() one that waited would seem older
    setting   text not null, -- for which it was posted
    stock     text not null,
    machine   text not null,
    doc       json not null,
    withdrawn boolean not null default false,
    created   timestamptz not null default now()
);
create index trials_of on trials (machine, stock, place);

-- How far a blade has cut, by what became of plans. Of an outcome that was taken back
-- it does not count.
create table blade_wear (
    posting uuid not null references postings,
    blade   text not null, -- the one that was put in, or its kind where nobody said which
    machine text not null,
    family  text not null,
    cut_mm  bigint not null check (cut_mm > 0)
);
create index blade_wear_blade on blade_wear (machine, blade);

-- +goose Down
drop table blade_wear;
drop table trials;
drop table blades;
