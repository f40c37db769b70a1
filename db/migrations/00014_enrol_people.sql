-- +goose Up
-- A grower's sign-in belongs to one grower record; a name may be replaced by an alias.
ALTER TABLE person ADD COLUMN grower_id uuid;
ALTER TABLE person ADD COLUMN language text NOT NULL DEFAULT '';
ALTER TABLE person ADD COLUMN alias boolean NOT NULL DEFAULT false;
ALTER TABLE person ADD CONSTRAINT person_language_known CHECK (language IN ('', 'en', 'fr'));
ALTER TABLE person ADD CONSTRAINT person_grower_named CHECK (grower_id IS NULL OR role = 'grower');

-- A code by which a person's device gets in, once: as a link, or typed. The first letters of the
-- typed one find the row, so that wrong tries are counted against it.
CREATE TABLE enrolment (
    farm_id      uuid NOT NULL REFERENCES farm ON DELETE CASCADE,
    enrolment_id uuid NOT NULL,
    person_id    uuid NOT NULL,
    made_by      uuid NOT NULL,
    selector     text NOT NULL,
    code_hash    bytea NOT NULL,
    link_hash    bytea NOT NULL,
    tries        integer NOT NULL DEFAULT 0,
    made_at      timestamptz NOT NULL,
    expires_at   timestamptz NOT NULL,
    used_at      timestamptz,
    device_id    uuid,
    PRIMARY KEY (farm_id, enrolment_id),
    FOREIGN KEY (farm_id, person_id) REFERENCES person,
    CONSTRAINT enrolment_selector_short CHECK (char_length(selector) = 3),
    CONSTRAINT enrolment_hash_length CHECK (octet_length(code_hash) = 32 AND octet_length(link_hash) = 32)
);
CREATE INDEX enrolment_by_selector ON enrolment (selector) WHERE used_at IS NULL;
CREATE INDEX enrolment_by_time ON enrolment (farm_id, made_at);

ALTER TABLE enrolment ENABLE ROW LEVEL SECURITY;
ALTER TABLE enrolment FORCE ROW LEVEL SECURITY;
CREATE POLICY enrolment_of_farm ON enrolment USING (farm_id = (SELECT app_farm()))
    WITH CHECK (farm_id = (SELECT app_farm()));
-- A typed code knows no account yet. Only live codes under its first letters show.
CREATE POLICY enrolment_of_code ON enrolment FOR SELECT
    USING (used_at IS NULL AND selector = (SELECT nullif(current_setting('app.enrol', true), '')));
-- +goose StatementBegin
DO $$
BEGIN
    EXECUTE format('CREATE POLICY enrolment_of_owner ON enrolment TO %I USING (true) WITH CHECK (true)',
        current_user);
END
$$;
-- +goose StatementEnd
GRANT SELECT, INSERT, UPDATE ON enrolment TO hilum_app;

-- +goose Down
DROP TABLE enrolment;
ALTER TABLE person DROP COLUMN alias, DROP COLUMN language, DROP COLUMN grower_id;
