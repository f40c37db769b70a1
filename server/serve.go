package main

import (
	"cmp"
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"os"
	"path/filepath"
	"sync/atomic"
	"time"

	"github.com/labstack/echo/v4"
	"golang.org/x/crypto/acme/autocert"

	"hilum/db"
	"hilum/internal/api"
	"hilum/internal/auth"
	"hilum/internal/fault"
	"hilum/internal/feed"
	"hilum/internal/photo"
	"hilum/internal/poke"
	"hilum/internal/site"
	"hilum/internal/snapshot"
	"hilum/internal/store"
	"hilum/pwa"
)

const drainLimit = 10 * time.Second

// serve runs until ctx ends; the private PostgreSQL ends with it.
func serve(ctx context.Context, args []string) error {
	demoMode, err := readServeFlags(args)
	if err != nil {
		return err
	}
	c, err := readConfig()
	if err != nil {
		return err
	}
	d, err := openDatabase(ctx, c, false)
	if err != nil {
		return err
	}
	defer d.close()
	if d.data != "" {
		fmt.Printf("data: %s\n", d.data)
	}
	s, signer, err := prepare(ctx, c, d, demoMode)
	if err != nil {
		return err
	}
	defer s.Close()
	return listen(ctx, c, d, s, signer)
}

func readServeFlags(args []string) (string, error) {
	mode := ""
	for _, arg := range args {
		switch arg {
		case "--demo", "--demo=fresh", "--demo=beside":
			mode = arg
		default:
			return "", fault.New(
				fault.Invalid,
				"flag",
				"serve does not know %q; accepted: --demo, --demo=fresh, --demo=beside",
				arg,
			)
		}
	}
	return mode, nil
}

// prepare migrates, opens the store, and makes sure that somebody can sign in.
func prepare(
	ctx context.Context,
	c config,
	d *database,
	demoMode string,
) (*store.Store, *auth.Signer, error) {
	if err := db.Migrate(ctx, d.dsn); err != nil {
		return nil, nil, err
	}
	admin, err := store.OpenAdmin(ctx, d.dsn)
	if err != nil {
		return nil, nil, err
	}
	defer admin.Close(ctx)
	fresh := make([]byte, 32)
	if _, err := rand.Read(fresh); err != nil {
		return nil, nil, fmt.Errorf("drawing a key: %w", err)
	}
	key, err := admin.Key(ctx, "access-token", fresh)
	if err != nil {
		return nil, nil, err
	}
	signer, err := auth.NewSigner(key, time.Now)
	if err != nil {
		return nil, nil, err
	}
	s, err := store.Open(ctx, d.dsn)
	if err != nil {
		return nil, nil, err
	}
	if err := welcome(ctx, c, s, admin, demoMode); err != nil {
		s.Close()
		return nil, nil, err
	}
	return s, signer, nil
}

func listen(ctx context.Context, c config, d *database, s *store.Store, signer *auth.Signer) error {
	var leaving atomic.Bool
	hub := poke.New(s.Heads)
	go hub.Run(ctx)
	photos := photo.At(c.photoFolder(d.data))
	go keepTidy(ctx, d.dsn, s, photos, logger(c))
	fresh, door, err := freshener(ctx, c, d, s)
	if err != nil {
		return err
	}
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	e.Pre(site.Headers)
	api.Mount(e, api.Deps{
		Store: s, Signer: signer, Version: version, Now: time.Now, Log: logger(c),
		Door: door, Fresh: fresh, Snapshots: snapshot.New(s.Log()),
		Hub: hub, Photos: photos,
		Ready: func(ctx context.Context) error {
			if leaving.Load() {
				return errors.New("shutting down")
			}
			return s.Ping(ctx)
		},
	})
	if err := site.Mount(e, pwa.Client()); err != nil {
		return err
	}
	server := api.Server(e, fmt.Sprintf(":%d", c.port))
	failed := make(chan error, 1)
	go func() { failed <- listenOn(server, c, d.data) }()
	fmt.Printf("address: %s\n", c.address())
	select {
	case err := <-failed:
		return fmt.Errorf("listening on port %d: %w", c.port, err)
	case err := <-d.stopped():
		return fault.New(
			fault.Unavailable,
			"database",
			"the database stopped by itself (%v); start again: nothing acknowledged is lost",
			err,
		)
	case <-ctx.Done():
	}
	leaving.Store(true)
	drain, cancel := context.WithTimeout(context.Background(), drainLimit)
	defer cancel()
	return server.Shutdown(drain)
}

// freshener computes what a busy server puts off, beginning with what the one before left.
func freshener(
	ctx context.Context,
	c config,
	d *database,
	s *store.Store,
) (*api.Freshener, feed.Door, error) {
	door := feed.Door{Log: s.Log(), Now: time.Now}
	admin, err := store.OpenAdmin(ctx, d.dsn)
	if err != nil {
		return nil, door, err
	}
	defer admin.Close(ctx)
	left, err := admin.StaleFarms(ctx)
	if err != nil {
		return nil, door, err
	}
	fresh := api.NewFreshener(logger(c), left)
	go fresh.Run(ctx, door)
	door.PutOff = fresh.Busy
	return fresh, door, nil
}

// listenOn serves plainly, with a certificate of the owner's, or with one fetched by ACME.
func listenOn(server *http.Server, c config, data string) error {
	switch {
	case c.tlsCert != "":
		return server.ListenAndServeTLS(c.tlsCert, c.tlsKey)
	case c.acmeHost != "":
		manager := &autocert.Manager{
			Prompt: autocert.AcceptTOS, HostPolicy: autocert.HostWhitelist(c.acmeHost),
			Cache: autocert.DirCache(certificates(data)),
		}
		server.Addr, server.TLSConfig = ":443", manager.TLSConfig()
		challenge := api.Server(nil, ":80")
		challenge.Handler = manager.HTTPHandler(nil)
		go func() { _ = challenge.ListenAndServe() }()
		return server.ListenAndServeTLS("", "")
	}
	return server.ListenAndServe()
}

// certificates is where fetched certificates are kept: with the data, or, beside a database of
// somebody else's, in the folder that HILUM_DATA names.
func certificates(data string) string {
	return filepath.Join(cmp.Or(data, os.Getenv("HILUM_DATA"), ".data"), "acme")
}

// photoFolder is where pictures are kept: where the setting says, or beside the data.
func (c config) photoFolder(data string) string {
	beside := filepath.Join(cmp.Or(data, os.Getenv("HILUM_DATA"), ".data"), "photos")
	return cmp.Or(c.photos, beside)
}

func (c config) address() string {
	switch {
	case c.acmeHost != "":
		return "https://" + c.acmeHost
	case c.tlsCert != "":
		return fmt.Sprintf("https://localhost:%d", c.port)
	}
	return fmt.Sprintf("http://localhost:%d", c.port)
}

func logger(c config) *slog.Logger {
	level := slog.LevelWarn
	if c.verbose {
		level = slog.LevelInfo
	}
	return slog.New(slog.NewJSONHandler(os.Stderr, &slog.HandlerOptions{Level: level}))
}
