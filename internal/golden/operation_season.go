package golden

import (
	"hilum/internal/agro"
	"hilum/internal/agro/crop"
	"hilum/internal/agro/nodule"
	"hilum/internal/agro/rescue"
	"hilum/internal/agro/risk"
	"hilum/internal/agro/stage"
	"hilum/internal/agro/stress"
)

// season are the operations on stages, rescue nitrogen, counted nodules and re-entry.
var season = map[string]operation{
	"heat":      with(heat),
	"cropHeat":  with(cropHeat),
	"nodeDays":  with(nodeDays),
	"nodeCount": with(nodeCount),
	"rescue":    with(rescued),
	"phi":       with(recovery),
	"uptake":    with(uptake),
	"airLoss":   with(airLoss),
	"breakEven": with(breakEven),
	"counted":   with(countedPlant),
	"keepOut":   with(keepOut),
	"joint":     with(joint),
}

type heatCase struct {
	Max  float64 `json:"max"` // of any one scale, with base
	Min  float64 `json:"min"`
	Base float64 `json:"base"`
	Days int     `json:"days"` // that are alike; 0 = one
}

func heat(in heatCase) map[string]any {
	days := make([]stage.Temp, max(1, in.Days))
	for i := range days {
		days[i] = stage.Temp{Max: in.Max, Min: in.Min}
	}
	sum := func(m string) float64 { return stage.Clock{Method: m, Base: in.Base}.Sum(days) }
	return map[string]any{"meanThenFloor": sum(stage.MeanThenFloor),
		"floorThenMean": sum(stage.FloorThenMean)}
}

type cropCase struct {
	Crop string `json:"crop"`
}

func cropHeat(in cropCase) map[string]any {
	r, _ := crop.Find(in.Crop)
	return map[string]any{"base": r.HeatBase, "emergence": r.HeatToEmerge.Mid,
		"flower": r.HeatToFlower.Mid, "flowerLow": r.HeatToFlower.Low,
		"flowerHigh": r.HeatToFlower.High}
}

type nodeDaysCase struct {
	Crop  string  `json:"crop"`
	Mean  float64 `json:"mean"`  // degrees C
	Count int     `json:"count"` // nodes, scale leaves counted
	True  bool    `json:"true"`  // they are not counted
}

func nodeDays(in nodeDaysCase) map[string]any {
	r, _ := crop.Find(in.Crop)
	nodes := stage.NodesToGo(in.Count, in.True)
	days := func(rate float64) float64 { return stage.DaysFor(nodes, rate, in.Mean, r.BaseTemp) }
	run := make([]stage.Temp, 200)
	for i := range run {
		run[i] = stage.Temp{Max: in.Mean + 5, Min: in.Mean - 5}
	}
	clock := stage.Clock{Method: stage.MeanThenFloor, Base: r.BaseTemp}
	reached, _ := clock.Reach(run, nodes/r.NodeRate.Mid)
	return map[string]any{"fast": days(r.NodeRate.High), "slow": days(r.NodeRate.Low),
		"middle": days(r.NodeRate.Mid), "reached": reached}
}

type countCase struct {
	WithScale int `json:"withScale"`
}

func nodeCount(in countCase) map[string]any {
	c := stage.Counts(in.WithScale)
	return map[string]any{"trueNodes": float64(c.TrueNodes), "bbch": float64(c.BBCH)}
}

type rescueCase struct {
	Crop     string  `json:"crop"`
	Yield    float64 `json:"yield"` // bu/ac
	N        float64 `json:"n"`     // lb/ac; 0 = the rate wanted
	Cap      float64 `json:"cap"`   // lb/ac, of the rate wanted; 0 = none
	Price    float64 `json:"price"` // $/bu
	Cost     float64 `json:"cost"`  // $/ac
	Adequate float64 `json:"adequate"`
	Supply   float64 `json:"supply"`
	Week     float64 `json:"week"`
	Stage    string  `json:"stage"`
	Open     bool    `json:"open"` // no rain, no inhibitor
}

func rescued(in rescueCase) map[string]any {
	r, _ := crop.Find(in.Crop)
	phi, published := rescue.AtWeek(in.Week)
	if in.Stage != "" {
		phi, published = rescue.AtStage(in.Stage)
	}
	p := rescue.Pass{Yield: in.Yield, N: in.N, SeedN: r.SeedN, Phi: phi,
		Efficiency: rescue.Efficiency(rescue.Lost(0, !in.Open))}
	loss := risk.Loss(in.Adequate, in.Supply)
	if in.N == 0 && in.Cap > 0 {
		p.N = p.Wanted(loss, in.Cap)
	} else if in.N == 0 {
		p.N = p.Wanted(loss, -1)
	}
	gain, limit := p.Gain(loss)
	return map[string]any{"loss": loss, "lost": in.Yield * loss,
		"stage": in.Yield * loss * phi, "nitrogen": p.Most(), "gain": gain, "limit": limit,
		"rate": p.N, "net": rescue.Net(gain, in.Price, in.Cost), "published": published,
		"breakEven": in.Cost / gain}
}

type phiCase struct {
	Week  float64 `json:"week"`
	Stage string  `json:"stage"`
}

func recovery(in phiCase) map[string]any {
	phi, published := rescue.AtWeek(in.Week)
	if in.Stage != "" {
		phi, published = rescue.AtStage(in.Stage)
	}
	return map[string]any{"phi": phi, "published": published}
}

type uptakeCase struct {
	Crop  string  `json:"crop"`
	Yield float64 `json:"yield"` // bu/ac
	Soil  float64 `json:"soil"`  // lb/ac
}

func uptake(in uptakeCase) map[string]any {
	r, _ := crop.Find(in.Crop)
	return map[string]any{"rate": rescue.UptakeRate(r.Rescue.PerBushel, in.Yield, in.Soil),
		"most": float64(r.Rescue.Most), "trialLow": r.Rescue.Trial.Low,
		"trialHigh": r.Rescue.Trial.High}
}

type airCase struct {
	Rain      float64 `json:"rain"` // in, in one event
	Inhibitor bool    `json:"inhibitor"`
}

func airLoss(in airCase) map[string]any {
	lost := rescue.Lost(in.Rain, in.Inhibitor)
	return map[string]any{"lost": lost, "efficiency": rescue.Efficiency(lost)}
}

type breakEvenCase struct {
	Cost  float64 `json:"cost"`  // $/ac
	Price float64 `json:"price"` // $/bu
}

func breakEven(in breakEvenCase) map[string]any {
	gain := in.Cost / in.Price
	return map[string]any{"gain": gain, "net": rescue.Net(gain, in.Price, in.Cost)}
}

type countedCase struct {
	Plant agro.Plant `json:"plant"`
	When  string     `json:"when"`
	Days  int        `json:"days"`
	Rule  string     `json:"rule"`
}

func countedPlant(in countedCase) map[string]any {
	return map[string]any{
		"result": nodule.JudgeCount(nodule.Plant(in.Plant), in.When, in.Days, in.Rule)}
}

type keepOutCase struct {
	Passes []struct {
		Done  int     `json:"done"` // minute
		Hours float64 `json:"hours"`
		Read  bool    `json:"read"`
	} `json:"passes"`
}

func keepOut(in keepOutCase) map[string]any {
	var passes []stress.Spray
	for _, p := range in.Passes {
		passes = append(passes, stress.Spray(p))
	}
	until, ok, unread := stress.KeepOut(passes)
	return map[string]any{"until": float64(until), "known": ok, "unread": float64(len(unread))}
}

type jointCase struct {
	Prior outcomeCase `json:"prior"`
	Digs  []struct {
		Spots    [][2]int `json:"spots"`
		External float64  `json:"external"`
		Days     int      `json:"days"`
		When     string   `json:"when"`
	} `json:"digs"`
}

// joint is the belief after several digs of one season.
func joint(in jointCase) map[string]any {
	o := in.Prior.outcome()
	logs := make([]float64, len(o.P))
	var said []float64
	for _, d := range in.Digs {
		r := nodule.NewReading(d.When, d.External, d.Days, false)
		for i, l := range r.Logs(o.P, counts(d.Spots)) {
			logs[i] += l
		}
		said = append(said, nodule.Effective(counts(d.Spots), nodule.Rho)*r.Timing)
	}
	temper := nodule.Temper(said)
	out := shown(o.Weighted(nodule.After(o.Weight, logs, temper)))
	out["temper"] = temper
	return out
}
