-- +goose Up

-- What minutes are counted with, each time that it was taken; none: the start values.
create table calibrations (like stocks including all);

-- What the minutes of a plan were counted by, with those that it really took. Of an
-- outcome that was taken back it does not count. It names nobody and no plan.
create table timed_jobs (
    posting uuid primary key references postings,
    doc     json not null
);

-- +goose Down
drop table timed_jobs;
drop table calibrations;
