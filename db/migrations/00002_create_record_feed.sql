-- +goose Up
-- The feed. One row is the present state of one record; seq is its place in the account's order
-- of changes, given under the lock of farm_head, so a reader that has seen seq n has seen all
-- that was ever committed up to n.
CREATE TABLE record (
    farm_id uuid NOT NULL REFERENCES farm ON DELETE CASCADE,
    id      uuid NOT NULL,
    kind    text NOT NULL,
    seq     bigint NOT NULL,
    deleted boolean NOT NULL DEFAULT false,
    body    jsonb NOT NULL,
    stamps  jsonb NOT NULL DEFAULT '{}', -- for each value: seq, device, n, person that set it
    PRIMARY KEY (farm_id, id),
    CONSTRAINT record_seq_once UNIQUE (farm_id, seq),
    CONSTRAINT record_kind_known
        CHECK (kind IN ('settings', 'grower', 'field', 'season', 'soilTest', 'dig', 'result')),
    CONSTRAINT record_settings_whole
        CHECK (kind <> 'settings' OR deleted OR body ?& ARRAY['name', 'timeZone', 'currency']),
    CONSTRAINT record_grower_whole CHECK (kind <> 'grower' OR deleted OR body ? 'name'),
    CONSTRAINT record_field_whole
        CHECK (kind <> 'field' OR deleted OR body ?& ARRAY['grower', 'name']),
    CONSTRAINT record_season_whole
        CHECK (kind <> 'season' OR deleted OR body ?& ARRAY['field', 'cropYear', 'crop']),
    CONSTRAINT record_soil_test_whole
        CHECK (kind <> 'soilTest' OR deleted OR body ?& ARRAY['field', 'sampled', 'layers']),
    CONSTRAINT record_dig_whole
        CHECK (kind <> 'dig' OR deleted OR body ?& ARRAY['field', 'cropYear', 'date', 'spots']),
    CONSTRAINT record_result_whole
        CHECK (kind <> 'result' OR deleted
            OR body ?& ARRAY['field', 'cropYear', 'inputHash', 'engineVersion'])
);
CREATE INDEX record_by_field ON record (farm_id, (body ->> 'field')) WHERE NOT deleted;
CREATE INDEX record_by_kind ON record (farm_id, kind) WHERE NOT deleted;

-- Every mutation as its bytes came, with its outcome: a repeat is answered from here.
CREATE TABLE mutation (
    farm_id     uuid NOT NULL,
    device_id   uuid NOT NULL,
    n           bigint NOT NULL,
    sha256      bytea NOT NULL,
    schema      integer NOT NULL,
    raw         bytea NOT NULL,
    received_at timestamptz NOT NULL DEFAULT now(),
    seq         bigint,
    outcome     text NOT NULL,
    problem     jsonb,
    PRIMARY KEY (farm_id, device_id, n),
    FOREIGN KEY (farm_id, device_id) REFERENCES device,
    CONSTRAINT mutation_n_positive CHECK (n > 0),
    CONSTRAINT mutation_outcome_known
        CHECK (outcome IN ('applied', 'merged', 'conflict', 'quarantined')),
    CONSTRAINT mutation_hash_length CHECK (octet_length(sha256) = 32)
);

-- Other bytes under a number that was used before: a cloned phone. Both are kept.
CREATE TABLE clone (
    farm_id     uuid NOT NULL,
    device_id   uuid NOT NULL,
    n           bigint NOT NULL,
    sha256      bytea NOT NULL,
    raw         bytea NOT NULL,
    received_at timestamptz NOT NULL DEFAULT now(),
    PRIMARY KEY (farm_id, device_id, n, sha256),
    FOREIGN KEY (farm_id, device_id) REFERENCES device
);

-- Values that were replaced or lost a conflict; the winning ones stand in record.
CREATE TABLE field_value (
    farm_id   uuid NOT NULL,
    record_id uuid NOT NULL,
    field     text NOT NULL,
    seq       bigint NOT NULL,
    value     jsonb,
    device_id uuid,
    n         bigint,
    person_id uuid,
    lost      boolean NOT NULL DEFAULT false, -- concurrent, and not the one shown
    PRIMARY KEY (farm_id, record_id, field, seq),
    FOREIGN KEY (farm_id, record_id) REFERENCES record
);

CREATE TABLE conflict (
    farm_id     uuid NOT NULL,
    record_id   uuid NOT NULL,
    field       text NOT NULL,
    opened_seq  bigint NOT NULL,
    shown       jsonb,
    other       jsonb,
    settled_by  uuid,
    settled_seq bigint,
    PRIMARY KEY (farm_id, record_id, field, opened_seq),
    FOREIGN KEY (farm_id, record_id) REFERENCES record
);

CREATE TABLE quarantine (
    farm_id    uuid NOT NULL,
    device_id  uuid NOT NULL,
    n          bigint NOT NULL,
    reason     jsonb NOT NULL,
    handled_by uuid,
    PRIMARY KEY (farm_id, device_id, n),
    FOREIGN KEY (farm_id, device_id, n) REFERENCES mutation
);

-- Every version of every result; the newest is also the record of kind result.
CREATE TABLE result (
    farm_id          uuid NOT NULL REFERENCES farm ON DELETE CASCADE,
    id               uuid NOT NULL,
    seq              bigint NOT NULL,
    input_seq        bigint NOT NULL, -- the change number of the push that made it
    field_id         uuid NOT NULL,
    crop_year        integer NOT NULL,
    crop             text NOT NULL,
    input_hash       text NOT NULL,
    engine_version   text NOT NULL,
    computed_at      timestamptz NOT NULL,
    starter_n_lb_ac  double precision,
    fail_chance      double precision,
    loss_share       double precision,
    loss_share_low   double precision,
    loss_share_high  double precision,
    body             jsonb NOT NULL, -- the record's body
    report           bytea,          -- the engine's whole report, byte for byte, gzip
    PRIMARY KEY (farm_id, id, seq),
    CONSTRAINT result_crop_year_range CHECK (crop_year BETWEEN 1990 AND 2100),
    CONSTRAINT result_fail_chance_range CHECK (fail_chance BETWEEN 0 AND 1),
    CONSTRAINT result_loss_share_range CHECK (loss_share BETWEEN 0 AND 1)
);
CREATE INDEX result_by_field ON result (farm_id, field_id, crop_year, seq);

GRANT SELECT, INSERT, UPDATE ON record, conflict, quarantine TO hilum_app;
GRANT SELECT, INSERT ON mutation, clone, field_value, result TO hilum_app;

-- No row gets a number outside the range that its transaction reserved under the head's lock.
-- +goose StatementBegin
CREATE FUNCTION record_seq_reserved() RETURNS trigger
LANGUAGE plpgsql
AS $$
BEGIN
    IF NEW.seq <= nullif(current_setting('app.seq_low', true), '')::bigint
       OR NEW.seq > nullif(current_setting('app.seq_high', true), '')::bigint
       OR coalesce(current_setting('app.seq_high', true), '') = '' THEN
        RAISE EXCEPTION 'record % got change number % outside the reserved range', NEW.id, NEW.seq;
    END IF;
    RETURN NEW;
END
$$;
-- +goose StatementEnd
CREATE TRIGGER record_seq_reserved BEFORE INSERT OR UPDATE ON record
    FOR EACH ROW EXECUTE FUNCTION record_seq_reserved();

-- +goose Down
DROP TABLE result, quarantine, conflict, field_value, clone, mutation, record;
DROP FUNCTION record_seq_reserved();
