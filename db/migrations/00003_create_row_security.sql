-- +goose Up
-- The second wall: every table with a farm_id shows and takes rows of the account in force only,
-- for its owner too. The scalar sub-select lets the planner use the keys.
-- +goose StatementBegin
DO $$
DECLARE
    t text;
BEGIN
    FOR t IN
        SELECT c.relname
        FROM pg_class c
        JOIN pg_attribute a ON a.attrelid = c.oid AND a.attname = 'farm_id' AND NOT a.attisdropped
        WHERE c.relnamespace = 'public'::regnamespace AND c.relkind = 'r'
        ORDER BY c.relname
    LOOP
        EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', t);
        EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', t);
        EXECUTE format(
            'CREATE POLICY %I ON %I USING (farm_id = (SELECT app_farm())) '
            'WITH CHECK (farm_id = (SELECT app_farm()))',
            t || '_of_farm', t);
        -- The login that migrates also lists accounts and makes one-time links; it need not be a
        -- superuser. hilum_app is no member of it, so this opens nothing to the program.
        EXECUTE format('CREATE POLICY %I ON %I TO %I USING (true) WITH CHECK (true)',
            t || '_of_owner', t, current_user);
    END LOOP;
END
$$;
-- +goose StatementEnd

-- A sign-in knows a login name and not yet an account.
CREATE POLICY person_of_login ON person FOR SELECT
    USING (login = (SELECT nullif(current_setting('app.login', true), '')));

-- +goose Down
DROP POLICY person_of_login ON person;
-- +goose StatementBegin
DO $$
DECLARE
    t text;
BEGIN
    FOR t IN SELECT tablename FROM pg_policies WHERE policyname = tablename || '_of_farm' LOOP
        EXECUTE format('DROP POLICY %I ON %I', t || '_of_farm', t);
        EXECUTE format('DROP POLICY %I ON %I', t || '_of_owner', t);
        EXECUTE format('ALTER TABLE %I NO FORCE ROW LEVEL SECURITY', t);
        EXECUTE format('ALTER TABLE %I DISABLE ROW LEVEL SECURITY', t);
    END LOOP;
END
$$;
-- +goose StatementEnd
