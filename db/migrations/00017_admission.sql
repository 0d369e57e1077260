-- +goose Up

-- The work is the backlog: a span whose job is below 0 waits to be admitted to the
-- queue, and then gets the number of its job there. What says when it is admitted
-- stands in the first row of the span, the one with place 0.
create sequence spans;
alter table work
    add column client  text not null default '', -- whom it is charged to
    add column plan    uuid not null default '00000000-0000-0000-0000-000000000000', -- who asked first
    add column list    int not null default 0,   -- revision of the list of jobs that it is made by
    add column cost    double precision not null default 0, -- estimate of its first job, in seconds
    add column heavy   boolean not null default false,      -- it takes long by that estimate
    add column awaited boolean not null default true,       -- somebody waits for the answer now
    add column due     timestamptz not null default now();  -- since when it is wanted, later by its cost
create index work_backlog on work (queue, client, heavy, awaited, due, job desc) where job < 0 and place = 0;
create index work_admitted on work (client) where job > 0 and place = 0;

alter table plans
    add column since   timestamptz not null default now(), -- when a person last asked it to move
    add column awaited timestamptz;                        -- when somebody was last seen to wait for it
update plans set since = updated;

-- How many jobs of each queue a worker runs at a time, and how many heavy ones of both.
alter table workers
    add column interactive int not null default 2,
    add column batch       int not null default 2,
    add column heavy       int not null default 1;

-- The seconds that each client has had computed lately; they fade.
create table used (
    client  text primary key,
    seconds double precision not null,
    at      timestamptz not null default now()
);

-- +goose Down
drop table used;
alter table workers drop column interactive, drop column batch, drop column heavy;
alter table plans drop column since, drop column awaited;
alter table work drop column client, drop column plan, drop column list, drop column cost, drop column heavy, drop column awaited, drop column due;
drop sequence spans;
