// Package site serves the built client: every file from memory, compressed when it was built,
// with the cache rule that fits it; the one page for every address that is a screen; and 404 for
// everything else, so that a missing script is never answered with a page.
package site

import (
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"
)

// index is the client's one page.
const index = "/index.html"

// site is the client in memory, by address.
type site struct {
	assets map[string]*asset
	own    map[string]*asset // pages of this package
}

// Mount serves the client on all addresses that no other route takes. An empty file system
// stands for a client that is not built: its place is taken by a page that says so.
func Mount(e *echo.Echo, files fs.FS) error {
	assets, err := load(files)
	if err != nil {
		return fmt.Errorf("reading the built client: %w", err)
	}
	own, err := load(pages)
	if err != nil {
		return fmt.Errorf("reading the pages of the server: %w", err)
	}
	s := &site{assets: assets, own: own}
	e.GET("/*", s.serve)
	e.HEAD("/*", s.serve)
	return nil
}

// serve answers one address.
func (s *site) serve(c echo.Context) error {
	address := c.Request().URL
	// An address written with needless escapes (%61pi, assets%2Fx) has passed the router as
	// something else than it decodes to. Nothing of ours is written so.
	if address.RawPath != "" || !clean(address.Path) {
		return echo.ErrNotFound
	}
	if a, ok := s.own[address.Path]; ok {
		return a.send(c, http.StatusOK)
	}
	if isScreen(address.Path) {
		return s.screen(c)
	}
	if a, ok := s.assets[address.Path]; ok {
		return a.send(c, http.StatusOK)
	}
	return echo.ErrNotFound
}

// screen sends the client's page, or the reason why it would not work here.
func (s *site) screen(c echo.Context) error {
	if !secure(c.Request()) && !local(c.Request().Host) {
		c.Response().Header().Set("Upgrade", "TLS/1.2, HTTP/1.1")
		return s.own[needsTLS].send(c, http.StatusUpgradeRequired)
	}
	if page, ok := s.assets[index]; ok {
		return page.send(c, http.StatusOK)
	}
	return s.own[notBuilt].send(c, http.StatusServiceUnavailable)
}

// isScreen reports whether an address is one of the client's screens: no file, no route of the
// interface for programs.
func isScreen(address string) bool {
	if address == "/api" || strings.HasPrefix(address, "/api/") {
		return false
	}
	return address == index || path.Ext(address) == ""
}

// clean reports whether the address is in its shortest form, but for one slash at the end.
func clean(address string) bool {
	short := path.Clean(address)
	return address == short || address == short+"/"
}

// send answers with the best variant, or 304 if the client has it.
func (a *asset) send(c echo.Context, status int) error {
	header := c.Response().Header()
	header.Set("Cache-Control", a.cache)
	header.Add(echo.HeaderVary, echo.HeaderAcceptEncoding)
	v := a.choose(c.Request().Header.Get(echo.HeaderAcceptEncoding))
	if status == http.StatusOK {
		header.Set("ETag", v.tag)
		if matches(c.Request().Header.Get("If-None-Match"), v.tag) {
			return c.NoContent(http.StatusNotModified)
		}
	}
	if v.encoding != "" {
		header.Set(echo.HeaderContentEncoding, v.encoding)
	}
	header.Set(echo.HeaderContentLength, strconv.Itoa(len(v.body)))
	return c.Blob(status, a.kind, v.body)
}

// load reads a file system into memory. One that is empty or absent gives no assets.
func load(files fs.FS) (map[string]*asset, error) {
	assets := map[string]*asset{}
	err := fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		if name == "." && errors.Is(err, fs.ErrNotExist) {
			return fs.SkipAll
		}
		if err != nil || entry.IsDir() || isVariant(name) {
			return err
		}
		a, err := newAsset(files, name)
		assets["/"+name] = a
		return err
	})
	return assets, err
}
