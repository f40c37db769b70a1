-- +goose Up
-- Typed views for anyone with psql. Values stand as they were given, with the unit beside them;
-- what is converted says so in its name. They run with the rights of the reader.
CREATE VIEW settings WITH (security_invoker = true) AS
SELECT farm_id, id, seq,
       body ->> 'name' AS name,
       body ->> 'timeZone' AS time_zone,
       body ->> 'currency' AS currency,
       body ->> 'units' AS units,
       body ->> 'starterRule' AS starter_rule,
       body ->> 'nodeCount' AS node_count,
       (body ->> 'today')::date AS today
FROM record WHERE kind = 'settings' AND NOT deleted;

CREATE VIEW grower WITH (security_invoker = true) AS
SELECT farm_id, id, seq,
       body ->> 'name' AS name,
       body ->> 'language' AS language,
       coalesce((body ->> 'archived')::boolean, false) AS archived
FROM record WHERE kind = 'grower' AND NOT deleted;

CREATE VIEW field WITH (security_invoker = true) AS
SELECT farm_id, id, seq,
       (body ->> 'grower')::uuid AS grower_id,
       body ->> 'name' AS name,
       (body #>> '{area,value}')::double precision AS area,
       body #>> '{area,unit}' AS area_unit,
       body -> 'outline' AS outline_geojson,
       body ->> 'soilZone' AS soil_zone,
       body ->> 'texture' AS texture,
       coalesce((body ->> 'freeLime')::boolean, false) AS free_lime,
       coalesce((body ->> 'archived')::boolean, false) AS archived
FROM record WHERE kind = 'field' AND NOT deleted;

CREATE VIEW season WITH (security_invoker = true) AS
SELECT farm_id, id, seq,
       (body ->> 'field')::uuid AS field_id,
       (body ->> 'cropYear')::integer AS crop_year,
       coalesce(body ->> 'part', 'whole') AS part,
       body ->> 'crop' AS crop,
       body ->> 'status' AS status,
       body ->> 'nodulation' AS nodulation,
       (body ->> 'inoculated')::boolean AS inoculated,
       coalesce((body ->> 'flooded')::boolean, false) AS flooded,
       (body #>> '{yield,value}')::double precision AS expected_yield,
       body #>> '{yield,unit}' AS expected_yield_unit,
       (body #>> '{harvested,value}')::double precision AS harvested,
       body #>> '{harvested,unit}' AS harvested_unit,
       body ->> 'placement' AS starter_placement,
       (body ->> 'seeded')::date AS seeded
FROM record WHERE kind = 'season' AND NOT deleted;

-- One row a layer.
CREATE VIEW soil_test WITH (security_invoker = true) AS
SELECT r.farm_id, r.id, r.seq,
       (r.body ->> 'field')::uuid AS field_id,
       (r.body ->> 'sampled')::date AS sampled,
       (l.layer #>> '{top,value}')::double precision AS top,
       (l.layer #>> '{bottom,value}')::double precision AS bottom,
       l.layer #>> '{bottom,unit}' AS depth_unit,
       (l.layer #>> '{nitrate,value}')::double precision AS nitrate,
       l.layer #>> '{nitrate,unit}' AS nitrate_unit,
       r.body ->> 'ppmRule' AS ppm_rule,
       (r.body #>> '{ph,value}')::double precision AS ph,
       r.body #>> '{ph,basis}' AS ph_basis,
       (r.body ->> 'organicMatter')::double precision AS organic_matter_percent
FROM record r CROSS JOIN LATERAL jsonb_array_elements(r.body -> 'layers') AS l (layer)
WHERE r.kind = 'soilTest' AND NOT r.deleted;

-- One row a plant.
CREATE VIEW dig WITH (security_invoker = true) AS
SELECT r.farm_id, r.id, r.seq,
       (r.body ->> 'field')::uuid AS field_id,
       (r.body ->> 'cropYear')::integer AS crop_year,
       (r.body ->> 'date')::date AS dug,
       (r.body #>> '{node,count}')::integer AS node_count,
       r.body #>> '{node,convention}' AS node_convention,
       s.spot_number,
       p.plant_number,
       p.plant ->> 'vigour' AS vigour,
       p.plant ->> 'nodules' AS nodules,
       p.plant ->> 'inside' AS inside,
       p.plant ->> 'position' AS position
FROM record r
CROSS JOIN LATERAL jsonb_array_elements(r.body -> 'spots') WITH ORDINALITY AS s (spot, spot_number)
CROSS JOIN LATERAL jsonb_array_elements(s.spot -> 'plants')
    WITH ORDINALITY AS p (plant, plant_number)
WHERE r.kind = 'dig' AND NOT r.deleted;

CREATE VIEW current_result WITH (security_invoker = true) AS
SELECT DISTINCT ON (farm_id, field_id, crop_year)
       farm_id, id, seq, field_id, crop_year, crop, input_hash, engine_version, computed_at,
       starter_n_lb_ac, fail_chance, loss_share, loss_share_low, loss_share_high
FROM result
ORDER BY farm_id, field_id, crop_year, seq DESC;

GRANT SELECT ON settings, grower, field, season, soil_test, dig, current_result TO hilum_app;

-- +goose Down
DROP VIEW current_result, dig, soil_test, season, field, grower, settings;
