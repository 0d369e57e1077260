-- +goose Up

-- How far the job that a group of a class set waits for has come, from 0 to 1, where it
-- says so: for those who look on, and no part of any result.
alter table class_groups add column share double precision;

-- +goose Down
alter table class_groups drop column share;
