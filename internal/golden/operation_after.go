package golden

import (
	"strconv"

	"hilum/internal/agro/balance"
	"hilum/internal/agro/calibration"
	"hilum/internal/agro/crop"
	"hilum/internal/agro/nodule"
	"hilum/internal/agro/rescue"
	"hilum/internal/agro/risk"
	"hilum/internal/agro/rotation"
	"hilum/internal/agro/strip"
	"hilum/internal/agro/value"
	"hilum/internal/num"
	"hilum/internal/unit"
)

// after are the operations on what follows harvest and on what knowing is worth.
var after = map[string]operation{
	"balance":   with(balanced),
	"credit":    with(credited),
	"rootRot":   with(rootRot),
	"breaks":    with(breaks),
	"strips":    with(strips),
	"pooled":    with(pooled),
	"least":     with(least),
	"student":   with(student),
	"forecasts": with(forecasts),
	"alike":     with(alike),
	"digValue":  with(digValue),
	"testValue": with(testValue),
	"return":    with(returned),
}

type balanceCase struct {
	Crop    string  `json:"crop"`
	Yield   float64 `json:"yield"`   // bu/ac
	Protein float64 `json:"protein"` // percent; 0 = the crop's removal
	Ndfa    float64 `json:"ndfa"`
	Root    string  `json:"root"`
	Starter float64 `json:"starter"` // lb/ac
	// Adequate: share of plants that digs found adequate; 0 = no dig
	Adequate float64 `json:"adequate"`
	Uptake   float64 `json:"uptake"`  // lb/bu in the crop's place
	Removal  float64 `json:"removal"` // lb/bu in the crop's place
}

func balanced(in balanceCase) map[string]any {
	r, _ := crop.Find(in.Crop)
	c := balance.Crop{Yield: unit.BushelPerAcre(in.Yield), Uptake: r.Uptake.Mid,
		Removal: r.Removal.Mid}
	if in.Uptake > 0 {
		c.Uptake, c.Removal = in.Uptake, in.Removal
	}
	if in.Protein > 0 {
		c.Removal = balance.SeedN(in.Protein)
	}
	ndfa := in.Ndfa
	if in.Adequate > 0 {
		ndfa = balance.Scaled(crop.Span{Mid: ndfa}, in.Adequate).Mid
	}
	root := balance.RootFactor(in.Root)
	net := float64(c.Net(ndfa, root))
	return map[string]any{"uptake": float64(c.Uptaken()), "removed": float64(c.Removed()),
		"perBushel": c.Removal, "ndfa": ndfa, "fixed": float64(c.Fixed(ndfa, root)), "net": net,
		"withStarter": net + in.Starter, "breakEven": c.BreakEven(), "impossible": c.Impossible()}
}

type creditCase struct {
	Crop  string  `json:"crop"`
	Rule  string  `json:"rule"`
	Zone  string  `json:"zone"`
	Yield float64 `json:"yield"` // bu/ac
}

func credited(in creditCase) map[string]any {
	r, _ := crop.Find(in.Crop)
	n, row, why := balance.Credit(r, in.Rule, in.Zone, unit.BushelPerAcre(in.Yield))
	return map[string]any{"credit": n.Mid, "low": n.Low, "high": n.High, "kind": row.Kind,
		"kgHa": float64(unit.LbPerAcre(n.Mid).KgPerHa()), "why": why}
}

type rotationCase struct {
	Crop      string              `json:"crop"`
	Plan      int                 `json:"plan"`
	Years     map[string][]string `json:"years"` // by crop year
	From      int                 `json:"from"`  // years without an entry from here on grew wheat
	Confirmed bool                `json:"confirmed"`
	Tested    bool                `json:"tested"`
	WetHost   bool                `json:"wetHost"`
	Clay      bool                `json:"clay"`
}

func (c rotationCase) years() []rotation.Year {
	var out []rotation.Year
	for y := 1990; y < c.Plan; y++ {
		plants, ok := c.Years[strconv.Itoa(y)]
		if !ok && c.From > 0 && y >= c.From {
			plants = []string{"wheat"}
		}
		out = append(out, rotation.Year{CropYear: y, Plants: plants})
	}
	return out
}

func rootRot(in rotationCase) map[string]any {
	r, _ := crop.Find(in.Crop)
	f := rotation.RootRot(rotation.Field{Crop: r, Plan: in.Plan, Years: in.years(),
		Confirmed: in.Confirmed, Tested: in.Tested, WetHost: in.WetHost, Clay: in.Clay})
	return map[string]any{"grade": f.Grade, "host": float64(f.Host), "free": float64(f.Free),
		"gap": float64(f.Gap), "partial": f.Partial}
}

func breaks(in rotationCase) map[string]any {
	r, _ := crop.Find(in.Crop)
	out := map[string]any{"same": false, "other": false, "clearOf": r.ClearOf}
	for _, s := range rotation.Breaks(r, in.Plan, in.years()) {
		if s.Same {
			out["same"], out["sameYears"] = true, float64(s.Years)
		} else {
			out["other"], out["otherYears"] = true, float64(s.Years)
		}
	}
	return out
}

type stripCase struct {
	With    []float64 `json:"with"`
	Without []float64 `json:"without"`
}

func strips(in stripCase) map[string]any {
	var pairs []strip.Pair
	for i, w := range in.With {
		pairs = append(pairs, strip.Pair{With: w, Without: in.Without[i]})
	}
	r := strip.Analyse(pairs)
	flipped, _ := strip.Flipped(pairs)
	return map[string]any{"mean": r.Mean, "deviation": r.Deviation, "error": r.Error, "t": r.T,
		"df": float64(r.Freedom), "p": r.P, "low": r.Low, "high": r.High, "flipped": flipped,
		"spread": r.Spread}
}

type pooledCase struct {
	Strips   int        `json:"strips"` // of each treatment
	Mean     [2]float64 `json:"mean"`
	Variance [2]float64 `json:"variance"`
}

func pooled(in pooledCase) map[string]any {
	t, freedom := strip.Pooled(in.Strips, in.Mean, in.Variance)
	return map[string]any{"t": t, "df": float64(freedom), "p": strip.TwoSided(t, freedom)}
}

type leastCase struct {
	Square float64 `json:"square"` // residual mean square
	Strips int     `json:"strips"`
	DF     int     `json:"df"`
}

func least(in leastCase) map[string]any {
	return map[string]any{"lsd": strip.Least(in.Square, in.Strips, in.DF)}
}

type studentCase struct {
	P  float64 `json:"p"`
	DF int     `json:"df"`
}

func student(in studentCase) map[string]any {
	return map[string]any{"t": num.StudentQuantile(in.P, in.DF)}
}

type forecastCase struct {
	Chance []float64 `json:"chance"`
	Failed []bool    `json:"failed"`
}

func forecasts(in forecastCase) map[string]any {
	var pairs []calibration.Pair
	for i, c := range in.Chance {
		pairs = append(pairs, calibration.Pair{Chance: c, Failed: in.Failed[i]})
	}
	r, err := calibration.Of(pairs)
	if err != nil {
		return map[string]any{"error": err.Error()}
	}
	out := map[string]any{"brier": r.Brier, "base": r.Base, "rows": float64(len(r.Rows))}
	for i, row := range r.Rows {
		out["mean"+strconv.Itoa(i)], out["failed"+strconv.Itoa(i)] = row.Mean, row.Failed
	}
	return out
}

type alikeCase struct {
	Digs [][][2]int `json:"digs"` // of spots: plants counted, of them adequate
}

func alike(in alikeCase) map[string]any {
	var digs [][]calibration.Spot
	for _, d := range in.Digs {
		var spots []calibration.Spot
		for _, s := range d {
			spots = append(spots, calibration.Spot{Plants: s[0], Adequate: s[1]})
		}
		digs = append(digs, spots)
	}
	a := calibration.Correlation(digs)
	return map[string]any{"rho": a.Rho, "low": a.Low, "high": a.High, "known": a.Known,
		"digs": float64(a.Digs)}
}

type digValueCase struct {
	Prior  outcomeCase `json:"prior"`
	Supply float64     `json:"supply"`
	CV     float64     `json:"cv"`
	Yield  float64     `json:"yield"` // bu/ac
	Price  float64     `json:"price"` // $/bu
	N      float64     `json:"n"`     // lb/ac
	SeedN  float64     `json:"seedN"` // lb/bu
	Cost   float64     `json:"cost"`  // of nitrogen and pass, $/ac
	Week   float64     `json:"week"`  // after seeding, of the pass
	// External N and days since emergence, at the dig
	External float64 `json:"external"`
	Days     int     `json:"days"`
	Spots    int     `json:"spots"`
	Plants   int     `json:"plants"` // of a spot
}

func digValue(in digValueCase) map[string]any {
	o := in.Prior.outcome()
	phi, _ := rescue.AtWeek(in.Week)
	pass := rescue.Pass{Yield: in.Yield, N: in.N, SeedN: in.SeedN, Phi: phi,
		Efficiency: rescue.Efficiency(rescue.Lost(0, true))}
	shares := risk.NewShares(in.Supply, in.CV)
	net, expected := make([]float64, len(o.P)), 0.0
	for i, p := range o.P {
		net[i] = shares.Expect(func(s float64) float64 {
			gain, _ := pass.Gain(risk.Loss(p, s))
			return value.Net(gain, in.Price, in.Cost)
		})
		expected += float64(o.Weight[i] * net[i])
	}
	r := nodule.NewReading(nodule.Decision, in.External, in.Days, false)
	worth, act := value.Sample(o.Weight, net, r.Expected(in.Plants, o.P), in.Spots)
	return map[string]any{"expected": expected, "perfect": value.Perfect(o.Weight, net),
		"dig": worth, "field": float64(worth * 160), "treat": act}
}

type testValueCase struct {
	Yield float64 `json:"yield"` // bu/ac
	Price float64 `json:"price"` // $/bu
	Cost  float64 `json:"cost"`  // of the starter, $/ac
	Right float64 `json:"right"` // chance that the test names the class rightly
}

func testValue(in testValueCase) map[string]any {
	pea, _ := crop.Find("pea")
	b := value.Starter(pea.Trial, in.Yield, in.Price, in.Cost)
	worth, perfect := b.Test(in.Right)
	return map[string]any{"paid": b.Paid, "lost": b.Lost, "test": worth, "perfect": perfect,
		"field": float64(worth * 160)}
}

type returnCase struct {
	Gain  float64 `json:"gain"` // bu/ac
	Price float64 `json:"price"`
	Cost  float64 `json:"cost"`
}

func returned(in returnCase) map[string]any {
	return map[string]any{"gross": value.Net(in.Gain, in.Price, 0),
		"net": value.Net(in.Gain, in.Price, in.Cost), "breakEvenYield": in.Cost / in.Price,
		"breakEvenPrice": in.Cost / in.Gain}
}
