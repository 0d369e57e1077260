-- +goose Up

-- What was cut badly, as it was reported. It is erased with its plan.
create table spoiled_pieces (
    acceptance uuid not null references acceptances on delete cascade,
    copy       int not null,
    piece      int not null default 0, -- its number in the weeding map; 0: the whole copy
    reason     text not null default '',
    primary key (acceptance, copy, piece)
);

-- A plan that cuts again what was spoiled of another.
alter table plans
    add column recut_of uuid references plans on delete set null,
    add column recut_reason text not null default '';

-- +goose Down
alter table plans drop column recut_of, drop column recut_reason;
drop table spoiled_pieces;
