// Package pwa holds the built client inside the program.
package pwa

import (
	"embed"
	"io/fs"
)

// Site is the folder "site", which the client is built into (site/app). Before the first build
// it holds a placeholder only, so that the server always compiles.
//
//go:embed all:site
var Site embed.FS

// Client is the built client, index.html at its root; empty if it is not built.
func Client() fs.FS {
	app, err := fs.Sub(Site, "site/app")
	if err != nil {
		panic(err) // the name above is not a valid path: a defect of ours
	}
	return app
}
