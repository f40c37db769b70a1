-- +goose Up
-- Fields whose results a busy server put off; the mark is written with the records that touched
-- them, so that no crash loses it.
CREATE TABLE stale (
    farm_id  uuid NOT NULL REFERENCES farm ON DELETE CASCADE,
    field_id uuid NOT NULL,
    PRIMARY KEY (farm_id, field_id)
);
ALTER TABLE stale ENABLE ROW LEVEL SECURITY;
ALTER TABLE stale FORCE ROW LEVEL SECURITY;
CREATE POLICY stale_of_farm ON stale USING (farm_id = (SELECT app_farm()))
    WITH CHECK (farm_id = (SELECT app_farm()));
-- +goose StatementBegin
DO $$
BEGIN
    EXECUTE format('CREATE POLICY stale_of_owner ON stale TO %I USING (true) WITH CHECK (true)',
        current_user);
END
$$;
-- +goose StatementEnd
GRANT SELECT, INSERT, DELETE ON stale TO hilum_app;

-- +goose Down
DROP TABLE stale;
