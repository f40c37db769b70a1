package api

import (
	"errors"
	"io"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"hilum/internal/fault"
	"hilum/internal/feed"
	"hilum/internal/kind"
	"hilum/internal/photo"
)

// putPhoto takes a picture's bytes under their own hash. Any repeat is answered as the first; one
// that is there already is not read again.
func (d Deps) putPhoto(c echo.Context) error {
	who, hash, ctx := author(c), c.Param("sha256"), c.Request().Context()
	if !kind.IsHash(hash) {
		return fault.New(fault.NotFound, "photo", "a picture is named by 64 hex digits")
	}
	size, err := d.Door.Awaited(ctx, who.Farm, hash)
	if err != nil {
		return err
	}
	if there, err := d.Store.HasPhoto(ctx, who.Farm, hash); err != nil {
		return err
	} else if there && d.Photos.Has(who.Farm, hash) {
		return c.NoContent(http.StatusNoContent)
	}
	if err := d.photos.take(who.Device, d.Now()); err != nil {
		// Read to its end, else a browser may see a broken connection in the place of the answer.
		_, _ = io.Copy(io.Discard, io.LimitReader(c.Request().Body, photo.MaxBytes))
		return err
	}
	raw, err := readPhoto(c, hash, size)
	if err != nil {
		return err
	}
	clean, err := photo.Clean(ctx, raw)
	if err != nil {
		return err
	}
	return d.keepPhoto(c, who, hash, clean)
}

// keepPhoto puts the bytes on disk first: the record says stored only when they are.
func (d Deps) keepPhoto(c echo.Context, who feed.Author, hash string, clean []byte) error {
	if err := d.Photos.Put(who.Farm, hash, clean); err != nil {
		return err
	}
	stored := feed.Photo{Hash: hash, Size: len(clean), Clean: photo.Hash(clean)}
	if err := d.Door.Stored(c.Request().Context(), who.Farm, stored); err != nil {
		return err
	}
	return c.NoContent(http.StatusNoContent)
}

func readPhoto(c echo.Context, hash string, size int) ([]byte, error) {
	raw, err := io.ReadAll(http.MaxBytesReader(c.Response(), c.Request().Body, photo.MaxBytes))
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		return nil, fault.New(fault.TooLarge, "size", "the picture is larger than 1 MiB")
	case err != nil:
		return nil, fault.New(fault.Invalid, "body", "the picture ended early; nothing was stored")
	case len(raw) != size:
		return nil, fault.New(fault.Invalid, "size", "the picture has %d bytes, its record says %d",
			len(raw), size)
	case photo.Hash(raw) != hash:
		return nil, fault.New(fault.Invalid, "hash", "the bytes do not have the hash they are sent by")
	}
	return raw, nil
}

// getPhoto serves a picture to members of its account.
func (d Deps) getPhoto(c echo.Context) error {
	who, hash := author(c), c.Param("sha256")
	missing := fault.New(fault.NotFound, "photo", "this picture is not at the server")
	if !kind.IsHash(hash) {
		return missing
	}
	there, err := d.Store.HasPhoto(c.Request().Context(), who.Farm, hash)
	if err != nil {
		return err
	}
	if !there {
		return missing
	}
	file, err := d.Photos.Open(who.Farm, hash)
	if err != nil {
		return err
	}
	defer file.Close()
	h := c.Response().Header()
	h.Set(echo.HeaderContentType, "image/jpeg")
	h.Set(echo.HeaderXContentTypeOptions, "nosniff")
	h.Set(echo.HeaderContentDisposition, `inline; filename="`+hash+`.jpg"`)
	h.Set(echo.HeaderCacheControl, "private, max-age=31536000, immutable")
	h.Set("ETag", `"`+hash+`"`)
	http.ServeContent(c.Response(), c.Request(), "", time.Time{}, file)
	return nil
}
