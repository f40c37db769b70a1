-- +goose Up
-- A pass keeps people out of a field; an assignment says who walks it.
ALTER TABLE record DROP CONSTRAINT record_kind_known;
ALTER TABLE record ADD CONSTRAINT record_kind_known CHECK (kind IN ('settings', 'grower', 'field',
    'season', 'soilTest', 'dig', 'result', 'conflict', 'correction', 'photo', 'decision', 'pass', 'assignment'));
ALTER TABLE record ADD CONSTRAINT record_pass_whole
    CHECK (kind <> 'pass' OR deleted OR body ?& ARRAY['field', 'cropYear', 'what', 'product', 'date']);
ALTER TABLE record ADD CONSTRAINT record_assignment_whole
    CHECK (kind <> 'assignment' OR deleted OR body ?& ARRAY['field', 'cropYear', 'person']);

-- Date and time are the field's own clock. re_entry_hours is null where nobody has read the label.
CREATE VIEW pass WITH (security_invoker = true) AS
SELECT farm_id, id, seq,
       (body ->> 'field')::uuid AS field_id,
       (body ->> 'cropYear')::integer AS crop_year,
       body ->> 'what' AS what,
       body ->> 'product' AS product_as_typed,
       (body ->> 'date')::date AS ended_on,
       (body ->> 'time')::time AS ended_at,
       (body ->> 'reEntryHours')::double precision AS re_entry_hours,
       (body ->> 'reCrop')::date AS re_crop_from,
       body ->> 'note' AS note
FROM record WHERE kind = 'pass' AND NOT deleted;

-- person_id is null where the field is open to whoever is near.
CREATE VIEW assignment WITH (security_invoker = true) AS
SELECT farm_id, id, seq,
       (body ->> 'field')::uuid AS field_id,
       (body ->> 'cropYear')::integer AS crop_year,
       nullif(body ->> 'person', '')::uuid AS person_id,
       body ->> 'note' AS note
FROM record WHERE kind = 'assignment' AND NOT deleted;

GRANT SELECT ON pass, assignment TO hilum_app;

-- +goose Down
DROP VIEW assignment, pass;
ALTER TABLE record DROP CONSTRAINT record_assignment_whole;
ALTER TABLE record DROP CONSTRAINT record_pass_whole;
ALTER TABLE record DROP CONSTRAINT record_kind_known;
-- Rows of the newer kinds stay, since taking them away would lose what people wrote; hence NOT VALID.
ALTER TABLE record ADD CONSTRAINT record_kind_known CHECK (kind IN ('settings', 'grower', 'field',
    'season', 'soilTest', 'dig', 'result', 'conflict', 'correction', 'photo', 'decision')) NOT VALID;
