-- +goose Up

-- What was erased, by ids and, of references, by salted sums: no names. It is copied
-- into files outside the database, by which it is erased again after an older copy of
-- the database was restored.
create table erasures (
    what   text not null check (what in ('plan', 'class_set', 'drawing', 'reference', 'key')), -- a key: revoked
    which  text not null,
    erased timestamptz not null default now(),
    primary key (what, which)
);
create index erasures_erased on erasures (erased);

-- Where the request that made a plan stands in a distributed trace, as its header
-- traceparent says; empty: nowhere.
alter table plans add column trace text not null default '';

-- +goose Down
alter table plans drop column trace;
drop table erasures;
