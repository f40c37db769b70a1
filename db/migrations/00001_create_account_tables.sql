-- +goose Up
-- Two logins: the one of DATABASE_URL owns everything and migrates; the program works as
-- hilum_app, which owns nothing and cannot pass row-level security.
-- +goose StatementBegin
DO $$
BEGIN
    CREATE ROLE hilum_app NOLOGIN NOBYPASSRLS;
EXCEPTION
    WHEN duplicate_object OR unique_violation THEN NULL; -- another database of this cluster made it
END
$$;
-- +goose StatementEnd
-- +goose StatementBegin
DO $$
BEGIN
    EXECUTE format('GRANT hilum_app TO %I', current_user);
END
$$;
-- +goose StatementEnd
GRANT USAGE ON SCHEMA public TO hilum_app;

-- The account in force. After COMMIT the setting reads '' and not NULL, hence nullif: no account
-- set means no row, never an error.
-- +goose StatementBegin
CREATE FUNCTION app_farm() RETURNS uuid
LANGUAGE sql STABLE PARALLEL SAFE
AS $$ SELECT nullif(current_setting('app.farm_id', true), '')::uuid $$;
-- +goose StatementEnd

-- A farm is one customer account: the wall, the feed, one database on each phone.
CREATE TABLE farm (
    farm_id    uuid PRIMARY KEY,
    demo       boolean NOT NULL DEFAULT false,
    created_at timestamptz NOT NULL DEFAULT now()
);

-- The head of the feed, apart from farm so that its lock meets nothing else.
CREATE TABLE farm_head (
    farm_id     uuid PRIMARY KEY REFERENCES farm ON DELETE CASCADE,
    epoch       uuid NOT NULL DEFAULT gen_random_uuid(),
    head        bigint NOT NULL DEFAULT 0,
    floor       bigint NOT NULL DEFAULT 0,
    backup_head bigint NOT NULL DEFAULT 0,
    backup_at   timestamptz,
    CONSTRAINT farm_head_floor_below_head CHECK (floor >= 0 AND floor <= head)
) WITH (fillfactor = 50);

CREATE TABLE person (
    farm_id       uuid NOT NULL REFERENCES farm ON DELETE CASCADE,
    person_id     uuid NOT NULL,
    name          text NOT NULL,
    login         text,
    role          text NOT NULL,
    password_hash text,
    archived      boolean NOT NULL DEFAULT false,
    created_at    timestamptz NOT NULL DEFAULT now(),
    PRIMARY KEY (farm_id, person_id),
    CONSTRAINT person_login_once UNIQUE (farm_id, login),
    CONSTRAINT person_login_plain CHECK (login = lower(login)),
    CONSTRAINT person_name_length CHECK (char_length(name) BETWEEN 1 AND 120),
    CONSTRAINT person_role_known CHECK (role IN ('owner', 'consultant', 'scout', 'grower'))
);
CREATE INDEX person_by_login ON person (login);

CREATE TABLE device (
    farm_id         uuid NOT NULL REFERENCES farm ON DELETE CASCADE,
    device_id       uuid NOT NULL,
    person_id       uuid NOT NULL,
    name            text NOT NULL DEFAULT '',
    last_n          bigint NOT NULL DEFAULT 0,
    cursor_seen     bigint NOT NULL DEFAULT 0,
    app_version     text NOT NULL DEFAULT '',
    schema          integer NOT NULL DEFAULT 1,
    revoked_at      timestamptz,
    drain_until     timestamptz,
    clock_offset_ms bigint,
    seen_at         timestamptz NOT NULL DEFAULT now(),
    PRIMARY KEY (farm_id, device_id),
    FOREIGN KEY (farm_id, person_id) REFERENCES person,
    CONSTRAINT device_last_n_positive CHECK (last_n >= 0)
);

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

-- One-time links: the first owner of an account that does not exist yet, or a new password.
-- No foreign key to farm, since the first link comes before its account.
CREATE TABLE access_link (
    farm_id    uuid NOT NULL,
    token_hash bytea NOT NULL,
    person_id  uuid,
    created_at timestamptz NOT NULL DEFAULT now(),
    expires_at timestamptz NOT NULL,
    used_at    timestamptz,
    PRIMARY KEY (farm_id, token_hash),
    CONSTRAINT access_link_hash_length CHECK (octet_length(token_hash) = 32)
);

-- Failed sign-ins by login name, whole-server, so that a restart forgets nothing. Holds no farm
-- data: a login name that was tried may not even exist.
CREATE TABLE sign_in_failure (
    login_hash bytea PRIMARY KEY,
    failures   integer NOT NULL,
    last_at    timestamptz NOT NULL DEFAULT now(),
    CONSTRAINT sign_in_failure_positive CHECK (failures > 0)
);

-- Who did what: append-only for the program.
CREATE TABLE audit (
    farm_id   uuid NOT NULL REFERENCES farm ON DELETE CASCADE,
    audit_id  bigint GENERATED ALWAYS AS IDENTITY,
    at        timestamptz NOT NULL DEFAULT now(),
    person_id uuid,
    device_id uuid,
    action    text NOT NULL,
    subject   text NOT NULL DEFAULT '',
    detail    jsonb NOT NULL DEFAULT '{}',
    PRIMARY KEY (farm_id, audit_id)
);

-- Keys of the server itself; the program's role may not read it.
CREATE TABLE server_key (
    name       text PRIMARY KEY,
    value      bytea NOT NULL,
    created_at timestamptz NOT NULL DEFAULT now()
);

GRANT SELECT, INSERT ON farm TO hilum_app;
GRANT SELECT, INSERT, UPDATE ON farm_head, person, device, access_link TO hilum_app;
GRANT SELECT, INSERT, UPDATE, DELETE ON refresh_token, sign_in_failure TO hilum_app;
GRANT SELECT, INSERT ON audit TO hilum_app;

-- +goose Down
DROP TABLE server_key, audit, sign_in_failure, access_link, refresh_token, device, person,
    farm_head, farm;
DROP FUNCTION app_farm();
REVOKE USAGE ON SCHEMA public FROM hilum_app;
