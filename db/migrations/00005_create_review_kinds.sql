-- +goose Up
-- The review list reaches the phones as records of kind "conflict", which the server alone writes;
-- a correction says what was wrong in a closed dig; a photo waits for its bytes.
ALTER TABLE record DROP CONSTRAINT record_kind_known;
ALTER TABLE record ADD CONSTRAINT record_kind_known CHECK (kind IN ('settings', 'grower', 'field',
    'season', 'soilTest', 'dig', 'result', 'conflict', 'correction', 'photo'));
ALTER TABLE record ADD CONSTRAINT record_conflict_whole
    CHECK (kind <> 'conflict' OR deleted OR body ?& ARRAY['record', 'of', 'name', 'values']);
ALTER TABLE record ADD CONSTRAINT record_correction_whole
    CHECK (kind <> 'correction' OR deleted OR body ?& ARRAY['dig', 'field', 'why']);
ALTER TABLE record ADD CONSTRAINT record_photo_whole
    CHECK (kind <> 'photo' OR deleted OR body ?& ARRAY['field', 'sha256', 'size', 'w', 'h']);

-- Which value a person found right.
ALTER TABLE conflict ADD COLUMN settled_value jsonb;

-- One row a correction; plant_id is null for a whole dig.
CREATE VIEW correction WITH (security_invoker = true) AS
SELECT farm_id, id, seq,
       (body ->> 'dig')::uuid AS dig_id,
       (body ->> 'field')::uuid AS field_id,
       (body ->> 'plant')::uuid AS plant_id,
       coalesce((body ->> 'drop')::boolean, false) AS dropped,
       body -> 'right' AS right_plant,
       (body ->> 'date')::date AS right_date,
       (body #>> '{node,count}')::integer AS right_node_count,
       body ->> 'why' AS why
FROM record WHERE kind = 'correction' AND NOT deleted;

GRANT SELECT ON correction TO hilum_app;

-- +goose Down
DROP VIEW correction;
ALTER TABLE conflict DROP COLUMN settled_value;
ALTER TABLE record DROP CONSTRAINT record_photo_whole;
ALTER TABLE record DROP CONSTRAINT record_correction_whole;
ALTER TABLE record DROP CONSTRAINT record_conflict_whole;
ALTER TABLE record DROP CONSTRAINT record_kind_known;
-- Rows of the newer kinds stay, since taking them away would lose what people wrote; hence NOT VALID.
ALTER TABLE record ADD CONSTRAINT record_kind_known CHECK (kind IN ('settings', 'grower', 'field',
    'season', 'soilTest', 'dig', 'result')) NOT VALID;
