-- +goose Up

-- References are kept in one form of Unicode, in which they are looked for from now on. Of a
-- set that has a name in both forms each stays as it is. Only a database in UTF-8 can do it;
-- in another there is no second form.
-- +goose StatementBegin
do $$ begin
    if getdatabaseencoding() = 'UTF8' then
        update plans set client_reference = normalize(client_reference) where client_reference is not normalized;
        update class_sets set client_reference = normalize(client_reference) where client_reference is not normalized;
        update class_members m set reference = normalize(reference) where reference is not normalized
            and not exists (select from class_members o where o.class_set = m.class_set and o.plan <> m.plan and normalize(o.reference) = normalize(m.reference));
        update class_roster r set reference = normalize(reference) where reference is not normalized
            and not exists (select from class_roster o where o.class_set = r.class_set and o.reference <> r.reference and normalize(o.reference) = normalize(r.reference));
        update class_parts set reference = normalize(reference) where reference is not normalized;
    end if;
end $$;
-- +goose StatementEnd

-- +goose Down
select 1; -- the form is a better one for a program before, too
