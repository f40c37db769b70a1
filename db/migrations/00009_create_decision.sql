-- +goose Up
-- What the consultant made of a field's digs, and why. Of one field and crop year the one with the
-- highest seq stands.
ALTER TABLE record DROP CONSTRAINT record_kind_known;
ALTER TABLE record ADD CONSTRAINT record_kind_known CHECK (kind IN ('settings', 'grower', 'field',
    'season', 'soilTest', 'dig', 'result', 'conflict', 'correction', 'photo', 'decision'));
ALTER TABLE record ADD CONSTRAINT record_decision_whole CHECK (kind <> 'decision' OR deleted
    OR body ?& ARRAY['field', 'cropYear', 'choice', 'reason', 'date', 'who']);

CREATE VIEW decision WITH (security_invoker = true) AS
SELECT farm_id, id, seq,
       (body ->> 'field')::uuid AS field_id,
       (body ->> 'cropYear')::integer AS crop_year,
       (body ->> 'date')::date AS decided,
       body ->> 'who' AS who,
       body ->> 'choice' AS choice,
       (body #>> '{rate,value}')::double precision AS rate,
       body #>> '{rate,unit}' AS rate_unit,
       body ->> 'product' AS product,
       (body ->> 'byDay')::date AS by_day,
       body ->> 'reason' AS reason,
       body -> 'digs' AS digs,
       seq = max(seq) OVER (PARTITION BY farm_id, body ->> 'field', body ->> 'cropYear') AS stands
FROM record WHERE kind = 'decision' AND NOT deleted;

-- One row a place where the stand was counted, with the numbers as they were given.
CREATE VIEW stand_count WITH (security_invoker = true) AS
SELECT r.farm_id, r.id AS dig_id, r.seq,
       (r.body ->> 'field')::uuid AS field_id,
       (r.body ->> 'date')::date AS counted,
       c.place_number,
       (c.place ->> 'plants')::integer AS plants,
       (c.place #>> '{row,value}')::double precision AS row_length,
       c.place #>> '{row,unit}' AS row_length_unit,
       (c.place #>> '{spacing,value}')::double precision AS row_spacing,
       c.place #>> '{spacing,unit}' AS row_spacing_unit,
       (c.place #>> '{hoop,value}')::double precision AS hoop,
       c.place #>> '{hoop,unit}' AS hoop_unit
FROM record r CROSS JOIN LATERAL jsonb_array_elements(r.body -> 'stand') WITH ORDINALITY
    AS c (place, place_number)
WHERE r.kind = 'dig' AND NOT r.deleted;

GRANT SELECT ON decision, stand_count TO hilum_app;

-- +goose Down
DROP VIEW stand_count, decision;
ALTER TABLE record DROP CONSTRAINT record_decision_whole;
ALTER TABLE record DROP CONSTRAINT record_kind_known;
-- Decisions stay, since taking them away would lose what people wrote; hence NOT VALID.
ALTER TABLE record ADD CONSTRAINT record_kind_known CHECK (kind IN ('settings', 'grower', 'field',
    'season', 'soilTest', 'dig', 'result', 'conflict', 'correction', 'photo')) NOT VALID;
