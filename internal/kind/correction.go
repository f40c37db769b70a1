package kind

import (
	"encoding/json"
	"slices"

	"hilum/internal/agro"
	"hilum/internal/fault"
	"hilum/internal/merge"
	"hilum/internal/wire"
)

// checkCorrection lets the engine judge what is said to be right, as part of a dig of its own.
func checkCorrection(c wire.Correction) error {
	return firstOf(
		checkID("dig", c.Dig),
		checkID("field", c.Field),
		checkText("why", c.Why, 1, wire.MaxNote),
		checkTarget(c),
		checkRight(c),
	)
}

// checkTarget wants exactly one thing said: a plant's values, a dig's values, or that it is void.
func checkTarget(c wire.Correction) error {
	whole := c.Date != "" || c.Node != nil || c.Suspicions != nil
	said := 0
	for _, given := range []bool{c.Drop, c.Right != nil, whole} {
		if given {
			said++
		}
	}
	switch {
	case said != 1:
		return fault.At("right", "one", "says %d things, accepted exactly one of: drop; right; "+
			"date, node and suspicions", said)
	case c.Right != nil && c.Plant == "":
		return fault.At("plant", "required", "is missing: right is said of one plant")
	case whole && c.Plant != "":
		return fault.At("plant", "one", "is given, but date, node and suspicions are of a whole dig")
	case c.Plant != "":
		return checkID("plant", c.Plant)
	}
	return nil
}

func checkRight(c wire.Correction) error {
	plant := agro.Plant{Vigour: "vigorous", Nodules: "none", Position: "none"}
	prefix := "digs.0."
	if c.Right != nil {
		plant, prefix = *c.Right, "digs.0.spots.0.plants.0."
	}
	date := c.Date
	if date == "" {
		date = "2000-06-15" // the engine wants one; this one says nothing
	} else if err := checkDate("date", date); err != nil {
		return err
	}
	return engineCheck(prefix, func(in *agro.Input) {
		dig := agro.Dig{ID: "dig", Date: date, Node: c.Node,
			Spots: []agro.Spot{{Plants: []agro.Plant{plant}}}}
		if c.Suspicions != nil {
			dig.Suspicions = *c.Suspicions
		}
		if c.Date != "" {
			in.CropYear = yearOf(date)
		}
		in.Digs = []agro.Dig{dig}
	})
}

// yearOf gives the year of a date that was checked.
func yearOf(date string) int {
	year := 0
	for _, digit := range date[:4] {
		year = 10*year + int(digit-'0')
	}
	return year
}

// correctionFits wants the plant to be one of the dig's, and the field to be the dig's.
func correctionFits(body []byte, linked map[string]merge.State) error {
	var c wire.Correction
	if err := wire.Lenient(body, &c); err != nil {
		return err
	}
	dig, err := digOf(linked[c.Dig])
	if err != nil {
		return err
	}
	if dig.Field != c.Field {
		return fault.At("field", "link", "is %s, but the dig was on %s", c.Field, dig.Field)
	}
	if c.Date != "" && yearOf(c.Date) != dig.CropYear {
		return fault.At("date", "range", "is %s, accepted are days of %d, the dig's crop year",
			c.Date, dig.CropYear)
	}
	if c.Plant == "" {
		return nil
	}
	for _, spot := range dig.Spots {
		if slices.ContainsFunc(spot.Plants, func(p wire.DigPlant) bool { return p.ID == c.Plant }) {
			return nil
		}
	}
	return fault.At("plant", "link", "is %s, which is no plant of this dig", c.Plant)
}

func digOf(s merge.State) (wire.Dig, error) {
	var dig wire.Dig
	raw, err := json.Marshal(s.Body)
	if err != nil {
		return dig, fault.New(fault.Invalid, "json", "is not JSON: %s", err)
	}
	return dig, wire.Lenient(raw, &dig)
}
