package api

import (
	"bytes"
	"net/http"
	"strings"
	"time"

	"github.com/labstack/echo/v4"
)

// slowest is how long a first load may take over a bad link before the server gives up.
const slowest = 10 * time.Minute

// snapshot serves the packed account. A load that broke off goes on with
//
//	Range: bytes=<plain bytes so far>-
//	If-Range: "<epoch>.<seq>"
//
// A browser asks for the rest unpacked by itself; the tag of the plain document therefore goes
// without the ending that packed ones have ("-as-br", "-as-gzip").
func (d Deps) snapshot(c echo.Context) error {
	h, req := c.Response().Header(), c.Request()
	wanted, _, _ := strings.Cut(strings.Trim(req.Header.Get("If-Range"), `"`), "-as-")
	s, err := d.Snapshots.Get(req.Context(), author(c).Farm, wanted)
	if err != nil {
		return err
	}
	encoding := accepted(req.Header.Get(echo.HeaderAcceptEncoding))
	content, err := s.As(encoding)
	if err != nil {
		return err
	}
	tag := s.Tag()
	if encoding != "" {
		tag += "-as-" + encoding
		h.Set(echo.HeaderContentEncoding, encoding)
	}
	h.Set("ETag", `"`+tag+`"`)
	h.Set(echo.HeaderVary, echo.HeaderAcceptEncoding)
	h.Set(echo.HeaderContentType, echo.MIMEApplicationJSON)
	hold(c, slowest)
	http.ServeContent(c.Response(), req, "", time.Time{}, bytes.NewReader(content))
	return nil
}

// accepted picks the smallest encoding that a client takes.
func accepted(header string) string {
	offered := map[string]bool{}
	for part := range strings.SplitSeq(header, ",") {
		name, quality, _ := strings.Cut(strings.TrimSpace(part), ";")
		offered[strings.ToLower(name)] = strings.ReplaceAll(quality, " ", "") != "q=0"
	}
	for _, name := range []string{"br", "gzip"} {
		if offered[name] {
			return name
		}
	}
	return ""
}

// hold gives one answer more time than the server's limits do. A writer that knows no limits, as
// in tests, is left alone.
func hold(c echo.Context, long time.Duration) {
	control := http.NewResponseController(c.Response().Writer)
	_ = control.SetWriteDeadline(time.Now().Add(long))
	_ = control.SetReadDeadline(time.Now().Add(long))
}
