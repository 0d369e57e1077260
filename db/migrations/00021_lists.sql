-- +goose Up

-- The lists of all clients' drawings and acceptances, the newest first.
create index drawings_created on drawings (created desc, id desc);
create index acceptances_created on acceptances (created desc, id desc);

-- +goose Down
drop index acceptances_created;
drop index drawings_created;
