package api

import (
	"strings"
	"unicode/utf8"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"hilum/internal/auth"
	"hilum/internal/fault"
	"hilum/internal/feed"
	"hilum/internal/kind"
	"hilum/internal/wire"
)

// firstOwner makes the account and its owner out of the one-time link that the server printed.
func (d Deps) firstOwner(c echo.Context) error {
	var in wire.FirstOwner
	if err := read(c, maxSmall, &in); err != nil {
		return err
	}
	farm, link, err := auth.ReadLink(in.Link)
	if err != nil {
		return err
	}
	owner, hash, err := newOwner(c, in)
	if err != nil {
		return err
	}
	settings := wire.Settings{
		Name: strings.TrimSpace(in.Account), TimeZone: orDefault(in.TimeZone, "America/Regina"),
		Currency: orDefault(in.Currency, "CAD"), Units: "imperial",
		StarterRule: "published", NodeCount: "withScale",
	}
	if err := kind.CheckSettings(settings); err != nil {
		return err
	}
	if !kind.IsID(in.Device) {
		return fault.At("device", "id", "must be a lower-case UUID made by the device")
	}
	ctx := c.Request().Context()
	if err := d.Store.CreateFarm(ctx, farm, false, owner, hash, link); err != nil {
		return err
	}
	if err := feed.FirstSettings(ctx, d.Door, d.Store, farm, owner.ID, settings); err != nil {
		return err
	}
	return d.openSession(c, farm, owner.ID, place{in.Device, in.DeviceName, in.Key})
}

func (d Deps) resetAccess(c echo.Context) error {
	var in wire.ResetAccess
	if err := read(c, maxSmall, &in); err != nil {
		return err
	}
	farm, link, err := auth.ReadLink(in.Link)
	if err != nil {
		return err
	}
	if err := auth.CheckPassword(in.Password); err != nil {
		return err
	}
	ctx := c.Request().Context()
	hash, err := auth.HashPassword(ctx, in.Password)
	if err != nil {
		return err
	}
	who, err := d.Store.ResetPassword(ctx, farm, link, hash)
	if err != nil {
		return err
	}
	return d.openSession(c, farm, who.ID, place{in.Device, in.DeviceName, in.Key})
}

func newOwner(c echo.Context, in wire.FirstOwner) (wire.Person, string, error) {
	login, err := checkLogin(in.Login)
	if err != nil {
		return wire.Person{}, "", err
	}
	name, err := checkName(in.Name)
	if err != nil {
		return wire.Person{}, "", err
	}
	if err := auth.CheckPassword(in.Password); err != nil {
		return wire.Person{}, "", err
	}
	id, err := uuid.NewV7()
	if err != nil {
		return wire.Person{}, "", err
	}
	hash, err := auth.HashPassword(c.Request().Context(), in.Password)
	return wire.Person{ID: id.String(), Name: name, Login: login, Role: "owner"}, hash, err
}

func checkName(name string) (string, error) {
	name = strings.TrimSpace(cut(name, 1000))
	if n := utf8.RuneCountInString(name); n < 1 || n > 120 {
		return "", fault.At("name", "length", "has %d characters, accepted 1 to 120", n)
	}
	return name, nil
}
