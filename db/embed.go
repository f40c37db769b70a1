// Package db holds the schema as embedded SQL migrations and applies them.
package db

import "embed"

// Migrations are the goose migrations, in the directory "migrations".
//
//go:embed migrations/*.sql
var Migrations embed.FS

//go:embed role.sql
var roles string
