package api

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"hilum/internal/fault"
	"hilum/internal/kind"
	"hilum/internal/wire"
)

// asides lists what is set aside and waits for the owner.
func (d Deps) asides(c echo.Context) error {
	list, err := d.Store.Asides(c.Request().Context(), author(c).Farm)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, wire.Asides{Asides: list})
}

// settleAside takes entries up that were set aside, or puts them away.
func (d Deps) settleAside(c echo.Context) error {
	var in wire.SettleAside
	if err := read(c, maxSmall, &in); err != nil {
		return err
	}
	switch {
	case !kind.IsID(in.Device):
		return fault.At("device", "id", "is not a lower-case UUID")
	case len(in.Ns) < 1 || len(in.Ns) > wire.MaxPush:
		return fault.At("ns", "range", "holds %d numbers, accepted 1 to %d", len(in.Ns), wire.MaxPush)
	}
	judged, err := d.Door.SettleAside(c.Request().Context(), author(c), in.Device, in.Ns, in.Take)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, wire.Judgements{Judged: judged})
}
