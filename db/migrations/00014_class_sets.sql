-- +goose Up

-- The drawings of one course, to be laid on shared stock.
create table class_sets (
    id               uuid primary key default gen_random_uuid(),
    client           text not null,
    client_reference text not null default '',
    terms            json not null,  -- what its members share, the session, the spares
    deadline         timestamptz,    -- until when members are taken; null: until it is closed
    closed           timestamptz,    -- since when none is taken any more
    created          timestamptz not null default now(),
    updated          timestamptz not null default now()
);
create index class_sets_client on class_sets (client, created desc, id desc);
create index class_sets_created on class_sets (created desc, id desc);

-- Each member is a plan like any other; the newest of a reference is in the set.
create table class_members (
    class_set uuid not null references class_sets on delete cascade,
    reference text not null,
    plan      uuid not null references plans on delete cascade,
    received  timestamptz not null default now(),
    primary key (class_set, reference)
);
create unique index class_members_plan on class_members (plan);

-- The references that are expected.
create table class_roster (
    class_set uuid not null references class_sets on delete cascade,
    reference text not null,
    primary key (class_set, reference)
);
create index class_roster_reference on class_roster (reference);

-- +goose Down
drop table class_roster;
drop table class_members;
drop table class_sets;
