package api

import (
	"net/http"
	"strconv"

	"github.com/labstack/echo/v4"

	"hilum/internal/fault"
	"hilum/internal/kind"
	"hilum/internal/wire"
)

func (d Deps) sync(c echo.Context) error {
	var req wire.SyncRequest
	if err := read(c, wire.MaxBodyBytes, &req); err != nil {
		return err
	}
	out, err := d.Door.Sync(c.Request().Context(), author(c), req)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, out)
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
