package api

import (
	"cmp"
	"net/http"
	"net/url"
	"slices"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"
	"rsc.io/qr"

	"hilum/internal/auth"
	"hilum/internal/fault"
	"hilum/internal/kind"
	"hilum/internal/store"
	"hilum/internal/wire"
)

// manages says whose people a role looks after: the owner everybody's but other owners', a
// consultant the scouts' and growers'.
var manages = map[string][]string{
	"owner":      {"consultant", "scout", "grower"},
	"consultant": {"scout", "grower"},
}

func actor(c echo.Context) store.Actor {
	return store.Actor{Person: author(c).Person, Device: author(c).Device}
}

func (d Deps) people(c echo.Context) error {
	members, err := d.Store.Members(c.Request().Context(), author(c).Farm, d.Now())
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, map[string]any{"people": members})
}

func (d Deps) addPerson(c echo.Context) error {
	var in wire.NewPerson
	if err := read(c, maxSmall, &in); err != nil {
		return err
	}
	if mine := manages[author(c).Role]; !slices.Contains(mine, in.Role) {
		return fault.At("role", "word", "is %q, accepted: %s", in.Role, list(mine))
	}
	var err error
	if in.Name, err = checkName(in.Name); err != nil {
		return err
	}
	if err := checkLanguage(in.Language); err != nil {
		return err
	}
	if (in.Role == "grower") != kind.IsID(in.Grower) {
		return fault.At("grower", "id", "names the record of a grower, for a grower and for nobody else")
	}
	id, err := uuid.NewV7()
	if err != nil {
		return err
	}
	if err := d.Store.AddMember(c.Request().Context(), author(c).Farm, id.String(), in, actor(c)); err != nil {
		return err
	}
	return c.JSON(http.StatusCreated, wire.Person{ID: id.String(), Name: in.Name, Role: in.Role})
}

func list(words []string) string {
	out := ""
	for _, w := range words {
		out = cmp.Or(out+map[bool]string{true: ", "}[out != ""], "") + w
	}
	return out
}

func checkLanguage(language string) error {
	if language != "" && language != "en" && language != "fr" {
		return fault.At("language", "word", "is %q, accepted: en, fr", language)
	}
	return nil
}

// managed gives the person of the path, if whoever asks looks after them.
func (d Deps) managed(c echo.Context, person string) (wire.Person, error) {
	none := fault.New(fault.NotFound, "person", "there is no such person in this account")
	if !kind.IsID(person) {
		return wire.Person{}, none
	}
	p, err := d.Store.PersonOf(c.Request().Context(), author(c).Farm, person)
	if err != nil {
		return p, err
	}
	if p.ID != author(c).Person && !slices.Contains(manages[author(c).Role], p.Role) {
		return p, fault.New(fault.Forbidden, "role", "only the owner does this for a consultant")
	}
	return p, nil
}

func (d Deps) editPerson(c echo.Context) error {
	var in wire.EditPerson
	if err := read(c, maxSmall, &in); err != nil {
		return err
	}
	p, err := d.managed(c, c.Param("person"))
	if err != nil {
		return err
	}
	if in.Archived != nil && p.ID == author(c).Person {
		return fault.New(fault.Conflict, "self", "nobody archives themselves; another person does it")
	}
	if in.Name != nil {
		if *in.Name, err = checkName(*in.Name); err != nil {
			return err
		}
	}
	if in.Language != nil {
		if err := checkLanguage(*in.Language); err != nil {
			return err
		}
	}
	err = d.Store.EditMember(c.Request().Context(), author(c).Farm, p.ID, in, d.Now(), actor(c))
	if err != nil {
		return err
	}
	return c.NoContent(http.StatusNoContent)
}

// takeOutName takes a person's name out of the account and keeps the records.
func (d Deps) takeOutName(c echo.Context) error {
	var in struct {
		Alias string `json:"alias"`
	}
	if err := read(c, maxSmall, &in); err != nil {
		return err
	}
	p, err := d.managed(c, c.Param("person"))
	if err != nil {
		return err
	}
	if p.ID == author(c).Person {
		return fault.New(fault.Conflict, "self", "nobody takes out their own name; another owner does it")
	}
	alias, err := checkName(in.Alias)
	if err != nil {
		return fault.At("alias", "length", "needs 1 to 120 characters, for example: former scout 3")
	}
	err = d.Store.Alias(c.Request().Context(), author(c).Farm, p.ID, alias, d.Now(), actor(c))
	if err != nil {
		return err
	}
	return c.NoContent(http.StatusNoContent)
}

// makeCode makes the code by which one device of a person gets in. It is for the others: whoever
// is in already adds a device of their own by signing in.
func (d Deps) makeCode(c echo.Context) error {
	var in wire.NewCode
	if err := read(c, maxSmall, &in); err != nil {
		return err
	}
	origin, err := url.Parse(in.Origin)
	if err != nil || len(in.Origin) > 200 || origin.Host == "" || origin.Path != "" ||
		origin.Scheme != "https" && origin.Scheme != "http" {
		return fault.At("origin", "word", "must be the address of the page, like https://farm.example")
	}
	p, err := d.managed(c, c.Param("person"))
	if err != nil {
		return err
	}
	code, err := auth.NewCode()
	if err != nil {
		return err
	}
	link, linkHash, err := auth.NewLink(author(c).Farm)
	if err != nil {
		return err
	}
	_, selector, err := auth.ReadCode(code)
	if err != nil {
		return err
	}
	invitation := store.Invitation{Farm: author(c).Farm, Person: p.ID, Selector: selector,
		Code: auth.HashCode(code), Link: linkHash, At: d.Now()}
	wait, err := d.Store.Invite(c.Request().Context(), invitation, actor(c))
	if err != nil {
		return err
	}
	if wait > 0 {
		return tooMany(wait)
	}
	address := in.Origin + "/enrol#" + link
	squares, err := squares(address)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusCreated, wire.Code{Code: code, Link: address, QR: squares,
		Until: d.Now().Add(auth.CodeLife).UTC().Format(time.RFC3339)})
}

// squares draws a text as a QR code, a row a line.
func squares(text string) ([]string, error) {
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		return nil, err
	}
	rows := make([]string, code.Size)
	for y := range rows {
		row := make([]byte, code.Size)
		for x := range row {
			row[x] = "01"[map[bool]int{true: 1}[code.Black(x, y)]]
		}
		rows[y] = string(row)
	}
	return rows, nil
}

// enrol lets a device in by a code. Whoever does more than dig chooses a password with it.
func (d Deps) enrol(c echo.Context) error {
	var in wire.Enrol
	if err := read(c, maxSmall, &in); err != nil {
		return err
	}
	who, err := d.invited(c, in)
	if err != nil {
		return err
	}
	login, hash := "", ""
	if who.Person.Role != "scout" {
		if in.Password == "" {
			return fault.At("password", "needed", "choose a sign-in name and a password of your own")
		}
		if login, err = checkLogin(in.Login); err != nil {
			return err
		}
		if err := auth.CheckPassword(in.Password); err != nil {
			return err
		}
		if hash, err = auth.HashPassword(c.Request().Context(), in.Password); err != nil {
			return err
		}
	}
	o, secret, err := d.opening(who.Farm, who.Person.ID, place{in.Device, in.DeviceName, in.Key})
	if err != nil {
		return err
	}
	if o.Key == nil {
		return fault.At("key", "key", "a device needs a key of its own to get in by a code")
	}
	seat, err := d.Store.EnrolDevice(c.Request().Context(), who, o, login, hash)
	if err != nil {
		return err
	}
	setCookie(c, seat.Device, secret, seat.Until)
	return d.answerSession(c, who.Farm, seat)
}

func (d Deps) invited(c echo.Context, in wire.Enrol) (store.Invited, error) {
	ctx := c.Request().Context()
	if in.Link != "" {
		farm, hash, err := auth.ReadLink(in.Link)
		if err != nil {
			return store.Invited{}, err
		}
		return d.Store.ByLink(ctx, farm, hash, d.Now())
	}
	code, selector, err := auth.ReadCode(in.Code)
	if err != nil {
		return store.Invited{}, err
	}
	return d.Store.ByCode(ctx, selector, auth.HashCode(code), d.Now())
}

// revoke shuts a device out, from its next request on.
func (d Deps) revoke(c echo.Context) error {
	device, err := d.deviceOf(c)
	if err != nil {
		return err
	}
	if device.ID == author(c).Device {
		return fault.New(fault.Conflict, "self", "this is the device you are using; sign out instead")
	}
	if _, err := d.managed(c, device.Person); err != nil {
		return err
	}
	if err := d.Store.Revoke(c.Request().Context(), author(c).Farm, device.ID, d.Now(), actor(c)); err != nil {
		return err
	}
	return c.NoContent(http.StatusNoContent)
}

func (d Deps) deviceOf(c echo.Context) (wire.Device, error) {
	all, err := d.Store.DevicesOf(c.Request().Context(), author(c).Farm, "", d.Now())
	if err != nil {
		return wire.Device{}, err
	}
	at := slices.IndexFunc(all, func(one wire.Device) bool { return one.ID == c.Param("device") })
	if at < 0 {
		return wire.Device{}, fault.New(fault.NotFound, "device", "there is no such device in this account")
	}
	return all[at], nil
}

// endMine ends the session of one of the person's own devices. It may sign in again.
func (d Deps) endMine(c echo.Context) error {
	device, err := d.deviceOf(c)
	if err != nil {
		return err
	}
	if device.Person != author(c).Person {
		return fault.New(fault.NotFound, "device", "this is no device of yours")
	}
	if err := d.Store.EndDevice(c.Request().Context(), author(c).Farm, device.ID, d.Now(), actor(c)); err != nil {
		return err
	}
	return c.NoContent(http.StatusNoContent)
}
