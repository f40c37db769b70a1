package api

import (
	"cmp"
	"context"
	"net/http"
	"slices"
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
	fitting, err := d.whoIs(ctx, login, in.Password)
	if err != nil {
		return err
	}
	if in.Farm != "" {
		fitting = slices.DeleteFunc(fitting, func(a store.Account) bool { return a.Farm != in.Farm })
	}
	if len(fitting) > 1 {
		return d.askWhich(c, fitting)
	}
	var account *store.Account
	if len(fitting) == 1 {
		account = &fitting[0]
	}
	passed := account != nil
	if passed && account.Second != "" {
		if in.Code == "" {
			return &fault.Error{Kind: fault.Unauthorized, Code: "signin.code",
				Message: "the second step: type the code of your app, or a printed recovery code"}
		}
		passed, err = d.takeSecond(ctx, account.Farm, account.Person, account.Second, account.Step, in.Code)
		if err != nil {
			return err
		}
	}
	if err := d.Store.NoteSignIn(ctx, key, passed); err != nil {
		return err
	}
	if !passed {
		return d.wrongSignIn(c, account)
	}
	device := orDefault(in.Known[account.Farm], in.Device)
	return d.openSession(c, account.Farm, account.Person, place{device, in.DeviceName, in.Key})
}

// askWhich names the accounts in which a name and password fit. It opens nothing, and counts as
// neither a right try nor a wrong one.
func (d Deps) askWhich(c echo.Context, fitting []store.Account) error {
	var out wire.Which
	for _, a := range fitting {
		name, err := d.Store.AccountName(c.Request().Context(), a.Farm)
		if err != nil {
			return err
		}
		out.Accounts = append(out.Accounts,
			wire.Membership{Farm: a.Farm, AccountName: name, Name: a.Name, Role: a.Role})
	}
	return c.JSON(http.StatusOK, out)
}

// wrongSignIn refuses, and writes a failed second step down: whoever tried knew the password.
func (d Deps) wrongSignIn(c echo.Context, account *store.Account) error {
	if account == nil {
		return &fault.Error{Kind: fault.Unauthorized, Code: "signin.wrong",
			Message: "that name and password do not fit together"}
	}
	by := store.Actor{Person: account.Person}
	if err := d.Store.Note(c.Request().Context(), account.Farm, by, "authn_second_fail", account.Person); err != nil {
		return err
	}
	return &fault.Error{Kind: fault.Unauthorized, Code: "signin.code", Message: "that code does not fit"}
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

// mostAccounts is how many accounts with one sign-in name are looked through (ours): each costs as
// much time as a password does.
const mostAccounts = 20

// whoIs finds the accounts in which the password fits. A name that nobody has costs as much time as
// a wrong password.
func (d Deps) whoIs(ctx context.Context, login, password string) (fitting []store.Account, err error) {
	accounts, err := d.Store.AccountsOf(ctx, login)
	if err != nil {
		return nil, err
	}
	if len(accounts) == 0 {
		_, err := auth.VerifyPassword(ctx, "", password)
		return nil, err
	}
	for _, a := range accounts[:min(len(accounts), mostAccounts)] {
		good, err := auth.VerifyPassword(ctx, a.PasswordHash, password)
		if err != nil {
			return nil, err
		}
		if good {
			fitting = append(fitting, a)
		}
	}
	return fitting, nil
}

func checkLogin(login string) (string, error) {
	login = strings.ToLower(strings.TrimSpace(login))
	if login == "" || len(login) > maxLogin || strings.ContainsAny(login, " \t\n\x00") {
		return "", fault.At("login", "length", "needs 1 to %d letters without spaces", maxLogin)
	}
	return login, nil
}

// place is what every way of getting in tells about the device.
type place struct{ device, name, key string }

// opening reads a place, and draws the refresh token that goes with it; secret is its text.
func (d Deps) opening(farm, person string, in place) (o store.Opening, secret string, err error) {
	if !kind.IsID(in.device) {
		return o, "", fault.At("device", "id", "must be a lower-case UUID made by the device")
	}
	o = store.Opening{Farm: farm, Person: person, Device: in.device, DeviceName: cut(in.name, 120), At: d.Now()}
	if o.Key, err = auth.ReadKey(in.key); err != nil {
		return o, "", err
	}
	secret, o.Token, err = auth.NewSecret()
	return o, secret, err
}

// openSession gives the device an access token and, if it has a key, a refresh token in a cookie
// that no script can read.
func (d Deps) openSession(c echo.Context, farm, person string, in place) error {
	o, secret, err := d.opening(farm, person, in)
	if err != nil {
		return err
	}
	opened, err := d.Store.OpenSession(c.Request().Context(), o)
	if err != nil {
		return err
	}
	if o.Key != nil {
		setCookie(c, opened.Device, secret, opened.Until)
	}
	return d.answerSession(c, farm, opened)
}

func cut(text string, most int) string {
	letters := []rune(strings.ToValidUTF8(strings.ReplaceAll(text, "\x00", ""), ""))
	return string(letters[:min(len(letters), most)])
}

func setCookie(c echo.Context, device, secret string, expires time.Time) {
	c.SetCookie(&http.Cookie{Name: cookieName + device, Value: secret, Path: "/", Expires: expires,
		Secure: true, HttpOnly: true, SameSite: http.SameSiteStrictMode})
}

func dropCookie(c echo.Context, device string) { setCookie(c, device, "", time.Unix(1, 0)) }

func (d Deps) answerSession(c echo.Context, farm string, s store.Seat) error {
	token, until, err := d.Signer.Access(auth.Holder{
		Farm: farm, Person: s.Person.ID, Device: s.Device, Session: s.Session})
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, wire.Session{
		Farm: farm, AccountName: s.Account, Person: s.Person, Access: token,
		AccessUntil: until.UTC().Format(time.RFC3339), LastN: s.LastN,
		ServerTime: d.Now().UTC().Format(time.RFC3339), Until: s.Until.UTC().Format(time.RFC3339),
	})
}

func orDefault(value, fallback string) string { return cmp.Or(strings.TrimSpace(value), fallback) }
