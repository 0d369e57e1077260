// Package migrations holds the schema's steps as SQL files, one a table or
// one a matter, applied in the order of their names by db.Migrate.
package migrations

import "embed"

// Files are the steps.
//
//go:embed *.sql
var Files embed.FS
