package golden

import (
	"hilum/internal/agro/crop"
	"hilum/internal/agro/nodule"
	"hilum/internal/agro/risk"
	"hilum/internal/num"
)

type dug struct {
	Spots [][2]int `json:"spots"` // plants counted, of them adequate
	Rho   float64  `json:"rho"`
}

func counts(spots [][2]int) []nodule.Count {
	var out []nodule.Count
	for _, s := range spots {
		out = append(out, nodule.Count{Plants: s[0], Adequate: s[1]})
	}
	return out
}

func wilson(in dug) map[string]any {
	spots := counts(in.Spots)
	plants, good := nodule.Totals(spots)
	n := nodule.Effective(spots, in.Rho)
	share := float64(good) / float64(plants)
	low, high := nodule.Wilson(share, n)
	return map[string]any{"share": share, "effective": n, "low": low, "high": high,
		"patchy": nodule.Patchy(spots)}
}

type odds struct {
	Plants   int     `json:"plants"`
	Adequate int     `json:"adequate"`
	Share    float64 `json:"share"`
	Against  float64 `json:"against"`
	Rho      float64 `json:"rho"`
}

func likelihood(in odds) map[string]any {
	c := nodule.Count{Plants: in.Plants, Adequate: in.Adequate}
	l := nodule.LogLikelihood(c, in.Share, in.Rho)
	out := map[string]any{"chance": num.Exp(l)}
	if in.Against > 0 {
		out["ratio"] = l - nodule.LogLikelihood(c, in.Against, in.Rho)
	}
	return out
}

func enough(in dug) map[string]any {
	answer, further := nodule.Enough(counts(in.Spots))
	return map[string]any{"answer": answer, "further": float64(further)}
}

type readingCase struct {
	External float64 `json:"external"` // lb/ac
	Days     int     `json:"days"`     // since emergence
	Cool     bool    `json:"cool"`
}

func reading(in readingCase) map[string]any {
	return map[string]any{"suppressed": nodule.Suppression(in.External),
		"timing": nodule.Timing(in.Days, in.Cool)}
}

type soilCase struct {
	Crop  string  `json:"crop"`
	PH    float64 `json:"ph"`
	Basis string  `json:"basis"`
}

func (s soilCase) water() float64 {
	if s.Basis == "CaCl2" {
		return risk.WaterPH(s.PH)
	}
	return s.PH
}

func soil(in soilCase) map[string]any {
	r, _ := crop.Find(in.Crop)
	pH := in.water()
	return map[string]any{"water": pH, "lift": risk.Lift(r, pH), "floor": risk.Floor(r, pH),
		"decline": risk.Decline(pH)}
}

type walkCase struct {
	Soil    soilCase `json:"soil"`
	Winters int      `json:"winters"` // since a well nodulated host
	Flooded bool     `json:"flooded"` // in the year of the host
}

func walk(in walkCase) map[string]any {
	r, _ := crop.Find(in.Soil.Crop)
	years := []risk.Year{{Host: true, Nodulation: "good", Flooded: in.Flooded}}
	for range in.Winters - 1 {
		years = append(years, risk.Year{})
	}
	after, now, _ := risk.Walk(r, in.Soil.water(), years)
	if in.Winters == 0 {
		now = after[0]
	}
	return map[string]any{"now": now, "share": risk.Adequate(num.Exp10(now))}
}

type productCase struct {
	Form  string  `json:"form"`
	Class int     `json:"class"`
	Hours float64 `json:"hours"`
}

type survivalCase struct {
	Product productCase `json:"product"`
	PH      float64     `json:"ph"`
	Seedbed string      `json:"seedbed"`
	Soil    float64     `json:"soil"` // log10 cells/g, for the share
}

func survival(in survivalCase) map[string]any {
	p := risk.Product{Form: in.Product.Form, Dose: 1, Class: in.Product.Class,
		Hours: in.Product.Hours}
	s := risk.Survival(p, in.PH, in.Seedbed)
	cells := num.Exp10(in.Soil) + float64(risk.FullDose*num.Exp10(s))
	return map[string]any{"log": s, "share": risk.Adequate(cells)}
}

type adequateCase struct {
	Cells  float64 `json:"cells"`
	Supply float64 `json:"supply"`
}

func adequate(in adequateCase) map[string]any {
	p := risk.Adequate(in.Cells)
	return map[string]any{"share": p, "loss": risk.Loss(p, in.Supply)}
}

type outcomeCase struct {
	Soil     float64       `json:"soil"` // log10 cells/g
	Products []productCase `json:"products"`
	PH       float64       `json:"ph"`
	Seedbed  string        `json:"seedbed"`
}

func (c outcomeCase) outcome() risk.Outcome {
	var products []risk.Product
	for _, p := range c.Products {
		products = append(products, risk.Product{Form: p.Form, Dose: 1, Class: p.Class,
			Hours: p.Hours})
	}
	return risk.NewGround(c.Soil).Outcome(risk.NewLive(products, c.PH, c.Seedbed))
}

func outcome(in outcomeCase) map[string]any { return shown(in.outcome()) }

func shown(o risk.Outcome) map[string]any {
	return map[string]any{"fail": o.Fail(), "good": o.Good(), "mean": o.Mean()}
}

type beliefCase struct {
	Prior    outcomeCase `json:"prior"`
	Spots    [][2]int    `json:"spots"`
	External float64     `json:"external"`
	Days     int         `json:"days"`
	Cool     bool        `json:"cool"`
	When     string      `json:"when"`
}

func belief(in beliefCase) map[string]any {
	o := in.Prior.outcome()
	r := nodule.NewReading(in.When, in.External, in.Days, in.Cool)
	spots := counts(in.Spots)
	out := shown(o.Weighted(nodule.Update(o.P, o.Weight, spots, r)))
	pea, _ := crop.Find("pea")
	mean, _ := out["mean"].(float64)
	out["after"] = risk.AfterCrop(pea, in.Prior.PH, in.Prior.Soil, mean)
	out["patchy"] = nodule.Patchy(spots)
	return out
}
