package demo

import (
	"bytes"
	_ "embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"

	"hilum/internal/agro"
	"hilum/internal/wire"
)

// plot is one invented field: what makes it worth a look.
type plot struct {
	name, zone, texture string
	acres               float64
	lime                bool
	crops               []string // five crop years, the last one running
	nitrate6            *float64 // ppm NO3-N in 0-6 in; nil = no soil test
	nitrate12           *float64 // ppm NO3-N in 6-12 in; nil = only the top was sampled
	ph                  float64
	organic             float64 // percent
	placement, seedbed  string
	inoculants          []string
	treatment           int // class of the seed treatment
	hours               float64
	dryYears            bool
	poorBefore          bool
	dug                 []string // one word of plants for each spot: see rootOf
	scout               int      // 1 to 3
	dugOn               int      // days before today
	late                int      // days after the others that it was seeded
	walk                string   // who walks it: "1" to "3", "0" open to all, "" not said
	pass                []string // what, days before today, when it ended, re-entry hours or "-"
}

// plotTable holds the account's 24 fields: old pulse ground, first-time ground, acid knolls,
// nitrate built up in dry years, mid-row drills, missing tests, and fields between pulses.
//
//go:embed plots.csv
var plotTable []byte

// plots reads the table; a fault in it is a defect of ours.
func plots() []plot {
	lines, err := csv.NewReader(bytes.NewReader(plotTable)).ReadAll()
	if err != nil {
		panic(fmt.Sprintf("plots.csv: %v", err))
	}
	var all []plot
	for _, line := range lines[1:] {
		cell := map[string]string{}
		for i, name := range lines[0] {
			cell[name] = line[i]
		}
		all = append(all, plotOf(cell))
	}
	return all
}

func plotOf(cell map[string]string) plot {
	return plot{
		name: cell["name"], zone: cell["zone"], texture: cell["texture"],
		acres: *number(cell["acres"]), lime: cell["lime"] != "",
		crops:    strings.Fields(cell["crops"]),
		nitrate6: number(cell["nitrate6"]), nitrate12: number(cell["nitrate12"]),
		ph: orZero(number(cell["ph"])), organic: orZero(number(cell["organic"])),
		placement: cell["placement"], seedbed: cell["seedbed"],
		inoculants: strings.FieldsFunc(cell["inoculants"], func(r rune) bool { return r == '+' }),
		treatment:  int(*number(cell["treatment"])), hours: *number(cell["hours"]),
		dryYears: cell["years"] == "dry", poorBefore: cell["nodulation"] == "poor",
		dug:   strings.Fields(cell["dug"]),
		scout: int(orZero(number(cell["scout"]))), dugOn: int(orZero(number(cell["dugOn"]))),
		late: int(orZero(number(cell["late"]))), walk: cell["walk"], pass: strings.Fields(cell["pass"]),
	}
}

// number reads a cell; an empty one is nil.
func number(text string) *float64 {
	if text == "" {
		return nil
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		panic(fmt.Sprintf("plots.csv: %v", err))
	}
	return &v
}

func orZero(v *float64) float64 {
	if v == nil {
		return 0
	}
	return *v
}

// rootOf is what a letter stands for: good, fair, small, not yet, bare.
func rootOf(letter byte) agro.Plant {
	switch letter {
	case 'g':
		return agro.Plant{
			Vigour:   "vigorous",
			Nodules:  "over5",
			Inside:   "pink",
			Position: "crownAndLateral",
		}
	case 'f':
		return agro.Plant{
			Vigour:   "vigorous",
			Nodules:  "3to5",
			Inside:   "pink",
			Position: "mostlyCrown",
		}
	case 's':
		return agro.Plant{
			Vigour:   "small",
			Nodules:  "under3",
			Inside:   "pink",
			Position: "mostlyLateral",
		}
	case 'n':
		return agro.Plant{
			Vigour:   "small",
			Nodules:  "under3",
			Inside:   "white",
			Position: "mostlyCrown",
		}
	}
	return agro.Plant{Vigour: "pale", Nodules: "none", Position: "none"}
}

// dig hands the field's dig to its scout.
func (m *maker) dig(i int, field string, p plot) {
	d := wire.Dig{
		Field: field, CropYear: m.year, Date: m.day(-p.dugOn),
		Node: &agro.Node{Count: 9 - p.dugOn/3, Convention: "withScale"},
	}
	if p.dryYears {
		d.Suspicions = []string{"drought"}
	}
	for s, letters := range p.dug {
		spot := wire.DigSpot{ID: id("spot", i*100+s)}
		for k := range len(letters) {
			plant := wire.DigPlant{ID: id("plant", i*10000+s*100+k), Plant: rootOf(letters[k])}
			spot.Plants = append(spot.Plants, plant)
		}
		d.Spots = append(d.Spots, spot)
	}
	m.digs[p.scout-1] = append(m.digs[p.scout-1], item{id("dig", i), "dig", d})
}
