-- +goose Up

-- Every answer ever given, in order. The last of a question counts, unless it
-- was taken back.
create table replies (
    id         bigint generated always as identity primary key,
    plan       uuid not null references plans on delete cascade,
    revision   int not null, -- of the plan that the answer led to
    question   text not null,
    asked      json not null, -- the question as it was put
    answer     text not null,
    value_mm   double precision not null default 0,
    author     text not null,
    taken_back boolean not null default false,
    created    timestamptz not null default now()
);
create index replies_plan on replies (plan, id);

-- +goose Down
drop table replies;
