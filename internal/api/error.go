package api

import (
	"errors"
	"math"
	"net/http"
	"strconv"
	"time"

	"github.com/labstack/echo/v4"

	"hilum/internal/fault"
	"hilum/internal/wire"
)

// statuses is the one table from a kind of fault to an HTTP status.
var statuses = map[fault.Kind]int{
	fault.Internal:     http.StatusInternalServerError,
	fault.Invalid:      http.StatusUnprocessableEntity,
	fault.NotFound:     http.StatusNotFound,
	fault.Conflict:     http.StatusConflict,
	fault.Unauthorized: http.StatusUnauthorized,
	fault.Forbidden:    http.StatusForbidden,
	fault.TooLarge:     http.StatusRequestEntityTooLarge,
	fault.TooMany:      http.StatusTooManyRequests,
	fault.Unavailable:  http.StatusServiceUnavailable,
	fault.Full:         http.StatusInsufficientStorage,
}

// retryBusy is what a client is told to wait when the database is busy.
const retryBusy = 3 * time.Second

// waiting is a fault that also says how long to wait.
type waiting struct {
	fault *fault.Error
	after time.Duration
}

func (w waiting) Error() string { return w.fault.Error() }

// Unwrap gives the fault itself, so that its kind is found.
func (w waiting) Unwrap() error { return w.fault }

func tooMany(after time.Duration) error {
	return waiting{fault.New(fault.TooMany, "wait", "too many tries; wait %s and try again",
		after.Round(time.Second)), after}
}

// answerError writes an error as {"error":{code, field, message}}. What is not a fault is logged
// and answered without its text.
func (d Deps) answerError(err error, c echo.Context) {
	if c.Response().Committed || c.Request().Context().Err() != nil {
		return // answered, or nobody is left to answer
	}
	status, problem := d.statusOf(err)
	var w waiting
	switch {
	case errors.As(err, &w):
		c.Response().
			Header().
			Set(echo.HeaderRetryAfter, strconv.Itoa(int(math.Ceil(w.after.Seconds()))))
	case status == http.StatusServiceUnavailable:
		c.Response().Header().Set(echo.HeaderRetryAfter, strconv.Itoa(int(retryBusy.Seconds())))
	}
	if status >= http.StatusInternalServerError {
		d.Log.Error("request failed", "error", err, "path", c.Path(), "id", requestID(c))
	}
	if c.Request().Method == http.MethodHead {
		_ = c.NoContent(status)
		return
	}
	_ = c.JSON(status, map[string]any{"error": problem})
}

func (d Deps) statusOf(err error) (int, *wire.Problem) {
	var web *echo.HTTPError
	var f *fault.Error
	if errors.As(err, &web) && !errors.As(err, &f) {
		return web.Code, &wire.Problem{Code: "http", Message: http.StatusText(web.Code)}
	}
	return statuses[fault.KindOf(err)], wire.ProblemOf(err)
}

func requestID(c echo.Context) string { return c.Response().Header().Get(echo.HeaderXRequestID) }
