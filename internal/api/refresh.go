package api

import (
	"net/http"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"hilum/internal/auth"
	"hilum/internal/fault"
	"hilum/internal/feed"
	"hilum/internal/kind"
	"hilum/internal/store"
	"hilum/internal/wire"
)

// nonce gives a device something to sign. It tells nothing about anybody.
func (d Deps) nonce(c echo.Context) error {
	return c.JSON(http.StatusOK, wire.Nonce{Nonce: d.Signer.Nonce()})
}

func signInAgain() error {
	return fault.New(fault.Unauthorized, "signin", "please sign in again; everything on this phone stays")
}

// renewal reads a refresh: the body, and the token from the cookie of the device, or of the one
// that it was until now.
func (d Deps) renewal(c echo.Context) (r store.Renewal, next string, err error) {
	var in wire.Refresh
	if err := read(c, maxSmall, &in); err != nil {
		return r, "", err
	}
	former := orDefault(in.Former, in.Device)
	if !kind.IsID(in.Farm) || !kind.IsID(in.Device) || !kind.IsID(former) {
		return r, "", fault.At("device", "id", "farm, device and former must be lower-case UUIDs")
	}
	cookie, err := c.Cookie(cookieName + in.Device)
	if err != nil || cookie.Value == "" {
		cookie, err = c.Cookie(cookieName + former)
	}
	if err != nil || cookie.Value == "" {
		return r, "", signInAgain()
	}
	statement := auth.Statement(in.Farm, in.Device, in.Nonce)
	r = store.Renewal{Farm: in.Farm, Device: in.Device, Former: former,
		Shown: auth.Hash(cookie.Value), At: d.Now(),
		Proves: func(key []byte) bool {
			return d.Signer.Fresh(in.Nonce) && auth.Proves(key, statement, in.Signature)
		}}
	next, r.Next, err = auth.NewSecret()
	return r, next, err
}

func (d Deps) refresh(c echo.Context) error {
	r, next, err := d.renewal(c)
	if err != nil {
		return err
	}
	out, err := d.Store.Renew(c.Request().Context(), r)
	if err != nil {
		return err
	}
	switch out.Verdict {
	case auth.Renew:
		setCookie(c, out.Seat.Device, next, out.Seat.Until)
		if r.Former != r.Device {
			dropCookie(c, r.Former)
		}
		return d.answerSession(c, r.Farm, out.Seat)
	case auth.Keep:
		return d.answerSession(c, r.Farm, out.Seat)
	case auth.HandIn:
		return fault.New(fault.Forbidden, "handin",
			"you no longer have access; what is on this phone can still be handed in")
	}
	return signInAgain()
}

// handInTicket gives a device that was shut out the ticket with which it may still hand in what it
// holds. It opens nothing else, see auth.CheckTicket.
func (d Deps) handInTicket(c echo.Context) error {
	r, _, err := d.renewal(c)
	if err != nil {
		return err
	}
	out, err := d.Store.Renew(c.Request().Context(), r)
	if err != nil {
		return err
	}
	if out.Verdict != auth.HandIn || !r.At.Before(out.Drain) {
		return signInAgain()
	}
	ticket, err := d.Signer.Ticket(auth.Holder{Farm: r.Farm, Person: out.Seat.Person.ID,
		Device: out.Seat.Device, Session: out.Seat.Session}, out.Drain)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, wire.Ticket{Ticket: ticket, Until: out.Drain.UTC().Format(time.RFC3339)})
}

// handIn takes the outbox of a device that holds a ticket. Nothing is read with it, and whoever got
// access back uses that.
func (d Deps) handIn(c echo.Context) error {
	ticket, _ := strings.CutPrefix(c.Request().Header.Get(echo.HeaderAuthorization), "Bearer ")
	claims, err := d.Signer.CheckTicket(ticket)
	if err != nil {
		return err
	}
	ctx := c.Request().Context()
	shut, err := d.Store.ShutOut(ctx, claims.Farm, claims.Subject, claims.Device, d.Now())
	if err != nil {
		return err
	}
	if !shut {
		return signInAgain()
	}
	var req wire.SyncRequest
	if err := read(c, wire.MaxBodyBytes, &req); err != nil {
		return err
	}
	if err := d.pushes.take(claims.Device, d.Now()); err != nil {
		return err
	}
	who := feed.Author{Farm: claims.Farm, Person: claims.Subject, Device: claims.Device}
	out, err := d.Door.HandIn(ctx, who, req)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, out)
}

// signOut ends a session. It needs no signature: it only takes away.
func (d Deps) signOut(c echo.Context) error {
	var in struct {
		Farm   string `json:"farm"`
		Device string `json:"device"`
	}
	if err := read(c, maxSmall, &in); err != nil {
		return err
	}
	if !kind.IsID(in.Farm) || !kind.IsID(in.Device) {
		return fault.At("device", "id", "farm and device must be lower-case UUIDs")
	}
	cookie, err := c.Cookie(cookieName + in.Device)
	if err != nil || cookie.Value == "" {
		return c.NoContent(http.StatusNoContent)
	}
	if err := d.Store.SignOut(c.Request().Context(), in.Farm, auth.Hash(cookie.Value), d.Now()); err != nil {
		return err
	}
	dropCookie(c, in.Device)
	return c.NoContent(http.StatusNoContent)
}
