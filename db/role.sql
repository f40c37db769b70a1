-- The roles beside the login of DATABASE_URL. hilum_app, as which the program works, came with the
-- first migration; it is made here too for a cluster into which a backup is restored.
--
-- hilum_backup reads every row of every account and writes nothing. It cannot sign
-- in; whoever may take it does so by SET ROLE (pg_dump --role). hilum_app is no member of it. It
-- passes row security by policies of its own and not by BYPASSRLS, which only a superuser could
-- give. This runs at each start, after the migrations, so that a new table is never left out.
DO $$
DECLARE
    t text;
    -- PostgreSQL 16 tells who may grant a role from who may take it.
    take text := CASE WHEN current_setting('server_version_num')::int >= 160000 THEN 'SET' ELSE 'MEMBER' END;
BEGIN
    PERFORM pg_advisory_xact_lock(4011969001);
    FOREACH t IN ARRAY ARRAY['hilum_app', 'hilum_backup'] LOOP
        BEGIN
            IF to_regrole(t) IS NULL THEN
                EXECUTE format('CREATE ROLE %I NOLOGIN NOBYPASSRLS', t);
            END IF;
        EXCEPTION
            WHEN duplicate_object OR unique_violation THEN NULL; -- another database of this cluster made it
        END;
        IF NOT pg_has_role(current_user, t, take) THEN
            EXECUTE format('GRANT %I TO %I', t, current_user);
        END IF;
    END LOOP;
    IF NOT has_schema_privilege('hilum_backup', 'public', 'USAGE') THEN
        GRANT USAGE ON SCHEMA public TO hilum_backup;
    END IF;
    FOR t IN
        SELECT c.relname FROM pg_class c
        WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'p', 'S')
            AND NOT CASE c.relkind WHEN 'S' THEN has_sequence_privilege('hilum_backup', c.oid, 'SELECT')
                ELSE has_table_privilege('hilum_backup', c.oid, 'SELECT') END
    LOOP
        EXECUTE format('GRANT SELECT ON %I TO hilum_backup', t);
    END LOOP;
    FOR t IN
        SELECT c.relname FROM pg_class c
        WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'p') AND c.relrowsecurity
            AND NOT EXISTS (SELECT FROM pg_policy p
                WHERE p.polrelid = c.oid AND p.polname = c.relname || '_of_backup')
    LOOP
        EXECUTE format('CREATE POLICY %I ON %I FOR SELECT TO hilum_backup USING (true)', t || '_of_backup', t);
    END LOOP;
END
$$;
