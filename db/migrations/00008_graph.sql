-- +goose Up

-- A plan's keys are all known when it is submitted, so that a result no longer
-- needs the sum of its bytes. The digest is what the result adds to the view of
-- a plan; it is missing where an older program wrote the result.
alter table results
    alter column sum drop not null,
    add column codec smallint not null default 0, -- how body is packed: 0 not, 1 zstd
    add column digest json;
alter table results alter column body set storage external; -- it is packed already

-- What is being computed carries all that its job has to know: the input that
-- it reads, its file and the keys of the results that it needs. The rows of one
-- job are a span, which it computes in the order of place. Plans that waited
-- when this was migrated are driven on by the next sweep.
drop table waiters;
drop table work;
create table work (
    key      text primary key,
    stage    text not null,
    revision int not null,   -- of the job whose key it is
    reads    json not null,
    file     bytea,          -- SHA-256, where it starts from a file
    needs    text[] not null,
    queue    text not null,
    job      bigint not null default 0, -- the river_job that owns the row
    place    int not null default 0,    -- in the span
    attempt  int not null default 0,    -- the attempt that owns it
    faults   int not null default 0,    -- attempts the job itself ended badly
    losses   int not null default 0,    -- attempts whose worker was not heard of again
    started  timestamptz,
    created  timestamptz not null default now()
);
create index work_job on work (job);

-- Who waits for what: a plan, or anything else that is made of results, may
-- wait for many keys. Work that nobody waits for is given up.
create table waiters (
    plan uuid not null references plans on delete cascade,
    key  text not null references work on delete cascade,
    primary key (plan, key)
);
create index waiters_key on waiters (key);

-- What callers read of a plan, written when it moves.
alter table plans
    add column view bytea,                  -- null: not gathered yet
    add column version bigint not null default 1, -- raised by every change that shows
    add column list int not null default 0; -- revision of the list of jobs it was made by
-- A plan lives for a moment in the first two and is read often in the last: to
-- pack them would cost more than it saves.
alter table work alter column reads set storage external;
alter table plans alter column request set storage external, alter column view set storage external;
create index plans_moving on plans (id) where status in ('queued', 'working');

-- Questions are named by the job that asks.
create function pg_temp.named(id text) returns text language sql immutable as $$
    select case
        when id like 'read:%' then 'read/' || substr(id, 6)
        when id = 'size' then 'size/true_size'
        when id in ('frame_border', 'frame_or_piece', 'nested_scale') then 'size/' || id
        when id = 'regions:stencil_edge' then 'weeding/stencil_edge'
        when id in ('regions', 'weld') then 'weeding/' || id
        when id = 'grain' then 'layout/grain'
        when id like '%/%' then id
        else 'artwork/' || id
    end
$$;
update replies set question = pg_temp.named(question),
    asked = jsonb_set(asked::jsonb, '{id}', to_jsonb(pg_temp.named(asked ->> 'id')))::json;
update plans set request = jsonb_set(request::jsonb, '{replies}', (
    select jsonb_object_agg(pg_temp.named(r.key), r.value) from jsonb_each(request::jsonb -> 'replies') r))::json
where json_typeof(request -> 'replies') = 'object' and request ->> 'replies' <> '{}';
-- What asks, asks anew, by the new names.
update plans set status = 'queued' where status in ('working', 'asking');

-- +goose Down
drop index plans_moving;
alter table plans drop column view, drop column version, drop column list;
drop table waiters;
drop table work;
create table work (
    key text primary key, stage text not null, queue text not null, job bigint not null default 0,
    attempt int not null default 0, faults int not null default 0, losses int not null default 0,
    started timestamptz, created timestamptz not null default now()
);
create table waiters (plan uuid primary key references plans on delete cascade, key text not null references work on delete cascade);
create index waiters_key on waiters (key);
delete from results where codec <> 0 or sum is null;
alter table results drop column codec, drop column digest, alter column sum set not null;
