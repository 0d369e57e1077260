-- +goose Up

-- Stock that still has the limits which every family once started with gets those
-- of its own family, as a further version: what was edited stays. Plans keep the
-- copy that they were made with.
with newest as (
    select distinct on (id) id, version, doc::jsonb as doc, withdrawn from stocks order by id, version desc
), families (family, easy, care, expert) as (values
    ('cast_film', 1.2, 0.8, 0.5), ('heat_film', 2, 1.4, 1), ('blasting_mask', 2, 1.4, 1),
    ('paper', 3, 2, 1.5), ('light_card', 3, 2, 1.5),
    ('heavy_card', 4, 3, 2), ('stencil_sheet', 4, 3, 2), ('magnetic_sheet', 4, 3, 2)
)
insert into stocks (id, version, doc)
select n.id, n.version + 1, jsonb_set(n.doc, '{limits}', n.doc -> 'limits'
    || jsonb_build_object('stroke_easy_mm', f.easy, 'stroke_care_mm', f.care, 'stroke_expert_mm', f.expert)
    || case f.family when 'stencil_sheet' then '{"bridge_mm": 3}'::jsonb else '{}'::jsonb end)
from newest n join families f on f.family = n.doc ->> 'family'
where not n.withdrawn and n.doc -> 'limits' ->> 'bridge_mm' in ('2', '1.5')
    and (n.doc -> 'limits') - 'bridge_mm' = '{
        "stroke_easy_mm": 1.5, "stroke_care_mm": 1, "stroke_expert_mm": 0.7, "counter_mm": 2, "counter_mm2": 3,
        "fragile_mm2": 10, "kept_angle_deg": 25, "neck_mm": 2, "letter_easy_mm": 12, "letter_care_mm": 8,
        "letter_expert_mm": 6, "border_mm": 5, "hand_mm": 200, "clearance_mm": 0.5}'::jsonb;

-- Blades of the two kinds to start with get the least hole that they cut, where
-- nobody has entered one.
create function pg_temp.holed(blade jsonb) returns jsonb language sql immutable as $$
    select case
        when blade ? 'hole_mm' then blade
        when (blade ->> 'angle_deg')::numeric = 45 and (blade ->> 'offset_mm')::numeric = 0.25 then blade || '{"hole_mm": 3}'
        when (blade ->> 'angle_deg')::numeric = 60 and (blade ->> 'offset_mm')::numeric = 0.5 then blade || '{"hole_mm": 5}'
        else blade
    end
$$;
with newest as (
    select distinct on (id) id, version, doc::jsonb as doc, withdrawn from machines order by id, version desc
), holed as (
    select id, version, doc, doc || jsonb_strip_nulls(jsonb_build_object(
        'blade', pg_temp.holed(doc -> 'blade'),
        'blades', (select jsonb_agg(pg_temp.holed(b.blade) order by b.place)
            from jsonb_array_elements(case jsonb_typeof(doc -> 'blades') when 'array' then doc -> 'blades' else '[]' end)
                with ordinality b (blade, place)))) as better
    from newest where not withdrawn
)
insert into machines (id, version, doc)
select id, version + 1, better from holed where better <> doc;

-- Why somebody let something pass.
alter table replies add column reason text not null default '';
update replies r set reason = p.request -> 'replies' -> r.question ->> 'reason'
from plans p where p.id = r.plan and p.request -> 'replies' -> r.question ->> 'reason' <> '' and not r.taken_back;

-- +goose Down
alter table replies drop column reason;
