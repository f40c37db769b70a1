-- +goose Up
-- What an entry lacks that was set aside for want of a record; it is judged again when that comes.
ALTER TABLE quarantine ADD COLUMN lacks uuid;
CREATE INDEX quarantine_lacking ON quarantine (farm_id, lacks) WHERE lacks IS NOT NULL;

-- Each later judgement of an entry that was set aside; mutation keeps the first one.
CREATE TABLE judgement (
    farm_id    uuid NOT NULL,
    device_id  uuid NOT NULL,
    n          bigint NOT NULL,
    judged_seq bigint NOT NULL, -- change number by which phones learn of it
    outcome    text NOT NULL,
    seq        bigint,          -- change number that the entry's record got
    problem    jsonb,
    person_id  uuid,            -- who took it up or put it away by hand
    judged_at  timestamptz NOT NULL DEFAULT now(),
    PRIMARY KEY (farm_id, device_id, n, judged_seq),
    FOREIGN KEY (farm_id, device_id, n) REFERENCES quarantine,
    CONSTRAINT judgement_outcome_known
        CHECK (outcome IN ('applied', 'merged', 'conflict', 'quarantined', 'discarded'))
);
CREATE INDEX judgement_by_seq ON judgement (farm_id, judged_seq);

ALTER TABLE judgement ENABLE ROW LEVEL SECURITY;
ALTER TABLE judgement FORCE ROW LEVEL SECURITY;
CREATE POLICY judgement_of_farm ON judgement USING (farm_id = (SELECT app_farm()))
    WITH CHECK (farm_id = (SELECT app_farm()));
-- +goose StatementBegin
DO $$
BEGIN
    EXECUTE format('CREATE POLICY judgement_of_owner ON judgement TO %I USING (true) WITH CHECK (true)',
        current_user);
END
$$;
-- +goose StatementEnd
GRANT SELECT, INSERT ON judgement TO hilum_app;

-- +goose Down
DROP TABLE judgement;
DROP INDEX quarantine_lacking;
ALTER TABLE quarantine DROP COLUMN lacks;
