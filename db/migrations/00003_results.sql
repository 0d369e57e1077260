-- +goose Up

-- Results by the key of what went in. The bytes are as the stage wrote them:
-- later keys are made of their sum.
create table results (
    key     text primary key,
    stage   text not null,
    body    bytea not null,
    sum     bytea not null check (length(sum) = 32), -- SHA-256 of body
    outcome json not null,             -- findings and open questions
    seconds double precision not null, -- what it took to compute
    created timestamptz not null default now()
);

-- Results that are being computed: one row, and one job, a key.
create table work (
    key     text primary key,
    stage   text not null,
    queue   text not null,
    job     bigint not null default 0, -- the river_job that owns the row
    attempt int not null default 0,    -- the attempt that owns it
    faults  int not null default 0,    -- attempts the stage itself ended badly
    losses  int not null default 0,    -- attempts whose worker was not heard of again
    started timestamptz,
    created timestamptz not null default now()
);

-- Who waits for them. A plan waits for one result at a time; work that nobody
-- waits for is given up.
create table waiters (
    plan uuid primary key references plans on delete cascade,
    key  text not null references work on delete cascade
);
create index waiters_key on waiters (key);

-- +goose Down
drop table waiters;
drop table work;
drop table results;
