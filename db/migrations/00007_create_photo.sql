-- +goose Up
-- A picture whose bytes are on disk, named by the hash of the bytes as they were sent.
CREATE TABLE photo (
    farm_id    uuid NOT NULL REFERENCES farm ON DELETE CASCADE,
    sha256     bytea NOT NULL,
    size       integer NOT NULL, -- bytes as stored, written anew
    stored_seq bigint NOT NULL,
    stored_at  timestamptz NOT NULL DEFAULT now(),
    PRIMARY KEY (farm_id, sha256),
    CONSTRAINT photo_hash_length CHECK (octet_length(sha256) = 32),
    CONSTRAINT photo_size_positive CHECK (size > 0)
);
CREATE INDEX record_by_photo ON record (farm_id, (body ->> 'sha256'))
    WHERE kind = 'photo' AND NOT deleted;

ALTER TABLE photo ENABLE ROW LEVEL SECURITY;
ALTER TABLE photo FORCE ROW LEVEL SECURITY;
CREATE POLICY photo_of_farm ON photo USING (farm_id = (SELECT app_farm()))
    WITH CHECK (farm_id = (SELECT app_farm()));
-- +goose StatementBegin
DO $$
BEGIN
    EXECUTE format('CREATE POLICY photo_of_owner ON photo TO %I USING (true) WITH CHECK (true)', current_user);
END
$$;
-- +goose StatementEnd
GRANT SELECT, INSERT ON photo TO hilum_app;

CREATE VIEW photo_record WITH (security_invoker = true) AS
SELECT farm_id, id, seq,
       (body ->> 'field')::uuid AS field_id,
       (body ->> 'dig')::uuid AS dig_id,
       (body ->> 'spot')::uuid AS spot_id,
       body ->> 'sha256' AS sha256,
       (body ->> 'size')::integer AS size_bytes,
       (body ->> 'w')::integer AS width_px,
       (body ->> 'h')::integer AS height_px,
       body ->> 'takenAt' AS taken_at_as_the_phone_said,
       (body #>> '{place,longitude}')::double precision AS longitude,
       (body #>> '{place,latitude}')::double precision AS latitude,
       coalesce((body ->> 'stored')::boolean, false) AS stored
FROM record WHERE kind = 'photo' AND NOT deleted;
GRANT SELECT ON photo_record TO hilum_app;

-- +goose Down
DROP VIEW photo_record;
DROP INDEX record_by_photo;
DROP TABLE photo;
