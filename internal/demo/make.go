package demo

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"time"

	"hilum/internal/agro"
	"hilum/internal/kind"
	"hilum/internal/wire"
)

type maker struct {
	rand  *rand.Rand
	today time.Time
	year  int
	staff []wire.Person
	owner []wire.Grower
	desk  []item   // what the consultant's desk hands in
	digs  [][]item // one list a scout
}

// id is a fixed id for the nth thing of a kind, so that pictures and tests can name it.
func id(of string, n int) string { return kind.ID(Farm, "demo-"+of, fmt.Sprint(n)) }

func (m *maker) people() {
	for i, p := range []wire.Person{
		{Name: "Odile Brandvik", Login: "owner", Role: "owner"},
		{Name: "Tamsin Okerlund", Login: "consultant", Role: "consultant"},
		{Name: "Jory Pelkanen", Login: "scout", Role: "scout"},
		{Name: "Brisa Numminge", Login: "scout2", Role: "scout"},
		{Name: "Eldon Varga-Smit", Login: "scout3", Role: "scout"},
	} {
		p.ID = id("person", i)
		m.staff = append(m.staff, p)
	}
	m.digs = make([][]item, 3)
}

func (m *maker) settings() wire.Settings {
	return wire.Settings{
		Name: "Demo account", TimeZone: "America/Regina", Currency: "CAD", Units: "imperial",
		StarterRule: "published", NodeCount: "withScale",
		NitrogenPrice: &agro.Quantity{Value: 0.72, Unit: "$/lb N"},
		Prices:        prices(),
		Today:         m.today.Format(time.DateOnly),
	}
}

var growerNames = []string{
	"Kestrel Bench Farm", "Ferndahl Family", "Two Culverts Land", "Ostrander & Daughter",
	"Bluejoint Acres", "Wending Flats",
}

func (m *maker) growers() {
	for i, name := range growerNames {
		g := wire.Grower{Name: name, Language: "en"}
		if i == 3 {
			g.Language = "fr"
		}
		m.owner = append(m.owner, g)
		m.desk = append(m.desk, item{id("grower", i), "grower", g})
	}
}

func (m *maker) fields() {
	for i, p := range plots() {
		field := id("field", i)
		m.desk = append(m.desk, item{field, "field", m.field(i, p)})
		m.seasons(field, p)
		if p.nitrate6 != nil {
			m.desk = append(m.desk, item{id("test", i), "soilTest", m.soilTest(field, p)})
		}
		m.june(i, field, p)
		if len(p.dug) > 0 {
			m.dig(i, field, p)
		}
	}
}

func (m *maker) field(i int, p plot) wire.Field {
	return wire.Field{
		Grower: id("grower", i%len(growerNames)), Name: p.name,
		Area:    &agro.Quantity{Value: p.acres, Unit: "ac"},
		Outline: m.outline(i, p.acres), SoilZone: p.zone, Texture: p.texture, FreeLime: p.lime,
	}
}

// outline draws a block of about the field's area with one corner cut off, on a grid of its own
// that belongs to no real land.
func (m *maker) outline(i int, acres float64) json.RawMessage {
	// An acre is 4046.86 m2; near 51 degrees north a degree is 70.2 km wide and 111.2 km high.
	const squareDegrees = 4046.86 / (70_200 * 111_250)
	west, south := -106.0-0.02*float64(i%6), 51.0+0.015*float64(i/6)
	wide := 0.0145 + 0.001*m.rand.Float64()
	cut := 0.2 + 0.2*m.rand.Float64()
	high := acres * squareDegrees / wide / (1 - cut*cut/2)
	ring := [][2]float64{
		{west, south}, {west + wide, south}, {west + wide, south + high*(1-cut)},
		{west + wide*(1-cut), south + high}, {west, south + high}, {west, south},
	}
	raw, _ := json.Marshal(map[string]any{"type": "Polygon", "coordinates": [][][2]float64{ring}})
	return raw
}

func (m *maker) seasons(field string, p plot) {
	first := m.year - len(p.crops) + 1
	for i, crop := range p.crops {
		year := first + i
		s := wire.Season{Field: field, CropYear: year, Crop: crop, Status: "done"}
		pulse := crop == "pea" || crop == "lentil"
		if year == m.year {
			m.plan(&s, p, pulse)
		} else {
			m.past(&s, p, pulse)
		}
		m.desk = append(
			m.desk,
			item{kind.ID(Farm, "season", kind.SeasonKey(field, year, "")), "season", s},
		)
	}
}

// usual yields, bu/ac; invented, and only for the demo.
var usual = map[string]float64{
	"pea":    42,
	"lentil": 28,
	"wheat":  48,
	"canola": 40,
	"barley": 66,
	"flax":   24,
}

func (m *maker) past(s *wire.Season, p plot, pulse bool) {
	took := usual[s.Crop] * (0.8 + 0.4*m.rand.Float64())
	if p.dryYears {
		took *= 0.55
	}
	s.Harvested = &agro.Quantity{Value: float64(int(took)), Unit: "bu/ac"}
	if pulse {
		yes := true
		s.Inoculated = &yes
		s.Nodulation = "good"
		if p.poorBefore {
			s.Nodulation = "poor"
		}
	}
}

func (m *maker) plan(s *wire.Season, p plot, pulse bool) {
	s.Status = "started"
	s.Seeded = m.day(p.late - 39 + m.rand.IntN(4))
	if !pulse {
		return
	}
	price := map[string]float64{"pea": 9.5, "lentil": 17.4}[s.Crop]
	s.Yield = &agro.Quantity{Value: usual[s.Crop], Unit: "bu/ac"}
	s.Price = &agro.Quantity{Value: price, Unit: "$/bu"}
	s.Fertilizers = []agro.Fertilizer{
		{Product: "map", Rate: agro.Quantity{Value: 15, Unit: "lb/ac"}, Placement: "seedRow"},
	}
	s.Placement, s.Seedbed = p.placement, p.seedbed
	s.Plan.Season = "normal"
	if p.dryYears {
		s.Plan.Season = "dry"
	}
	s.OpenerSpread = &agro.Quantity{Value: 1.5, Unit: "in"}
	s.RowSpacing = &agro.Quantity{Value: 10, Unit: "in"}
	for _, form := range p.inoculants {
		s.Inoculants = append(
			s.Inoculants,
			agro.Inoculant{Form: form, TreatmentClass: &p.treatment, HoursOnSeed: &p.hours},
		)
	}
	s.Emerged = m.day(p.late - 27 + m.rand.IntN(3))
}

func (m *maker) day(
	offset int,
) string {
	return m.today.AddDate(0, 0, offset).Format(time.DateOnly)
}

func (m *maker) soilTest(field string, p plot) wire.SoilTest {
	inch := func(v float64) agro.Quantity { return agro.Quantity{Value: v, Unit: "in"} }
	ppm := func(v float64) agro.Quantity { return agro.Quantity{Value: v, Unit: "ppm NO3-N"} }
	t := wire.SoilTest{Field: field}
	t.Sampled = fmt.Sprintf("%d-10-%02d", m.year-1, 12+m.rand.IntN(17))
	t.PPMRule = "2per6in"
	t.PH = &agro.PH{Value: p.ph, Basis: "water"}
	t.OrganicMatter = &p.organic
	t.Layers = []agro.Layer{{Top: inch(0), Bottom: inch(6), Nitrate: ppm(*p.nitrate6)}}
	switch {
	case p.nitrate12 != nil:
		t.Layers = append(
			t.Layers,
			agro.Layer{Top: inch(6), Bottom: inch(12), Nitrate: ppm(*p.nitrate12)},
			agro.Layer{
				Top:     inch(12),
				Bottom:  inch(24),
				Nitrate: ppm(float64(int(*p.nitrate12*8)) / 10),
			},
		)
	default: // only the top 6 in was sampled
	}
	return t
}

func (m *maker) pushes() []push {
	out := []push{{m.staff[1].ID, "consultant", id("device", 1), "Desk", m.desk}}
	for i, items := range m.digs {
		if len(items) > 0 {
			out = append(out, push{m.staff[2+i].ID, "scout", id("device", 2+i), "Phone", items})
		}
	}
	return out
}

// prices are invented, and only for the demo.
func prices() *agro.Prices {
	money := func(v float64, unit string) agro.Quantity { return agro.Quantity{Value: v, Unit: unit} }
	pass := money(10, "$/ac")
	return &agro.Prices{
		Pass: &pass,
		Products: []agro.ProductPrice{
			{Product: "urea", Price: money(730, "$/t")}, {Product: "map", Price: money(1020, "$/t")},
		},
		Inoculant: []agro.InoculantCost{
			{Form: "liquid", Cost: money(3.2, "$/ac")}, {Form: "peat", Cost: money(4.5, "$/ac")},
			{Form: "granular", Cost: money(11, "$/ac")},
		},
	}
}
