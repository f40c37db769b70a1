package card

import (
	"hilum/internal/agro/crop"
	"hilum/internal/agro/risk"
)

// keeps is the share of full yield at the centre of the model.
func keeps(soil float64, form string, pH float64, seedbed string, s float64) float64 {
	return 1 - risk.Loss(share(soil, form, pH, seedbed), s)
}

// The Peace River trials: what the abstract does not give is assumed, so the model is fitted there
// and predicts nothing. The need is 122 lb/ac, half of fertilizer N reaches the crop.
const (
	peacePH     = 5.6 // in water
	peaceSupply = 0.16
	peaceNeed   = 122.0
	peaceUse    = 0.5
	lbPerKg     = 0.892179 // lb/ac in a kg/ha
)

func peaceShare(kg, need float64) float64 {
	return (peaceSupply*peaceNeed + peaceUse*kg*lbPerKg) / need
}

func yields() []anchor {
	out := append(peaceRiver(), biomass()...)
	out = append(out,
		at("alberta", 19, over(native, "", 0.64), "%", "card.without"),
		at("alberta", 5, over(walked("pea", 7, 3), "", 0.64), "%", "card.with"))
	for _, seedbed := range []string{"dry", "hotDry"} {
		gain := keeps(foreign, risk.Granular, 7, seedbed, 0.65)/keeps(foreign, risk.Peat, 7, seedbed,
			0.65) - 1
		out = append(out, anchor{"sask", []string{"seedbed." + seedbed}, 7, 8, "%", percent(gain)})
	}
	for _, seedbed := range []string{"marginal", "hotDry"} {
		peat := keeps(foreign, risk.Peat, 7, seedbed, 0.57)
		less := 1 - peat/keeps(foreign, risk.Granular, 7, seedbed, 0.57)
		out = append(out, at("ontario", 100*(1-2.6/3.1), percent(less), "%", "seedbed."+seedbed))
	}
	return out
}

// over is the gain of peat over a form, percent, at the Alberta trials' pH on a moist seedbed.
func over(soil float64, form string, s float64) float64 {
	return percent(keeps(soil, risk.Peat, 6.8, "moist", s)/keeps(soil, form, 6.8, "moist", s) - 1)
}

func peaceRiver() []anchor {
	pea, _ := crop.Find("pea")
	soil := risk.Floor(pea, peacePH)
	mean := func(form string) float64 {
		sum := 0.0
		for _, kg := range []float64{0, 20, 40, 80} {
			sum += keeps(soil, form, peacePH, "marginal", peaceShare(kg, peaceNeed)) / 4
		}
		return sum
	}
	var out []anchor
	for _, row := range []struct {
		form string
		gain float64
	}{{risk.Peat, 17}, {risk.Liquid, 50}, {"", 56}} {
		name := "option." + row.form
		if row.form == "" {
			name = "option.none"
		}
		out = append(out, at("peace", row.gain, percent(mean(risk.Granular)/mean(row.form)-1), "%",
			name))
	}
	return out
}

// biomass is what granular gained over the mean of peat and liquid at flat pod: half the loss of
// yield, at six tenths of the need. It is never read as yield.
func biomass() []anchor {
	pea, _ := crop.Find("pea")
	soil := risk.Floor(pea, peacePH)
	var out []anchor
	for _, row := range [][2]float64{{0, 15}, {20, 18}, {40, 9}, {80, 0}} {
		s := min(1, peaceShare(row[0], 0.6*peaceNeed))
		kept := func(form string) float64 {
			return 1 - risk.Loss(share(soil, form, peacePH, "marginal"), s)/2
		}
		gain := 2*kept(risk.Granular)/(kept(risk.Peat)+kept(risk.Liquid)) - 1
		out = append(out, at("biomass", row[1], percent(gain), "%", short(row[0])))
	}
	return out
}

// implied is the share of nitrogen that soil and fertilizer must have supplied for the model to
// give a trial's gain; a share outside 0 to 1 would refute it.
func implied() []anchor {
	var out []anchor
	for _, row := range []struct {
		crop string
		soil float64
		gain float64
	}{{"lentil", native, 23}, {"lentil", native, 29}, {"desiChickpea", foreign, 35},
		{"kabuliChickpea", foreign, 7}, {"kabuliChickpea", foreign, 12}, {"pea", native, 9}} {
		low, high := 0.0, 1.0
		for range 40 {
			if s := (low + high) / 2; over(row.soil, "", s) > row.gain {
				low = s
			} else {
				high = s
			}
		}
		out = append(out, anchor{"implied", []string{"crop." + row.crop, short(row.gain)}, 0, 1, "",
			low})
	}
	return out
}

// chances are no anchor from outside: they are the table that the spreads were chosen by.
func chances() []anchor {
	var out []anchor
	for _, row := range []struct {
		soil       float64
		ground     string
		key        string
		forms      []string
		seedbed    string
		fail, good float64
	}{
		{foreign, "foreign", "liquid", []string{risk.Liquid}, "moist", 11, 78},
		{foreign, "foreign", "liquid", []string{risk.Liquid}, "dry", 52, 22},
		{foreign, "foreign", "peat", []string{risk.Peat}, "moist", 5, 92},
		{foreign, "foreign", "peat", []string{risk.Peat}, "dry", 11, 67},
		{foreign, "foreign", "granular", []string{risk.Granular}, "moist", 3, 97},
		{native, "native", "none", nil, "moist", 71, 8},
		{native, "native", "liquid", []string{risk.Liquid}, "dry", 31, 32},
		{native, "native", "peat", []string{risk.Peat}, "dry", 6, 74},
		{2.25, "host", "none", nil, "moist", 11, 64},
	} {
		var products []risk.Product
		for _, form := range row.forms {
			products = append(products, risk.Product{Form: form, Dose: 1})
		}
		o := risk.NewGround(row.soil).Outcome(risk.NewLive(products, 7, row.seedbed))
		args := []string{"card.ground." + row.ground, "option." + row.key, "seedbed." + row.seedbed}
		out = append(out, at("fail", row.fail, percent(o.Fail()), "%", args...),
			at("good", row.good, percent(o.Good()), "%", args...))
	}
	return out
}
