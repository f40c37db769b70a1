package api

import (
	"cmp"
	"context"
	"net/http"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"hilum/internal/auth"
	"hilum/internal/fault"
	"hilum/internal/kind"
	"hilum/internal/store"
	"hilum/internal/wire"
)

// Failed sign-ins under one name: the first few are free, then each costs a wait that doubles.
const (
	freeTries  = 5
	firstWait  = 30 * time.Second
	longest    = time.Hour
	maxLogin   = 80
	cookieName = "__Host-hilum-"
)

func (d Deps) signIn(c echo.Context) error {
	var in wire.SignIn
	if err := read(c, maxSmall, &in); err != nil {
		return err
	}
	login, err := checkLogin(in.Login)
	if err != nil {
		return err
	}
	ctx, key := c.Request().Context(), auth.Hash("login:"+login)
	if err := d.mayTry(ctx, key); err != nil {
		return err
	}
	account, err := d.whoIs(ctx, login, in.Password)
	if err != nil {
		return err
	}
	if err := d.Store.NoteSignIn(ctx, key, account != nil); err != nil {
		return err
	}
	if account == nil {
		return &fault.Error{Kind: fault.Unauthorized, Code: "signin.wrong",
			Message: "that name and password do not fit together"}
	}
	return d.openSession(c, account.Farm, account.Person, in.Device, in.DeviceName)
}

func (d Deps) mayTry(ctx context.Context, key []byte) error {
	count, ago, err := d.Store.Failures(ctx, key)
	if err != nil || count < freeTries {
		return err
	}
	wait := min(firstWait<<min(count-freeTries, 10), longest)
	if ago < wait {
		return tooMany(wait - ago)
	}
	return nil
}

// whoIs finds the account whose password fits; nil when none does. A name that nobody has costs
// as much time as a wrong password.
func (d Deps) whoIs(ctx context.Context, login, password string) (*store.Account, error) {
	accounts, err := d.Store.AccountsOf(ctx, login)
	if err != nil {
		return nil, err
	}
	if len(accounts) == 0 {
		_, err := auth.VerifyPassword(ctx, "", password)
		return nil, err
	}
	for _, a := range accounts {
		good, err := auth.VerifyPassword(ctx, a.PasswordHash, password)
		if err != nil {
			return nil, err
		}
		if good {
			return &a, nil
		}
	}
	return nil, nil
}

func checkLogin(login string) (string, error) {
	login = strings.ToLower(strings.TrimSpace(login))
	if login == "" || len(login) > maxLogin || strings.ContainsAny(login, " \t\n\x00") {
		return "", fault.At("login", "length", "needs 1 to %d letters without spaces", maxLogin)
	}
	return login, nil
}

// openSession gives the device a refresh token, in a cookie that no script can read, and an
// access token.
func (d Deps) openSession(c echo.Context, farm, person, device, name string) error {
	if !kind.IsID(device) {
		return fault.At("device", "id", "must be a lower-case UUID made by the device")
	}
	secret, hash, err := auth.NewSecret()
	if err != nil {
		return err
	}
	expires := d.Now().Add(auth.RefreshLife)
	seat, err := d.Store.Enrol(
		c.Request().Context(),
		farm,
		person,
		device,
		cut(name, 120),
		hash,
		expires,
	)
	if err != nil {
		return err
	}
	setCookie(c, farm, secret, expires)
	return d.answerSession(c, farm, device, seat)
}

func cut(text string, most int) string {
	letters := []rune(strings.ToValidUTF8(strings.ReplaceAll(text, "\x00", ""), ""))
	return string(letters[:min(len(letters), most)])
}

func setCookie(c echo.Context, farm, secret string, expires time.Time) {
	c.SetCookie(&http.Cookie{Name: cookieName + farm, Value: secret, Path: "/", Expires: expires,
		Secure: true, HttpOnly: true, SameSite: http.SameSiteStrictMode})
}

func (d Deps) answerSession(c echo.Context, farm, device string, seat store.Seat) error {
	token, until, err := d.Signer.Access(farm, seat.Person.ID, device)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, wire.Session{
		Farm: farm, AccountName: seat.Account, Person: seat.Person, Access: token,
		AccessUntil: until.UTC().Format(time.RFC3339), LastN: seat.LastN,
		ServerTime: d.Now().UTC().Format(time.RFC3339),
	})
}

// seatRequest is the body of refresh and sign-out.
type seatRequest struct {
	Farm   string `json:"farm"`
	Device string `json:"device"`
}

func readSeat(c echo.Context) (seatRequest, string, error) {
	var in seatRequest
	if err := read(c, maxSmall, &in); err != nil {
		return in, "", err
	}
	if !kind.IsID(in.Farm) || !kind.IsID(in.Device) {
		return in, "", fault.At("device", "id", "farm and device must be lower-case UUIDs")
	}
	cookie, err := c.Cookie(cookieName + in.Farm)
	if err != nil || cookie.Value == "" {
		return in, "", fault.New(
			fault.Unauthorized,
			"signin",
			"please sign in again; everything on this phone stays",
		)
	}
	return in, cookie.Value, nil
}

func (d Deps) refresh(c echo.Context) error {
	in, secret, err := readSeat(c)
	if err != nil {
		return err
	}
	expires := d.Now().Add(auth.RefreshLife)
	seat, err := d.Store.Refresh(
		c.Request().Context(),
		in.Farm,
		in.Device,
		auth.Hash(secret),
		expires,
	)
	if err != nil {
		return err
	}
	setCookie(c, in.Farm, secret, expires)
	return d.answerSession(c, in.Farm, in.Device, seat)
}

func (d Deps) signOut(c echo.Context) error {
	in, secret, err := readSeat(c)
	if err != nil {
		return err
	}
	if err := d.Store.SignOut(c.Request().Context(), in.Farm, auth.Hash(secret)); err != nil {
		return err
	}
	setCookie(c, in.Farm, "", time.Unix(1, 0))
	return c.NoContent(http.StatusNoContent)
}

func (d Deps) people(c echo.Context) error {
	people, err := d.Store.People(c.Request().Context(), author(c).Farm)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, map[string]any{"people": people})
}

func orDefault(value, fallback string) string { return cmp.Or(strings.TrimSpace(value), fallback) }
