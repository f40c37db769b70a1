package starter

import (
	"hilum/internal/agro/code"
	"hilum/internal/unit"
)

// Dry bean is planned on a total of nitrate 0-24 in and fertilizer N.
const (
	totalManitoba     unit.LbPerAcre = 70   // about (Manitoba Pulse & Soybean Growers, bean nutrition)
	appliedMost       unit.LbPerAcre = 35   // applied, where the crop is to nodulate (same page)
	totalSaskatchewan unit.LbPerAcre = 80   // dryland trials 20180454: +614 lb/ac over none
	perPound                         = 0.05 // lb N for each lb of expected yield (Minnesota 2011)
	firstYearTotal    unit.LbPerAcre = 50   // soybean on first-year ground (North Dakota 2003)
)

// BeanRules are the published rules for dry bean, the default first.
var BeanRules = []string{"total70", "total80", "yieldBased", "none"}

// Bean answers for dry bean by one of BeanRules. yield is expected, lb/ac; 0 where it is not known.
// The Minnesota rule takes off a credit for a legume before; none is known to the engine.
func Bean(rule string, yield float64, c Case) Answer {
	if rule == "none" {
		return no(code.Say(code.BeanNone))
	}
	if !c.To24.Known {
		return Answer{Decision: Unknown, Reasons: []code.Note{code.Say(code.StarterNoNitrate24)}}
	}
	total := totalManitoba
	switch rule {
	case "total80":
		total = totalSaskatchewan
	case "yieldBased":
		if yield <= 0 {
			return Answer{Decision: Unknown, Reasons: []code.Note{code.Say(code.SupplyNoYield)}}
		}
		total = unit.LbPerAcre(float64(perPound * yield))
	}
	a := fill(total, c)
	if rule == "total70" {
		a.most(appliedMost-c.Planned,
			code.Say(code.LimitApplied, code.Num("most", float64(appliedMost), "lb/ac")))
	}
	a.inSeedRow(c)
	a.Low, a.High = a.Rate, a.Rate
	return a
}

// fill tops nitrate to 24 in and all planned N up to a total.
func fill(total unit.LbPerAcre, c Case) Answer {
	a := Answer{Decision: Apply, Known: true,
		Rate: max(0, total-c.To24.Low-c.Planned)}
	a.Reasons = []code.Note{code.Say(code.BeanTotal, code.Num("total", float64(total), "lb/ac"),
		code.Num("nitrate", float64(c.To24.Low), "lb/ac"),
		code.Num("planned", float64(c.Planned), "lb/ac"))}
	return a
}

// FirstYear gives what the North Dakota row of 2003 would add on first-year soybean ground. It is
// shown and never advised: high nitrate worsens iron chlorosis.
func FirstYear(c Case) (n unit.LbPerAcre, ok bool) {
	return max(0, firstYearTotal-c.To24.Low-c.Planned), c.To24.Known
}
