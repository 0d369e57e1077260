-- +goose Up

-- A lot is one thing in the stores whose amount is counted: a pile of sheets or
-- a roll of a stock, a roll of transfer tape, an offcut. The amounts are whole
-- sheets, mm or pieces; they are what the movements come to, kept beside them so
-- that a reservation locks a row and adds nothing up.
create table lots (
    code      text primary key, -- short, to be read off a label
    kind      text not null check (kind in ('sheets', 'roll', 'tape', 'offcut')),
    item      text not null,    -- what is asked for: the id of a stock, tape-low, tape-medium or tape-high
    stock     text not null default '', -- the stock that it is of; of an offcut the one that it was cut from
    family    text not null default '', -- its material
    batch     text not null default '',
    width_mm  bigint not null default 0, -- of tape and offcuts
    length_mm bigint not null default 0, -- of an offcut
    counted   boolean not null, -- false: nothing was ever received of the item, so what is free of it says nothing
    free      bigint not null default 0 check (free >= 0 or not counted),
    reserved  bigint not null default 0 check (reserved >= 0),
    issued    bigint not null default 0 check (issued >= 0),
    created   timestamptz not null default now()
);
create index lots_item on lots (item, code);

-- Where the workshop buys anew, in the unit of the item.
create table reorder_points (
    item   text primary key,
    amount bigint not null check (amount >= 0)
);

-- How long stock is held for a plan: one row, which is there from the start.
create table store_rules (
    one                 boolean primary key default true check (one),
    hold_h              int not null default 72 check (hold_h > 0),
    after_booking_h     int not null default 24 check (after_booking_h >= 0),
    warn_h              int not null default 12 check (warn_h >= 0),
    least_roller_mm     int not null default 100 check (least_roller_mm >= 0)
);
insert into store_rules default values;

-- What a plan is charged to, an account of the workshop's and no person's name.
alter table plans add column cost_code text not null default '';

-- The price that a client took and the stock that is held for it. It is erased
-- with its plan, once nothing is held or handed out for it.
create table acceptances (
    id                uuid primary key default gen_random_uuid(),
    place             bigint generated always as identity, -- the last of a plan counts; by now() a transaction that waited would seem older
    plan              uuid not null references plans,
    state             text not null check (state in ('held', 'lapsed', 'freed', 'issued', 'closed')),
    total_minor       bigint not null,
    total_text        text not null,
    price_until       timestamptz not null,
    held_until        timestamptz not null,
    warned            boolean not null default false, -- it was told that it lapses soon
    booking_reference text not null default '',
    booking_ends      timestamptz,
    cost_code         text not null default '',
    created           timestamptz not null default now(),
    updated           timestamptz not null default now()
);
create unique index acceptances_open on acceptances (plan) where state in ('held', 'issued');
create index acceptances_plan on acceptances (plan, place desc);
create index acceptances_due on acceptances (held_until) where state = 'held';

-- The ledger. A posting is what happened at once; its movements take amounts of
-- lots from one account to another, so that what leaves one arrives in the next.
-- Neither is ever changed or taken away: a posting that was wrong is reversed by
-- another. They name no person: who reported is kept in posting_notes, and a
-- plan is known by the id of its acceptance alone.
create table postings (
    id          uuid primary key,
    kind        text not null check (kind in ('receipt', 'reserve', 'release', 'lapse', 'issue', 'outcome', 'reversal')),
    acceptance  uuid,
    reverses    uuid unique references postings,
    stock       text not null default '', -- of the plan
    family      text not null default '',
    cost_code   text not null default '',
    price_minor bigint not null default 0, -- taken for the work; less than 0 where that is reversed
    cutter_s    bigint not null default 0, -- what it took
    bench_s     bigint not null default 0,
    created     timestamptz not null default now()
);
create index postings_acceptance on postings (acceptance);
create index postings_created on postings (created);

create table movements (
    id      bigint generated always as identity primary key,
    posting uuid not null references postings,
    kind    text not null check (kind in ('receipt', 'reserve', 'release', 'issue', 'use', 'spoil', 'return', 'offcut')),
    lot     text not null references lots,
    source  text not null check (source in ('outside', 'free', 'reserved', 'issued', 'used', 'spoiled')),
    target  text not null check (target in ('outside', 'free', 'reserved', 'issued', 'used', 'spoiled')),
    amount  bigint not null check (amount > 0),
    check (source <> target)
);
create index movements_posting on movements (posting);
create index movements_lot on movements (lot, id);

create table posting_notes (
    posting     uuid primary key references postings,
    reported_by text not null default '',
    remark      text not null default ''
);

-- +goose StatementBegin
create function keep_ledger() returns trigger language plpgsql as $$
begin
    raise exception 'the ledger is only added to';
end $$;
-- +goose StatementEnd
create trigger postings_stay before update or delete on postings for each statement execute function keep_ledger();
create trigger movements_stay before update or delete on movements for each statement execute function keep_ledger();

-- +goose Down
drop table posting_notes;
drop table movements;
drop table postings;
drop function keep_ledger;
drop table acceptances;
alter table plans drop column cost_code;
drop table store_rules;
drop table reorder_points;
drop table lots;
