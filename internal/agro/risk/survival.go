package risk

import (
	"math"

	"hilum/internal/num"
)

// Forms of inoculant.
const (
	Liquid   = "liquid"
	Peat     = "peat"
	Granular = "granular"
)

// Product is one inoculant as planned.
type Product struct {
	Form  string
	Dose  float64 // guaranteed live cells for each seed over 1e5
	Class int     // of the seed treatment: 0, 1, 2
	Hours float64 // on the seed before seeding
}

// MostDose limits how much a high dose may count (ours).
const MostDose = 20.0

// form is the row of one formulation. All values are ours, fitted to the pH ladder (Rice et al.
// 2000: granular at 4.4, peat from 5.4, liquid at 6.6) and the Peace River yields.
type form struct {
	base, acid           float64 // log10 at pH 6.5, and lost for each unit below
	marginal, dry, hot   float64 // log10 by seedbed
	hourly               float64 // log10 lost for each day on untreated seed past 4 h
	spread               float64 // standard deviation, log10
	failure              float64 // chance of an outright failure of the product
	treated, classTwoPut float64 // share of the treatment's harm that reaches it; class 2 constant
}

func formOf(name string) form {
	switch name {
	case Granular:
		return form{base: -0.3, acid: 0.5, marginal: -0.1, dry: -0.3, hot: -0.6,
			spread: 0.4, failure: 0.03, classTwoPut: -0.1}
	case Peat:
		return form{base: -1.0, acid: 1.0, marginal: -0.4, dry: -0.8, hot: -1.3, hourly: -0.10,
			spread: 0.6, failure: 0.05, treated: 1}
	}
	return form{base: -1.3, acid: 1.8, marginal: -0.7, dry: -1.4, hot: -2.0, hourly: -0.25,
		spread: 0.8, failure: 0.08, treated: 1}
}

// Limits of log10 survival, and the further loss in an outright failure (ours).
const (
	leastSurvival = -5.0
	mostSurvival  = 0.0
	failureDrop   = -3.0
)

// acidBase is log10 survival of a formulation by pH alone.
func acidBase(name string, pH float64) float64 {
	f := formOf(name)
	return clamp(f.base - float64(f.acid*math.Max(0, neutralPH-pH)))
}

func clamp(x float64) float64 { return math.Max(leastSurvival, math.Min(mostSurvival, x)) }

// Survival is the centre of log10 survival of a product; seedbed is "moist", "marginal", "dry" or
// "hotDry".
func Survival(p Product, pH float64, seedbed string) float64 {
	f := formOf(p.Form)
	s := f.base - float64(f.acid*math.Max(0, neutralPH-pH))
	switch seedbed {
	case "marginal":
		s += f.marginal
	case "dry":
		s += f.dry
	case "hotDry":
		s += f.hot
	}
	return clamp(s + onSeed(f, p.Class, p.Hours))
}

// onSeed is log10 lost to time and treatment on the seed: no harm of carboxin and thiram at 1-2 h,
// harm at 24 h (Martyniuk et al.); the harshest treatments kill 62 % in 2 h and 95 % in 24 h
// (Brazilian soybean trials); the curves between are ours.
func onSeed(f form, class int, hours float64) float64 {
	loss := float64(f.hourly * math.Max(0, (hours-4)/24))
	switch class {
	case 1:
		if hours > 2 {
			loss -= float64(f.treated * (num.Log(hours/2) / num.Log(12)))
		}
	case 2:
		loss -= float64(f.treated * float64(0.42*num.Pow(hours/2, 0.4548)))
		loss += f.classTwoPut
	}
	return loss
}
