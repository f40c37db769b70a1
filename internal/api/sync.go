package api

import (
	"net/http"
	"strconv"

	"github.com/labstack/echo/v4"
	"golang.org/x/sync/semaphore"

	"hilum/internal/fault"
	"hilum/internal/kind"
	"hilum/internal/wire"
)

// syncsAtOnce is how many syncs are worked on at one time, as many as there are connections to the
// database. The rest wait with their packed bodies: each in work takes some megabytes.
const syncsAtOnce = 4

// syncing holds a place for each sync in work.
var syncing = semaphore.NewWeighted(syncsAtOnce)

// sync reads the body before it takes a place, and gives the place back before it writes, so that
// a slow phone keeps nobody waiting.
func (d Deps) sync(c echo.Context) error {
	body, err := receive(c, wire.MaxBodyBytes)
	if err != nil {
		return err
	}
	answer, err := d.syncOnce(c, body)
	if err != nil {
		return err
	}
	return c.JSONBlob(http.StatusOK, answer)
}

func (d Deps) syncOnce(c echo.Context, body []byte) ([]byte, error) {
	ctx := c.Request().Context()
	d.Fresh.waiting.Add(1)
	err := syncing.Acquire(ctx, 1)
	d.Fresh.waiting.Add(-1)
	if err != nil {
		return nil, fault.New(fault.Unavailable, "busy", "the server is busy; nothing was stored, try again")
	}
	defer syncing.Release(1)
	var req wire.SyncRequest
	if err := decode(c, body, wire.MaxBodyBytes, &req); err != nil {
		return nil, err
	}
	if len(req.Push) > 0 {
		if err := d.pushes.take(author(c).Device, d.Now()); err != nil {
			return nil, err
		}
	}
	out, err := d.Door.Sync(ctx, author(c), req)
	if err != nil {
		return nil, err
	}
	if out.Stale {
		d.Fresh.add(author(c).Farm)
	}
	return wire.WriteSyncResponse(out), nil
}

func (d Deps) fields(c echo.Context) error {
	lines, err := d.Store.Fields(c.Request().Context(), author(c).Farm)
	if err != nil {
		return err
	}
	if lines == nil {
		lines = []wire.FieldLine{}
	}
	return c.JSON(http.StatusOK, map[string]any{"fields": lines})
}

func (d Deps) fieldResult(c echo.Context) error {
	field := c.Param("field")
	if !kind.IsID(field) {
		return fault.New(fault.NotFound, "field", "there is no such field")
	}
	year, err := strconv.Atoi(c.QueryParam("cropYear"))
	if err != nil || year < 1990 || year > 2100 {
		return fault.At("cropYear", "range", "must be a year of harvest, 1990 to 2100")
	}
	out, err := d.Store.FieldResult(c.Request().Context(), author(c).Farm, field, year)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, out)
}
