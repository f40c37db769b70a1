package api

import (
	"context"
	"encoding/json"
	"net/http"
	"slices"

	"github.com/labstack/echo/v4"

	"hilum/internal/auth"
	"hilum/internal/fault"
	"hilum/internal/store"
	"hilum/internal/wire"
)

// me says how the person signs in, and on which devices.
func (d Deps) me(c echo.Context) error {
	ctx, who := c.Request().Context(), author(c)
	devices, err := d.Store.DevicesOf(ctx, who.Farm, who.Person, d.Now())
	if err != nil {
		return err
	}
	secrets, err := d.Store.SecretsOf(ctx, who.Farm, who.Person)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, wire.Me{Login: secrets.Login, HasPassword: secrets.PasswordHash != "",
		Second: secrets.On, RecoveryLeft: secrets.Left, Devices: devices, Here: who.Device})
}

// mySecrets checks the person's own password again, as strictly as the door does.
func (d Deps) mySecrets(c echo.Context, password string) (store.Secrets, error) {
	ctx, who := c.Request().Context(), author(c)
	secrets, err := d.Store.SecretsOf(ctx, who.Farm, who.Person)
	if err != nil {
		return secrets, err
	}
	key := auth.Hash("login:" + secrets.Login)
	if err := d.mayTry(ctx, key); err != nil {
		return secrets, err
	}
	good, err := auth.VerifyPassword(ctx, secrets.PasswordHash, password)
	if err != nil {
		return secrets, err
	}
	if err := d.Store.NoteSignIn(ctx, key, good); err != nil {
		return secrets, err
	}
	if !good {
		return secrets, fault.At("old", "wrong", "is not your password now")
	}
	return secrets, nil
}

func (d Deps) setPassword(c echo.Context) error {
	var in wire.SetPassword
	if err := read(c, maxSmall, &in); err != nil {
		return err
	}
	secrets, err := d.mySecrets(c, in.Old)
	if err != nil {
		return err
	}
	check := auth.CheckPassword
	if secrets.On {
		check = auth.CheckWithSecond
	}
	if err := check(in.Password, secrets.Login, secrets.Name); err != nil {
		return err
	}
	ctx := c.Request().Context()
	hash, err := auth.HashPassword(ctx, in.Password)
	if err != nil {
		return err
	}
	h := holder(c)
	if err := d.Store.SetPassword(ctx, h.Farm, h.Person, h.Session, hash, actor(c)); err != nil {
		return err
	}
	return c.NoContent(http.StatusNoContent)
}

// startSecond shows the secret of a second step, once. It is asked for after confirmSecond.
func (d Deps) startSecond(c echo.Context) error {
	var in wire.SetPassword
	if err := read(c, maxSmall, &in); err != nil {
		return err
	}
	secrets, err := d.mySecrets(c, in.Old)
	if err != nil {
		return err
	}
	secret, err := auth.NewSecond()
	if err != nil {
		return err
	}
	who := author(c)
	if err := d.Store.StartSecond(c.Request().Context(), who.Farm, who.Person, secret); err != nil {
		return err
	}
	address := auth.SecondAddress(secret, secrets.Name, secrets.Login)
	rows, err := squares(address)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, wire.SecondStart{Secret: secret, Address: address, QR: rows})
}

func (d Deps) confirmSecond(c echo.Context) error {
	var in wire.SecondCode
	if err := read(c, maxSmall, &in); err != nil {
		return err
	}
	ctx, who := c.Request().Context(), author(c)
	secrets, err := d.Store.SecretsOf(ctx, who.Farm, who.Person)
	if err != nil {
		return err
	}
	step, good := auth.SecondStep(secrets.Second, in.Code, d.Now(), secrets.Step)
	if secrets.Second == "" || !good {
		return fault.At("code", "wrong", "does not fit; is the clock of that phone right?")
	}
	codes, hashes, err := auth.NewRecovery()
	if err != nil {
		return err
	}
	if err := d.Store.ConfirmSecond(ctx, who.Farm, who.Person, step, hashes, d.Now(), actor(c)); err != nil {
		return err
	}
	return c.JSON(http.StatusOK, wire.RecoveryCodes{Codes: codes})
}

// endSecond needs both: the password, and a code of the step that ends.
func (d Deps) endSecond(c echo.Context) error {
	var in wire.EndSecond
	if err := read(c, maxSmall, &in); err != nil {
		return err
	}
	secrets, err := d.mySecrets(c, in.Old)
	if err != nil {
		return err
	}
	ctx, who := c.Request().Context(), author(c)
	if secrets.On {
		good, err := d.takeSecond(ctx, who.Farm, who.Person, secrets.Second, secrets.Step, in.Code)
		if err != nil {
			return err
		}
		if !good {
			return fault.At("code", "wrong", "does not fit")
		}
	}
	if err := d.Store.EndSecond(ctx, who.Farm, who.Person, actor(c)); err != nil {
		return err
	}
	return c.NoContent(http.StatusNoContent)
}

// takeSecond uses a code up: of the app, or a printed one.
func (d Deps) takeSecond(
	ctx context.Context, farm, person, secret string, last int64, typed string,
) (bool, error) {
	if step, good := auth.SecondStep(secret, typed, d.Now(), last); good {
		return d.Store.UseStep(ctx, farm, person, step)
	}
	return d.Store.UseRecovery(ctx, farm, person, auth.HashRecovery(typed), d.Now())
}

// myData gives the person all that is stored about them, as JSON lines.
func (d Deps) myData(c echo.Context) error {
	who := author(c)
	return d.lines(c, "hilum-me.jsonl", func(line func(any) error) error {
		return d.Store.Personal(c.Request().Context(), who.Farm, who.Person,
			func(kind string, row json.RawMessage) error {
				return line(map[string]any{"kind": kind, "row": row})
			})
	})
}

// lines answers with a file of JSON lines.
func (d Deps) lines(c echo.Context, name string, write func(line func(any) error) error) error {
	h := c.Response().Header()
	h.Set(echo.HeaderContentType, "application/x-ndjson")
	h.Set(echo.HeaderContentDisposition, `attachment; filename="`+name+`"`)
	out := json.NewEncoder(c.Response())
	return write(func(v any) error { return out.Encode(v) })
}

// ownFields lists the fields of the grower who asks.
func (d Deps) ownFields(c echo.Context) error {
	lines, err := d.Store.OwnFields(c.Request().Context(), author(c).Farm, author(c).Person)
	if err != nil {
		return err
	}
	if lines == nil {
		lines = []wire.FieldLine{}
	}
	return c.JSON(http.StatusOK, map[string]any{"fields": lines})
}

// ownResult gives the stored result of a field, if it is the grower's own.
func (d Deps) ownResult(c echo.Context) error {
	lines, err := d.Store.OwnFields(c.Request().Context(), author(c).Farm, author(c).Person)
	if err != nil {
		return err
	}
	mine := func(l wire.FieldLine) bool { return l.ID == c.Param("field") }
	if !slices.ContainsFunc(lines, mine) {
		return fault.New(fault.NotFound, "field", "there is no such field")
	}
	return d.fieldResult(c)
}
