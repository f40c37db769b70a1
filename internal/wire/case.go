package wire

import (
	"cmp"
	"slices"

	"hilum/internal/agro"
	"hilum/internal/date"
	"hilum/internal/fault"
)

// Record is one live record of an account, as the feed holds it.
type Record struct {
	ID   string `json:"id"`
	Kind string `json:"kind"`
	Seq  int64  `json:"seq,omitempty"` // of its row; 0: not at the server yet, so the newest
	Body Raw    `json:"body"`
}

// testYearMonth is the first month whose soil tests serve the next crop year. Ours: the crop of
// the running year is ripe by then on the prairies, so a later sample can only serve the next.
const testYearMonth = 8 // August

// Serves gives the crop year that a soil test serves.
func (t SoilTest) Serves() int {
	if t.CropYear != 0 {
		return t.CropYear
	}
	day, ok := date.Parse(t.Sampled)
	if !ok {
		return 0
	}
	if day.Month() >= testYearMonth {
		return day.Year() + 1
	}
	return day.Year()
}

// Case makes the engine's input for one field and crop year out of the account's records; records
// of other fields are passed over. NotFound when the field or its season of that year is missing,
// Invalid when a body cannot be read.
func Case(records []Record, field string, cropYear int) (agro.Input, error) {
	b := builder{field: field, year: cropYear}
	for _, r := range records {
		if err := b.add(r); err != nil {
			return agro.Input{}, fault.Under(r.Kind, err)
		}
	}
	if !b.hasField {
		return agro.Input{}, fault.New(
			fault.NotFound,
			"field",
			"the field %s is not among the records",
			field,
		)
	}
	if b.season == nil {
		return agro.Input{}, fault.New(fault.NotFound, "season",
			"the field has no crop entered for crop year %d", cropYear)
	}
	return b.input(), nil
}

// Hash is the SHA-256, in hex, over the canonical encoding of an input.
func Hash(in agro.Input) (string, error) {
	var e encoder
	if writeInput(&e, &in); e.bad {
		return "", fault.New(fault.Invalid, "json", "the input holds a number that is not finite")
	}
	return digest(e.buf), nil
}

type builder struct {
	field    string
	year     int
	settings Settings
	ground   agro.Ground
	area     *agro.Quantity
	rootRot  *agro.RootRot
	hasField bool
	season   *Season
	past     []agro.Season
	test     *SoilTest
	testID   string
	visits   []visit
	passes   []pass
	wrongs   []correction
}

func (b *builder) add(r Record) error {
	switch r.Kind {
	case "settings":
		return decode(r.Body, false, &b.settings, readSettings)
	case "field":
		return b.addField(r)
	case "season":
		return b.addSeason(r)
	case "soilTest":
		return b.addTest(r)
	case "dig":
		return b.addDig(r)
	case "pass":
		return b.addPass(r)
	case "correction":
		return b.addCorrection(r)
	}
	return nil
}

func (b *builder) addField(r Record) error {
	if r.ID != b.field {
		return nil
	}
	var f Field
	if err := decode(r.Body, false, &f, readField); err != nil {
		return err
	}
	b.hasField = true
	b.ground = agro.Ground{SoilZone: f.SoilZone, Texture: f.Texture, FreeLime: f.FreeLime}
	b.area, b.rootRot = f.Area, f.RootRot
	return nil
}

func (b *builder) addSeason(r Record) error {
	var s Season
	if err := decode(r.Body, false, &s, readSeason); err != nil {
		return err
	}
	whole := s.Part == "" || s.Part == "whole"
	switch {
	case s.Field != b.field || !whole || s.CropYear > b.year:
	case s.CropYear == b.year:
		b.season = &s
	default:
		b.past = append(b.past, s.Past())
	}
	return nil
}

// Computable says whether the engine can work out this season: a crop it knows, the field whole.
func (s Season) Computable() bool {
	return (s.Part == "" || s.Part == "whole") && slices.Contains(agro.Crops(), s.Crop)
}

// Past gives the season as an earlier year of the engine.
func (s Season) Past() agro.Season {
	return agro.Season{
		CropYear: s.CropYear, Crop: s.Crop, AlsoHosts: s.AlsoHosts,
		Inoculated: s.Inoculated, Nodulation: s.Nodulation, Flooded: s.Flooded,
		Harvested: s.Harvested, Nitrogen: s.Nitrogen,
	}
}

// addTest keeps the newest test that serves the year; ids break a tie of dates.
func (b *builder) addTest(r Record) error {
	var t SoilTest
	if err := decode(r.Body, false, &t, readSoilTest); err != nil {
		return err
	}
	if t.Field != b.field || t.Serves() != b.year {
		return nil
	}
	older := b.test != nil &&
		cmp.Or(cmp.Compare(t.Sampled, b.test.Sampled), cmp.Compare(r.ID, b.testID)) < 0
	if !older {
		b.test, b.testID = &t, r.ID
	}
	return nil
}

func (b *builder) addDig(r Record) error {
	var d Dig
	if err := decode(r.Body, false, &d, readDig); err != nil {
		return err
	}
	if d.Field == b.field && d.CropYear == b.year {
		b.visits = append(b.visits, visit{r.ID, d})
	}
	return nil
}

// pass is a Pass with the id of its record.
type pass struct {
	id string
	agro.Pass
}

func (b *builder) addPass(r Record) error {
	var p Pass
	if err := decode(r.Body, false, &p, readPass); err != nil {
		return err
	}
	if p.Field == b.field && p.CropYear == b.year {
		b.passes = append(b.passes, pass{r.ID, p.Pass})
	}
	return nil
}

// sprayed gives the passes of the year, oldest first; ids break a tie.
func (b *builder) sprayed() []agro.Pass {
	slices.SortFunc(b.passes, func(x, y pass) int {
		return cmp.Or(cmp.Compare(x.Date, y.Date), cmp.Compare(x.Time, y.Time), cmp.Compare(x.id, y.id))
	})
	var out []agro.Pass
	for _, p := range b.passes {
		out = append(out, p.Pass)
	}
	return out
}

// Engine gives the dig as the engine sees it: without places, notes and ids of plants.
func (d Dig) Engine(id string) agro.Dig {
	out := agro.Dig{
		ID:         id,
		Date:       d.Date,
		Node:       d.Node,
		Suspicions: d.Suspicions,
		Stand:      d.Stand,
		AirTemp:    d.AirTemp,
	}
	for _, spot := range d.Spots {
		var s agro.Spot
		for _, plant := range spot.Plants {
			s.Plants = append(s.Plants, plant.Plant)
		}
		out.Spots = append(out.Spots, s)
	}
	return out
}

func (b *builder) input() agro.Input {
	in := agro.Input{
		Schema: 1, Crop: b.season.Crop, CropYear: b.year,
		StarterRule: cmp.Or(b.settings.StarterRule, "published"),
		NodeCount:   cmp.Or(b.settings.NodeCount, "withScale"),
		Ground:      b.ground, History: b.past, Plan: b.season.Plan, Digs: b.corrected(),
		Acres: b.area, RootRot: b.rootRot, Seeding: b.season.Seeding, Drill: b.season.Drill,
		Rescue: b.season.Rescue, Chickpea: b.season.Chickpea, Strips: b.season.Strips,
		Passes: b.sprayed(),
	}
	if b.settings.Prices != nil {
		in.Prices = *b.settings.Prices
	}
	if b.settings.Rules != nil {
		in.Rules = *b.settings.Rules
	}
	if b.season.Harvested != nil {
		in.Harvest = &agro.Harvest{Yield: b.season.Harvested, Protein: b.season.Protein}
	}
	if in.Plan.NitrogenPrice == nil {
		in.Plan.NitrogenPrice = b.settings.NitrogenPrice
	}
	if b.test != nil {
		in.SoilTest = &b.test.SoilTest
	}
	slices.SortStableFunc(
		in.History,
		func(x, y agro.Season) int { return cmp.Compare(x.CropYear, y.CropYear) },
	)
	slices.SortStableFunc(in.Digs, func(x, y agro.Dig) int {
		return cmp.Or(cmp.Compare(x.Date, y.Date), cmp.Compare(x.ID, y.ID))
	})
	return in
}
