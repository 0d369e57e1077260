-- +goose Up

-- The keys that a plan had before an answer changed them: their results are its too, and
-- go when it is erased.
create table former_keys (
    plan uuid not null references plans on delete cascade,
    key  text not null,
    primary key (plan, key)
);

-- +goose Down
drop table former_keys;
