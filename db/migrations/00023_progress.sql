-- +goose Up

-- How far the job that a plan's worker is at has come, from 0 to 1, where it says so: for
-- those who look on, and no part of any result.
alter table plans add column share double precision;

-- +goose Down
alter table plans drop column share;
