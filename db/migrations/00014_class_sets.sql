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
    code      int not null default 0, -- what its work is marked with; 0: not decided yet
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

-- Members that lie on common loads, and the results that say how. A group that is
-- not current any more is kept for those of its loads that were handed out.
create table class_groups (
    id        uuid primary key default gen_random_uuid(),
    class_set uuid not null references class_sets on delete cascade,
    place     int not null,    -- in the order of what their members have in common
    current   boolean not null default true,
    request   json not null,   -- what their members have in common
    keys      text[] not null, -- of its results, in the order of the jobs
    status    text not null check (status in ('working', 'ready', 'failed')),
    failure   text not null default '', -- a stable code, where it failed
    digest    json,            -- what callers read of it, once it is ready
    created   timestamptz not null default now()
);
create index class_groups_set on class_groups (class_set);
create index class_groups_keys on class_groups using gin (keys);

-- What lies on the loads of a group.
create table class_parts (
    class_group uuid not null references class_groups on delete cascade,
    code        int not null,
    reference   text not null,
    plan        uuid not null references plans,
    map         text not null, -- the key of its weeding map
    copies      int not null,
    primary key (class_group, code)
);
create index class_parts_plan on class_parts (plan);

-- What groups wait for, as plans do in waiters.
create table class_waiters (
    class_group uuid not null references class_groups on delete cascade,
    key         text not null references work on delete cascade,
    primary key (class_group, key)
);
create index class_waiters_key on class_waiters (key);

-- Sets that have to be looked at, because something of them has changed.
create table class_looks (
    id        bigint generated always as identity primary key,
    class_set uuid not null references class_sets on delete cascade
);
create index class_looks_set on class_looks (class_set);

-- Loads that were handed out: they keep their number, place and results.
create table class_loads (
    class_set   uuid not null references class_sets on delete cascade,
    number      int not null,
    class_group uuid not null references class_groups on delete cascade,
    load        int not null, -- of the group, from 1
    issued      timestamptz not null default now(),
    done        timestamptz,
    primary key (class_set, number)
);
create unique index class_loads_group on class_loads (class_group, load);

-- +goose Down
drop table class_loads;
drop table class_looks;
drop table class_waiters;
drop table class_parts;
drop table class_groups;
drop table class_roster;
drop table class_members;
drop table class_sets;
