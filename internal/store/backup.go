package store

import (
	"context"

	"github.com/jackc/pgx/v5"
)

// findBackupFaults looks at the role for backups (db/role.sql): it reads everything, since a
// backup that lacks rows would show only at its restore; it does nothing else; and the program's
// own role cannot take it.
const findBackupFaults = `
	WITH backup AS (SELECT * FROM pg_roles WHERE rolname = 'hilum_backup'),
	tables AS (
		SELECT c.oid, c.relname, c.relrowsecurity FROM pg_class c
		WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'p'))
	SELECT 'there is no role hilum_backup' AS fault WHERE NOT EXISTS (SELECT FROM backup)
	UNION ALL
	SELECT 'role hilum_backup may sign in, make roles or databases, or pass row security' FROM backup b
	WHERE b.rolsuper OR b.rolbypassrls OR b.rolcreaterole OR b.rolcreatedb OR b.rolreplication OR b.rolcanlogin
	UNION ALL
	SELECT 'role hilum_backup may take role ' || r.rolname
	FROM pg_auth_members m JOIN backup b ON m.member = b.oid JOIN pg_roles r ON r.oid = m.roleid
	UNION ALL
	SELECT 'role ' || current_user || ' may take role hilum_backup' FROM backup b
	WHERE pg_has_role(current_user, b.oid, 'MEMBER')
	UNION ALL
	SELECT 'role hilum_backup owns ' || c.relname FROM pg_class c JOIN backup b ON c.relowner = b.oid
	UNION ALL
	SELECT 'role hilum_backup may change table ' || t.relname FROM tables t, backup b
	WHERE has_table_privilege(b.oid, t.oid, 'INSERT, UPDATE, DELETE, TRUNCATE, TRIGGER')
		OR has_any_column_privilege(b.oid, t.oid, 'INSERT, UPDATE')
	UNION ALL
	SELECT 'role hilum_backup does not see all of table ' || t.relname FROM tables t, backup b
	WHERE NOT has_table_privilege(b.oid, t.oid, 'SELECT')
		OR t.relrowsecurity AND NOT EXISTS (SELECT FROM pg_policy p
			WHERE p.polrelid = t.oid AND p.polpermissive AND p.polcmd = 'r' AND p.polroles = ARRAY[b.oid]
				AND pg_get_expr(p.polqual, p.polrelid) = 'true')
		OR EXISTS (SELECT FROM pg_policy p WHERE p.polrelid = t.oid AND NOT p.polpermissive)
	ORDER BY fault`

// asker is a pool or a transaction.
type asker interface {
	Query(ctx context.Context, sql string, args ...any) (pgx.Rows, error)
}

func wallFaults(ctx context.Context, db asker) ([]string, error) {
	var faults []string
	for _, sql := range []string{findWalls, findBackupFaults} {
		rows, err := db.Query(ctx, sql)
		if err != nil {
			return nil, err
		}
		found, err := pgx.CollectRows(rows, pgx.RowTo[string])
		if err != nil {
			return nil, err
		}
		faults = append(faults, found...)
	}
	return faults, nil
}
