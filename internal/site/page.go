package site

import (
	"embed"
	"io/fs"
)

//go:embed page
var embedded embed.FS

// The pages of the server itself, shown where the client cannot be.
const (
	needsTLS = "/server/needs-tls.html"
	notBuilt = "/server/not-built.html"
)

// pages holds them under their addresses.
var pages = func() fs.FS {
	sub, err := fs.Sub(embedded, "page")
	if err != nil {
		panic(err) // the name above is not a valid path: a defect of ours
	}
	return sub
}()
