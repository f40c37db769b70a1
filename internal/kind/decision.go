package kind

import (
	"slices"

	"hilum/internal/agro"
	"hilum/internal/agro/code"
	"hilum/internal/fault"
	"hilum/internal/merge"
	"hilum/internal/wire"
)

// checkDecision lets the engine judge the rate and the product, as a rescue pass thought of.
func checkDecision(d wire.Decision) error {
	return firstOf(
		checkID("field", d.Field),
		checkCropYear("cropYear", d.CropYear),
		checkRange("digs", float64(len(d.Digs)), 0, wire.MaxDecisionDigs, "digs"),
		checkDigIDs(d.Digs),
		checkWord("choice", d.Choice, "apply", "wait", "digAgain", "none", "confirmed"),
		checkText("reason", d.Reason, 1, wire.MaxReason),
		checkText("who", d.Who, 1, wire.MaxName),
		checkDate("date", d.Date),
		checkApply(d),
		checkByDay(d),
	)
}

func checkDigIDs(digs []string) error {
	for i, id := range digs {
		if err := checkID(index("digs", i), id); err != nil {
			return err
		}
	}
	return nil
}

// checkApply wants a rate where nitrogen is to go on, and none elsewhere.
func checkApply(d wire.Decision) error {
	apply := d.Choice == "apply"
	switch {
	case apply && d.Rate == nil:
		return fault.At("rate", "required", "is missing, needed with the choice apply")
	case !apply && d.Rate != nil:
		return fault.At("rate", "one", "is given, accepted only with the choice apply")
	case !apply && d.Product != "":
		return fault.At("product", "one", "is given, accepted only with the choice apply")
	}
	return engineCheck("rescue.", func(in *agro.Input) {
		in.Rescue = &agro.Rescue{Rate: d.Rate, Product: d.Product}
	})
}

// checkByDay wants a day where something is still to be done.
func checkByDay(d wire.Decision) error {
	open := slices.Contains([]string{"apply", "wait", "digAgain"}, d.Choice)
	switch {
	case d.ByDay == "" && open:
		return fault.At("byDay", "required", "is missing, needed with the choice %s", d.Choice)
	case d.ByDay == "":
		return nil
	case !open:
		return fault.At("byDay", "one", "is given, accepted only with apply, wait and digAgain")
	}
	if err := checkDate("byDay", d.ByDay); err != nil {
		return err
	}
	if d.ByDay < d.Date || yearOf(d.ByDay) != d.CropYear {
		return fault.At("byDay", "range", "is %s, accepted are days of %d from %s on", d.ByDay,
			d.CropYear, d.Date)
	}
	return nil
}

// decisionFits wants the digs to be of the field and crop year decided on.
func decisionFits(body []byte, linked map[string]merge.State) error {
	var d wire.Decision
	if err := wire.Lenient(body, &d); err != nil {
		return err
	}
	for i, id := range d.Digs {
		dig, err := digOf(linked[id])
		if err != nil {
			return err
		}
		if dig.Field != d.Field || dig.CropYear != d.CropYear {
			return fault.At(index("digs", i), "link", "was on %s in %d, but the decision is of %s in %d",
				dig.Field, dig.CropYear, d.Field, d.CropYear)
		}
	}
	return nil
}

// checkNotSeen wants words of suspicions, and none that was seen as well.
func checkNotSeen(d wire.Dig) error {
	for i, word := range d.NotSeen {
		if err := checkWord(index("notSeen", i), word, code.Vocabulary["suspicion"]...); err != nil {
			return err
		}
		if slices.Contains(d.Suspicions, word) {
			return fault.At(index("notSeen", i), "conflict", "is %q, which is among suspicions too", word)
		}
	}
	return nil
}
