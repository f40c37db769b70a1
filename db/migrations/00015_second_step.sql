-- +goose Up
-- The second step of a sign-in. Whoever holds the database holds this secret too: it guards against
-- a guessed password, not against a stolen backup.
ALTER TABLE person ADD COLUMN second_secret text;
ALTER TABLE person ADD COLUMN second_since timestamptz; -- null with a secret: not confirmed yet
ALTER TABLE person ADD COLUMN second_step bigint NOT NULL DEFAULT 0;
CREATE TABLE recovery_code (
    farm_id   uuid NOT NULL REFERENCES farm ON DELETE CASCADE,
    person_id uuid NOT NULL,
    code_hash bytea NOT NULL,
    used_at   timestamptz,
    PRIMARY KEY (farm_id, person_id, code_hash),
    FOREIGN KEY (farm_id, person_id) REFERENCES person,
    CONSTRAINT recovery_code_hash_length CHECK (octet_length(code_hash) = 32)
);
ALTER TABLE recovery_code ENABLE ROW LEVEL SECURITY;
ALTER TABLE recovery_code FORCE ROW LEVEL SECURITY;
CREATE POLICY recovery_code_of_farm ON recovery_code USING (farm_id = (SELECT app_farm()))
    WITH CHECK (farm_id = (SELECT app_farm()));
-- +goose StatementBegin
DO $$
BEGIN
    EXECUTE format(
        'CREATE POLICY recovery_code_of_owner ON recovery_code TO %I USING (true) WITH CHECK (true)',
        current_user);
END
$$;
-- +goose StatementEnd
GRANT SELECT, INSERT, UPDATE, DELETE ON recovery_code TO hilum_app;

-- +goose Down
DROP TABLE recovery_code;
ALTER TABLE person DROP COLUMN second_step, DROP COLUMN second_since, DROP COLUMN second_secret;
