package api

import (
	"fmt"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"
)

const (
	// heartbeat keeps a quiet stream open past proxies, and finds a device that has gone.
	heartbeat = 25 * time.Second
	// patience is how long one write to a stream may take.
	patience = 10 * time.Second
)

// poke holds a stream of server-sent events open that carries the account's head and nothing else.
// It ends with the access token, with the device's access, or with the server; the device then
// asks again.
func (d Deps) poke(c echo.Context) error {
	heads, leave, err := d.Hub.Listen(author(c).Farm)
	if err != nil {
		return err
	}
	defer leave()
	h := c.Response().Header()
	h.Set(echo.HeaderContentType, "text/event-stream")
	h.Set("X-Accel-Buffering", "no")
	hold(c, heartbeat+patience)
	c.Response().WriteHeader(http.StatusOK)
	c.Response().Flush()
	until, _ := c.Get(untilKey).(time.Time)
	end := time.NewTimer(until.Sub(d.Now()))
	defer end.Stop()
	beat := time.NewTicker(heartbeat)
	defer beat.Stop()
	for {
		text := ": still here\n\n"
		select {
		case <-c.Request().Context().Done():
			return nil
		case <-d.Hub.Done():
			return nil
		case <-end.C:
			return nil
		case <-beat.C:
		case head := <-heads:
			text = fmt.Sprintf("event: head\ndata: {\"head\":%d}\n\n", head)
		}
		if !d.mayListen(c) {
			return nil
		}
		hold(c, heartbeat+patience)
		if _, err := c.Response().Write([]byte(text)); err != nil {
			return nil // the device is gone; it asks again when it is back
		}
		c.Response().Flush()
	}
}

// mayListen asks anew whether the device still has access: nothing goes to one that was shut out.
func (d Deps) mayListen(c echo.Context) bool {
	_, err := d.Store.AccessOf(c.Request().Context(), holder(c))
	return err == nil
}
