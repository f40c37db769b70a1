-- +goose Up
-- Where an entry was first, for one that came under another device id than it was made under.
ALTER TABLE mutation ADD COLUMN was_device uuid, ADD COLUMN was_n bigint, ADD COLUMN was_sha256 bytea,
    ADD CONSTRAINT mutation_was_whole
        CHECK (num_nulls(was_device, was_n, was_sha256) IN (0, 3)) NOT VALID;
CREATE INDEX mutation_by_first ON mutation (farm_id, was_device, was_n) WHERE was_device IS NOT NULL;

-- Numbers under which a device brought an entry that was on record already. The entry keeps its one
-- row in mutation; the number counts all the same, since those of a device are dense.
CREATE TABLE repeat (
    farm_id     uuid NOT NULL,
    device_id   uuid NOT NULL,
    n           bigint NOT NULL,
    sha256      bytea NOT NULL, -- of the bytes that came
    of_device   uuid NOT NULL,
    of_n        bigint NOT NULL,
    shut        boolean NOT NULL, -- it came from a device that had no access any more
    received_at timestamptz NOT NULL DEFAULT now(),
    PRIMARY KEY (farm_id, device_id, n),
    FOREIGN KEY (farm_id, device_id) REFERENCES device,
    FOREIGN KEY (farm_id, of_device, of_n) REFERENCES mutation,
    CONSTRAINT repeat_n_positive CHECK (n > 0),
    CONSTRAINT repeat_hash_length CHECK (octet_length(sha256) = 32)
);
CREATE INDEX repeat_by_entry ON repeat (farm_id, of_device, of_n);

ALTER TABLE repeat ENABLE ROW LEVEL SECURITY;
ALTER TABLE repeat FORCE ROW LEVEL SECURITY;
CREATE POLICY repeat_of_farm ON repeat USING (farm_id = (SELECT app_farm()))
    WITH CHECK (farm_id = (SELECT app_farm()));
-- +goose StatementBegin
DO $$
BEGIN
    EXECUTE format('CREATE POLICY repeat_of_owner ON repeat TO %I USING (true) WITH CHECK (true)',
        current_user);
END
$$;
-- +goose StatementEnd
GRANT SELECT, INSERT ON repeat TO hilum_app;

-- +goose Down
DROP TABLE repeat;
DROP INDEX mutation_by_first;
ALTER TABLE mutation DROP CONSTRAINT mutation_was_whole, DROP COLUMN was_device, DROP COLUMN was_n,
    DROP COLUMN was_sha256;
