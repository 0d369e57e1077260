-- +goose Up

-- What is told of a class set goes with that, as what is told of a plan does.
alter table deliveries alter plan drop not null;
alter table deliveries add class_set uuid references class_sets on delete cascade;
alter table deliveries add constraint deliveries_about check (num_nonnulls(plan, class_set) = 1);
create index deliveries_class_set on deliveries (class_set);

-- What was told of a set, so that it is told once.
alter table class_sets add told_laid text not null default ''; -- the keys of its loads
alter table class_sets add told_complete boolean not null default false;
alter table class_sets add told_closed boolean not null default false;
update class_sets set told_closed = true where closed is not null or deadline <= now();
create index class_sets_deadline on class_sets (deadline) where not told_closed;

-- +goose Down
alter table class_sets drop told_laid, drop told_complete, drop told_closed;
delete from deliveries where plan is null;
alter table deliveries drop class_set;
alter table deliveries alter plan set not null;
