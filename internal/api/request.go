package api

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"net/http"
	"runtime/debug"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"hilum/internal/auth"
	"hilum/internal/fault"
	"hilum/internal/feed"
	"hilum/internal/wire"
)

// maxSmall bounds every body but a push.
const maxSmall = 64 << 10

// read decodes a JSON body of at most limit bytes after unpacking; unknown keys are refused.
func read(c echo.Context, limit int64, v any) error {
	body, err := receive(c, limit)
	if err != nil {
		return err
	}
	return decode(c, body, limit, v)
}

// receive gives the body as it was sent, at most limit bytes of it.
func receive(c echo.Context, limit int64) ([]byte, error) {
	req := c.Request()
	if kind, _, _ := strings.Cut(req.Header.Get(echo.HeaderContentType), ";"); kind != echo.MIMEApplicationJSON {
		return nil, fault.New(fault.Invalid, "type", "the body must be application/json")
	}
	raw, err := io.ReadAll(http.MaxBytesReader(c.Response(), req.Body, limit))
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		return nil, tooLarge(limit)
	case err != nil:
		return nil, damaged()
	}
	return raw, nil
}

func tooLarge(limit int64) error {
	return fault.New(fault.TooLarge, "size", "the body is larger than %d KiB", limit>>10)
}

func damaged() error {
	return fault.New(fault.Invalid, "body", "the body ended early or is damaged; nothing was stored")
}

// decode unpacks a received body, to at most limit bytes, and reads it.
func decode(c echo.Context, body []byte, limit int64, v any) error {
	switch c.Request().Header.Get(echo.HeaderContentEncoding) {
	case "", "identity":
		return wire.Strict(body, v)
	case "gzip":
	default:
		return fault.New(fault.Invalid, "encoding", "the body may be plain or gzip")
	}
	unpacked, err := gzip.NewReader(bytes.NewReader(body))
	if err != nil {
		return fault.New(fault.Invalid, "gzip", "the body is not gzip as its header says")
	}
	defer unpacked.Close()
	raw, err := io.ReadAll(io.LimitReader(unpacked, limit+1))
	switch {
	case err != nil:
		return damaged()
	case int64(len(raw)) > limit:
		return tooLarge(limit)
	}
	return wire.Strict(raw, v)
}

// ownPage lets a request pass only if it comes from a page of this server: it is what guards the
// routes that a cookie opens.
func ownPage(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		h := c.Request().Header
		site := h.Get("Sec-Fetch-Site")
		if h.Get("X-Hilum") != "1" || site != "" && site != "same-origin" {
			return fault.New(
				fault.Forbidden,
				"origin",
				"this request must come from the program's own page",
			)
		}
		return next(c)
	}
}

// Keys of what member learned about a request.
const (
	authorKey = "author"
	untilKey  = "until"  // when the access token ends
	holderKey = "holder" // whom it was made for
)

// member lets a request pass with a valid access token of the account in its path. Another
// account's path answers as one that does not exist.
func (d Deps) member(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		token, _ := strings.CutPrefix(c.Request().Header.Get(echo.HeaderAuthorization), "Bearer ")
		claims, err := d.Signer.Check(token)
		if err != nil {
			return err
		}
		if c.Param("farm") != claims.Farm {
			return fault.New(fault.NotFound, "farm", "there is no such account")
		}
		holder := auth.Holder{Farm: claims.Farm, Person: claims.Subject, Device: claims.Device,
			Session: claims.Session}
		access, err := d.Store.AccessOf(c.Request().Context(), holder)
		if err != nil {
			return err
		}
		c.Set(untilKey, claims.ExpiresAt.Time)
		c.Set(holderKey, holder)
		c.Set(
			authorKey,
			feed.Author{
				Farm:   claims.Farm,
				Person: claims.Subject,
				Device: claims.Device,
				Role:   access.Role,
				Cursor: access.Cursor,
				SeenAt: access.SeenAt,
			},
		)
		return next(c)
	}
}

func author(c echo.Context) feed.Author {
	who, _ := c.Get(authorKey).(feed.Author)
	return who
}

func holder(c echo.Context) auth.Holder {
	h, _ := c.Get(holderKey).(auth.Holder)
	return h
}

// logRequests writes one line a request: who, what, how long; never a body, a token or a query.
func (d Deps) logRequests(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		start := time.Now()
		err := next(c)
		if err != nil {
			c.Error(err)
		}
		who := author(c)
		d.Log.Info(
			"request",
			"method",
			c.Request().Method,
			"route",
			c.Path(),
			"status",
			c.Response().Status,
			"ms",
			time.Since(start).Milliseconds(),
			"bytes",
			c.Response().Size,
			"id",
			requestID(c),
			"farm",
			who.Farm,
			"person",
			who.Person,
		)
		return nil
	}
}

func (d Deps) recoverPanic(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) (err error) {
		defer func() {
			if r := recover(); r != nil {
				d.Log.Error(
					"panic",
					"value",
					fmt.Sprint(r),
					"stack",
					string(debug.Stack()),
					"id",
					requestID(c),
				)
				err = fault.New(fault.Internal, "internal", "panic")
			}
		}()
		return next(c)
	}
}
