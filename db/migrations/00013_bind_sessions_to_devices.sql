-- +goose Up
-- A session belongs to one device and to the key that the device made for it. Its refresh token
-- changes with use; generation is the newest one that is known to have arrived, see auth.Judge.
DROP TABLE refresh_token;
CREATE TABLE session (
    farm_id    uuid NOT NULL REFERENCES farm ON DELETE CASCADE,
    session_id uuid NOT NULL,
    device_id  uuid NOT NULL,
    public_key bytea, -- P-256, uncompressed; null: a program without a key, which cannot renew
    generation bigint NOT NULL DEFAULT 0,
    created_at timestamptz NOT NULL,
    used_at    timestamptz NOT NULL,
    idle_until timestamptz NOT NULL,
    ends_at    timestamptz NOT NULL,
    ended_at   timestamptz,
    ended_why  text,
    PRIMARY KEY (farm_id, session_id),
    FOREIGN KEY (farm_id, device_id) REFERENCES device ON DELETE CASCADE,
    CONSTRAINT session_key_length CHECK (octet_length(public_key) = 65),
    CONSTRAINT session_ended_whole CHECK ((ended_at IS NULL) = (ended_why IS NULL))
);
CREATE INDEX session_by_device ON session (farm_id, device_id);
CREATE TABLE session_token (
    farm_id    uuid NOT NULL REFERENCES farm ON DELETE CASCADE,
    token_hash bytea NOT NULL,
    session_id uuid NOT NULL,
    generation bigint NOT NULL,
    created_at timestamptz NOT NULL,
    PRIMARY KEY (farm_id, token_hash),
    FOREIGN KEY (farm_id, session_id) REFERENCES session ON DELETE CASCADE,
    CONSTRAINT session_token_hash_length CHECK (octet_length(token_hash) = 32)
);
CREATE INDEX session_token_by_session ON session_token (farm_id, session_id, generation);

-- +goose StatementBegin
DO $$
DECLARE
    t text;
BEGIN
    FOREACH t IN ARRAY ARRAY['session', 'session_token'] LOOP
        EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', t);
        EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', t);
        EXECUTE format(
            'CREATE POLICY %I ON %I USING (farm_id = (SELECT app_farm())) '
            'WITH CHECK (farm_id = (SELECT app_farm()))',
            t || '_of_farm', t);
        EXECUTE format('CREATE POLICY %I ON %I TO %I USING (true) WITH CHECK (true)',
            t || '_of_owner', t, current_user);
    END LOOP;
END
$$;
-- +goose StatementEnd
GRANT SELECT, INSERT, UPDATE ON session TO hilum_app;
GRANT SELECT, INSERT, DELETE ON session_token TO hilum_app;

-- +goose Down
DROP TABLE session_token, session;
CREATE TABLE refresh_token (
    farm_id    uuid NOT NULL REFERENCES farm ON DELETE CASCADE,
    token_hash bytea NOT NULL,
    device_id  uuid NOT NULL,
    created_at timestamptz NOT NULL DEFAULT now(),
    used_at    timestamptz NOT NULL DEFAULT now(),
    expires_at timestamptz NOT NULL,
    PRIMARY KEY (farm_id, token_hash),
    FOREIGN KEY (farm_id, device_id) REFERENCES device ON DELETE CASCADE,
    CONSTRAINT refresh_token_hash_length CHECK (octet_length(token_hash) = 32)
);
ALTER TABLE refresh_token ENABLE ROW LEVEL SECURITY;
ALTER TABLE refresh_token FORCE ROW LEVEL SECURITY;
CREATE POLICY refresh_token_of_farm ON refresh_token USING (farm_id = (SELECT app_farm()))
    WITH CHECK (farm_id = (SELECT app_farm()));
-- +goose StatementBegin
DO $$
BEGIN
    EXECUTE format(
        'CREATE POLICY refresh_token_of_owner ON refresh_token TO %I USING (true) WITH CHECK (true)',
        current_user);
END
$$;
-- +goose StatementEnd
GRANT SELECT, INSERT, UPDATE, DELETE ON refresh_token TO hilum_app;
