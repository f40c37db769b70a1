// Package api is the HTTP face of the program: it reads a request, asks store or feed, and
// answers. Rules live below it.
package api

import (
	"context"
	"log/slog"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"

	"hilum/internal/auth"
	"hilum/internal/feed"
	"hilum/internal/photo"
	"hilum/internal/poke"
	"hilum/internal/snapshot"
	"hilum/internal/store"
)

// Deps is what the routes work with.
type Deps struct {
	Store     *store.Store
	Door      feed.Door
	Fresh     *Freshener
	Signer    *auth.Signer
	Snapshots *snapshot.Cache
	Photos    photo.Folder
	Hub       *poke.Hub
	Log       *slog.Logger
	Version   string
	Now       func() time.Time
	Ready     func(context.Context) error // nil error: fit to serve

	pushes, photos *pace // made by Mount where there is none
}

// Mount adds the routes to e.
func Mount(e *echo.Echo, d Deps) {
	if d.Fresh == nil {
		d.Fresh = NewFreshener(d.Log, nil)
	}
	if d.pushes == nil {
		d.pushes, d.photos = newPace(pushesAMinute, pushesAtOnce), newPace(photosAMinute, photosAtOnce)
	}
	e.HTTPErrorHandler = d.answerError
	e.IPExtractor = echo.ExtractIPDirect()
	e.Use(middleware.RequestID(), d.logRequests, d.recoverPanic)

	e.GET("/livez", func(c echo.Context) error { return c.String(http.StatusOK, "alive\n") })
	e.GET("/readyz", d.ready)

	v1 := e.Group("/api/v1", noStore)
	for _, r := range d.rules() {
		d.mount(v1, r)
	}
	e.Any("/api/*", func(echo.Context) error { return echo.ErrNotFound })
}

// Server gives a server with the time limits that echo leaves open.
func Server(e *echo.Echo, addr string) *http.Server {
	return &http.Server{
		Addr: addr, Handler: e,
		ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 60 * time.Second,
		WriteTimeout: 60 * time.Second, IdleTimeout: 120 * time.Second, MaxHeaderBytes: 16 << 10,
	}
}

// packed makes answers of more than a page small; phones pay for each byte.
var packed = middleware.GzipConfig{Level: 1, MinLength: 1 << 10}

// guessing slows down whoever tries passwords or links from one address.
func guessing() middleware.RateLimiterConfig {
	const perSecond, burst = 0.5, 30
	return middleware.RateLimiterConfig{
		Store: middleware.NewRateLimiterMemoryStoreWithConfig(
			middleware.RateLimiterMemoryStoreConfig{
				Rate: perSecond, Burst: burst, ExpiresIn: 10 * time.Minute},
		),
		IdentifierExtractor: func(c echo.Context) (string, error) { return c.RealIP(), nil },
		DenyHandler: func(echo.Context, string, error) error {
			return tooMany(2 * time.Second)
		},
	}
}

func noStore(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		c.Response().Header().Set(echo.HeaderCacheControl, "no-store")
		return next(c)
	}
}

func (d Deps) version(c echo.Context) error {
	return c.JSON(http.StatusOK, map[string]string{"version": d.Version})
}

func (d Deps) ready(c echo.Context) error {
	ctx, cancel := context.WithTimeout(c.Request().Context(), 2*time.Second)
	defer cancel()
	if err := d.Ready(ctx); err != nil {
		d.Log.Warn("not ready", "error", err)
		return c.String(http.StatusServiceUnavailable, "not ready: the database does not answer\n")
	}
	return c.String(http.StatusOK, "ready\n")
}
