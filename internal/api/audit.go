package api

import (
	"encoding/csv"
	"net/http"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"hilum/internal/fault"
	"hilum/internal/wire"
)

// auditPage is how many lines one page holds; a file holds as many as there are, up to auditFile.
const (
	auditPage = 200
	auditFile = 1_000_000
)

// audit shows who did what: a page, or the whole as CSV or as JSON lines.
func (d Deps) audit(c echo.Context) error {
	before, err := strconv.ParseInt(orDefault(c.QueryParam("before"), "0"), 10, 64)
	if err != nil || before < 0 {
		return fault.At("before", "range", "must be the number of a line, from 0")
	}
	ctx, farm := c.Request().Context(), author(c).Farm
	switch format := c.QueryParam("format"); format {
	case "":
		page := []wire.AuditLine{}
		err := d.Store.Audit(ctx, farm, before, auditPage, func(l wire.AuditLine) error {
			page = append(page, l)
			return nil
		})
		if err != nil {
			return err
		}
		return c.JSON(http.StatusOK, map[string]any{"lines": page})
	case "jsonl":
		return d.lines(c, "hilum-audit.jsonl", func(line func(any) error) error {
			return d.Store.Audit(ctx, farm, before, auditFile, func(l wire.AuditLine) error { return line(l) })
		})
	case "csv":
		return d.auditCSV(c, before)
	default:
		return fault.At("format", "word", "is %q, accepted: csv, jsonl", format)
	}
}

func (d Deps) auditCSV(c echo.Context, before int64) error {
	h := c.Response().Header()
	h.Set(echo.HeaderContentType, "text/csv; charset=utf-8")
	h.Set(echo.HeaderContentDisposition, `attachment; filename="hilum-audit.csv"`)
	out := csv.NewWriter(c.Response())
	head := []string{"line", "at", "who", "person", "device name", "device", "action", "subject name", "subject"}
	if err := out.Write(head); err != nil {
		return err
	}
	err := d.Store.Audit(c.Request().Context(), author(c).Farm, before, auditFile, func(l wire.AuditLine) error {
		return out.Write([]string{strconv.FormatInt(l.ID, 10), l.At, plainCell(l.Who), l.Person,
			plainCell(l.DeviceName), l.Device, l.Action, plainCell(l.SubjectName), l.Subject})
	})
	if err != nil {
		return err
	}
	out.Flush()
	return out.Error()
}

// plainCell keeps a spreadsheet from taking a name for a formula.
func plainCell(text string) string {
	if text != "" && strings.ContainsAny(text[:1], "=+-@\t\r") {
		return "'" + text
	}
	return text
}
