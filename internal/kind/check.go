package kind

import (
	"errors"
	"maps"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"hilum/internal/agro"
	"hilum/internal/fault"
	"hilum/internal/wire"
)

// Ranges of the values that only records have; the engine keeps those of its own input.
const (
	minCropYear   = 1990
	maxCropYear   = 2100
	maxCropLetter = 40
)

func checkText(field, value string, least, most int) error {
	n := utf8.RuneCountInString(strings.TrimSpace(value))
	if n < least || n > most {
		return fault.At(field, "length", "has %d characters, accepted %d to %d", n, least, most)
	}
	return nil
}

func checkWord(field, value string, accepted ...string) error {
	if slices.Contains(accepted, value) {
		return nil
	}
	shown := slices.DeleteFunc(slices.Clone(accepted), func(s string) bool { return s == "" })
	return fault.At(field, "word", "is %q, accepted: %s", value, strings.Join(shown, ", "))
}

func checkRange(field string, value, low, high float64, unit string) error {
	if value >= low && value <= high {
		return nil
	}
	return fault.At(field, "range", "is %g, accepted %g to %g %s", value, low, high, unit)
}

func checkCropYear(field string, year int) error {
	return checkRange(field, float64(year), minCropYear, maxCropYear, "(year of harvest)")
}

// checkDate accepts a calendar date, 2026-10-28.
func checkDate(field, value string) error {
	if _, err := time.Parse(time.DateOnly, value); err != nil {
		return fault.At(field, "date", "is %q, expected a date like 2026-10-28", value)
	}
	return nil
}

// firstOf gives the first error.
func firstOf(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// engineCheck lets the engine judge one part of an input, so that its ranges stand in one place.
// prefix is the part's path in the engine's input; it is cut off the field that a fault names.
func engineCheck(prefix string, fill func(*agro.Input)) error {
	in := agro.Input{
		Schema: 1, Crop: "pea", CropYear: 2000,
		StarterRule: "published", NodeCount: "withScale",
	}
	fill(&in)
	err := agro.Check(in)
	var f *fault.Error
	if errors.As(err, &f) && strings.HasPrefix(f.Field, prefix) {
		inner := *f
		inner.Field = strings.TrimPrefix(f.Field, prefix)
		return &inner
	}
	return err
}

// CheckSettings judges settings before an account exists.
func CheckSettings(s wire.Settings) error {
	_, zone := time.LoadLocation(s.TimeZone)
	if zone != nil || s.TimeZone == "" || s.TimeZone == "Local" {
		zone = fault.At(
			"timeZone",
			"word",
			"is %q, expected a name like America/Regina",
			s.TimeZone,
		)
	}
	var today error
	if s.Today != "" {
		today = checkDate("today", s.Today)
	}
	return firstOf(
		checkText("name", s.Name, 1, wire.MaxName), zone, today,
		checkCurrency(s.Currency),
		checkWord("units", s.Units, "imperial", "metric"),
		checkWord("starterRule", s.StarterRule, "published", "practice"),
		checkWord("nodeCount", s.NodeCount, "withScale", "trueNodes"),
		engineCheck("plan.", func(in *agro.Input) { in.Plan.NitrogenPrice = s.NitrogenPrice }),
		engineCheck("", func(in *agro.Input) {
			if s.Prices != nil {
				in.Prices = *s.Prices
			}
			if s.Rules != nil {
				in.Rules = *s.Rules
			}
		}),
	)
}

func checkCurrency(code string) error {
	ok := len(code) == 3 && strings.ToUpper(code) == code &&
		strings.Trim(code, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == ""
	if !ok {
		return fault.At("currency", "word", "is %q, expected three capital letters like CAD", code)
	}
	return nil
}

func checkGrower(g wire.Grower) error {
	return firstOf(
		checkText("name", g.Name, 1, wire.MaxName),
		checkText("note", g.Note, 0, wire.MaxNote),
		checkWord("language", g.Language, "", "en", "fr"),
	)
}

func checkField(f wire.Field) error {
	return firstOf(
		checkID("grower", f.Grower),
		checkText("name", f.Name, 1, wire.MaxName),
		checkText("note", f.Note, 0, wire.MaxNote),
		checkArea(f.Area),
		checkOutline(f.Outline),
		engineCheck("ground.", func(in *agro.Input) {
			in.Ground = agro.Ground{SoilZone: f.SoilZone, Texture: f.Texture, FreeLime: f.FreeLime}
		}),
	)
}

func checkArea(a *agro.Quantity) error {
	if a == nil {
		return nil
	}
	high := float64(wire.MaxAcres)
	if a.Unit == "ha" {
		high = wire.MaxAcres * wire.AcreInHa
	}
	return firstOf(
		checkWord("area.unit", a.Unit, "ac", "ha"),
		checkRange("area.value", a.Value, wire.MinArea, high, a.Unit),
	)
}

func checkSeason(s wire.Season) error {
	return firstOf(
		checkID("field", s.Field),
		checkCropYear("cropYear", s.CropYear),
		checkText("crop", s.Crop, 1, maxCropLetter),
		checkText("part", s.Part, 0, wire.MaxName),
		checkText("note", s.Note, 0, wire.MaxNote),
		checkWord("status", s.Status, "", "planned", "started", "done"),
		checkAmounts(s),
		engineCheck("history.0.", func(in *agro.Input) {
			in.CropYear = s.CropYear + 1
			in.History = []agro.Season{s.Past()}
		}),
		engineCheck("plan.", func(in *agro.Input) { in.CropYear, in.Plan = s.CropYear, s.Plan }),
		engineCheck("", func(in *agro.Input) {
			in.CropYear, in.Seeding, in.Drill, in.Rescue = s.CropYear, s.Seeding, s.Drill, s.Rescue
			in.Chickpea, in.Strips = s.Chickpea, s.Strips
			if s.Protein != nil {
				in.Harvest = &agro.Harvest{Protein: s.Protein}
			}
		}),
	)
}

// checkAmounts holds what was seeded and harvested to its bounds.
func checkAmounts(s wire.Season) error {
	return firstOf(
		checkMost("harvested", s.Harvested),
		checkMost("nitrogen", s.Nitrogen),
		checkMost("seedRate", s.SeedRate),
		checkMost("seedDepth", s.SeedDepth),
		checkMost("starterUsed", s.StarterN),
	)
}

// checkMost accepts 0 to the most of one of the units of a bound.
func checkMost(field string, q *agro.Quantity) error {
	if q == nil {
		return nil
	}
	most := wire.SeasonMost[field]
	return firstOf(
		checkWord(field+".unit", q.Unit, slices.Sorted(maps.Keys(most))...),
		checkRange(field+".value", q.Value, 0, most[q.Unit], q.Unit),
	)
}

func checkSoilTest(t wire.SoilTest) error {
	var year error
	if t.CropYear != 0 {
		year = checkCropYear("cropYear", t.CropYear)
	}
	return firstOf(
		checkID("field", t.Field), year,
		checkDate("sampled", t.Sampled),
		checkText("note", t.Note, 0, wire.MaxNote),
		engineCheck("soilTest.", func(in *agro.Input) {
			in.CropYear, in.SoilTest = t.Serves(), &t.SoilTest
		}),
	)
}

func checkDig(d wire.Dig) error {
	return firstOf(
		checkID("field", d.Field),
		checkCropYear("cropYear", d.CropYear),
		checkDate("date", d.Date),
		checkText("note", d.Note, 0, wire.MaxNote),
		checkText("weeds", d.Weeds, 0, wire.MaxNote),
		checkNotSeen(d),
		checkSpots(d),
		engineCheck("digs.0.", func(in *agro.Input) {
			in.CropYear, in.Digs = d.CropYear, []agro.Dig{d.Engine("dig")}
		}),
	)
}

func checkSpots(d wire.Dig) error {
	for i, spot := range d.Spots {
		err := firstOf(
			checkID("id", spot.ID),
			checkText("note", spot.Note, 0, wire.MaxNote),
			checkDegree(
				"longitude",
				spot.Longitude,
				180,
			),
			checkDegree("latitude", spot.Latitude, 90),
		)
		for j, plant := range spot.Plants {
			if err == nil {
				err = fault.Under(index("plants", j), checkID("id", plant.ID))
			}
		}
		if err != nil {
			return fault.Under(index("spots", i), err)
		}
	}
	return nil
}

func checkDegree(field string, value *float64, most float64) error {
	if value == nil {
		return nil
	}
	return checkRange(field, *value, -most, most, "degrees")
}

func checkID(field, id string) error {
	if !IsID(id) {
		return fault.At(field, "id", "is %q, expected a lower-case UUID", id)
	}
	return nil
}
