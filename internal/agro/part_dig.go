package agro

import (
	"hilum/internal/agro/code"
	"hilum/internal/agro/nodule"
	"hilum/internal/agro/risk"
	"hilum/internal/cite"
)

// digs reads the digs in turn; each leaves what it and all before it say together.
func (f *field) digs() []DigPart {
	parts := []DigPart{}
	if f.chosen.refused == nil {
		live := f.chosen.live
		all := [3]risk.Outcome{f.chosen.outcome, f.poor.Outcome(live), f.rich.Outcome(live)}
		f.belief = &belief{prior: all, now: all, logs: make([]float64, len(all[0].P))}
	}
	for _, d := range f.in.Digs {
		parts = append(parts, f.dig(d, f.belief))
	}
	return parts
}

// dug is one dig on its way through the engine.
type dug struct {
	Dig
	moment  nodule.Moment
	when    string
	plants  []nodule.Plant
	means   [4][]float64 // spot means of the total and of A, B and C
	counts  []nodule.Count
	results []PlantResult
	notYet  int
	notCut  int
	other   []nodule.Count // by the other rule of counting
	// counting: the crop is judged by nodules for each plant; uncounted: such plants nobody counted
	counting  bool
	uncounted int
	bare      int // plants without a nodule
	green     int // vigorous plants on nearly bare roots
}

func (f *field) dig(d Dig, b *belief) DigPart {
	u := f.readDig(d)
	counted, adequate := nodule.Totals(u.counts)
	part := DigPart{ID: d.ID, When: u.when, Plants: len(u.plants), Counted: counted,
		Adequate: adequate, NotYet: u.notYet, PlantResults: u.results, Messages: []Message{}}
	if u.moment.Emerged >= 0 {
		days := u.moment.Emerged
		part.DaysEmerged = &days
	}
	u.scores(&part)
	part.Stand = standing(d.Stand)
	part.Share = f.shareOf(u.counts)
	part.Other = f.otherRule(u)
	part.Patchy = nodule.Patchy(u.counts)
	part.Class = u.class(counted, adequate)
	part.Enough, part.MoreSpots = nodule.Enough(u.counts)
	if u.when == nodule.Early && part.Enough == nodule.Poor {
		part.Enough = nodule.Undecided // An early bare root is not a verdict.
	}
	f.believe(&part, u, b)
	part.Messages = append(part.Messages, f.digMessages(part, u)...)
	return part
}

// readDig judges every plant.
func (f *field) readDig(d Dig) dug {
	u := dug{Dig: d, moment: f.moment(d), counting: f.crop.CountsNodules}
	u.when = u.moment.Kind()
	for i, s := range d.Spots {
		var spot, other nodule.Count
		var sums [4]int
		for _, p := range s.Plants {
			plant := nodule.Plant(p).Clustered()
			r := PlantResult{Spot: i,
				A: plant.A(), B: nodule.Card.B(plant), C: nodule.Card.C(plant),
				Result: f.judge(plant, u, f.countRule())}
			u.count(plant, r, &spot)
			if f.crop.CountsNodules && u.when == nodule.Scored {
				other.Add(f.judge(plant, u, f.otherCount()))
			}
			for k, v := range [4]int{r.A + r.B + r.C, r.A, r.B, r.C} {
				sums[k] += v
			}
			u.plants = append(u.plants, plant)
			u.results = append(u.results, r)
		}
		for k, sum := range sums {
			u.means[k] = append(u.means[k], float64(sum)/float64(len(s.Plants)))
		}
		u.counts, u.other = append(u.counts, spot), append(u.other, other)
	}
	return u
}

func (u *dug) count(p nodule.Plant, r PlantResult, spot *nodule.Count) {
	spot.Add(r.Result)
	if r.Result == nodule.NotYet {
		u.notYet++
	}
	switch {
	case p.Nodules == "none":
		u.bare++
	case u.counting:
		if p.Count == nil {
			u.uncounted++
		}
	case p.Inside == "":
		u.notCut++
	}
	if r.A == 5 && r.B <= 1 {
		u.green++
	}
}

// emergesAfter is days from seeding to emergence where no date of emergence is given: pea and
// lentil 14 to 17 days in soil of 45 to 50 F (published, North Dakota).
const emergesAfter = 15

// perNode is days for each new node where neither date is given: pea makes two in as little as
// seven days (published, Saskatchewan Pulse Growers).
const perNode = 3.5

// moment works out when a dig was made.
func (f *field) moment(d Dig) nodule.Moment {
	m := nodule.Moment{Emerged: -1, Seeded: -1, Nodes: -1, Flower: f.crop.FlowerNode}
	m.Cool = d.AirTemp != nil && celsius(*d.AirTemp) < 10
	on, _ := day(d.Date)
	if d.Node != nil {
		m.Nodes = nodule.Nodes(d.Node.Count, d.Node.Convention == "trueNodes")
	}
	seeded, hasSeeded := day(f.in.Plan.Seeded)
	emerged, hasEmerged := day(f.in.Plan.Emerged)
	if hasSeeded {
		m.Seeded = on - seeded
	}
	switch {
	case hasEmerged:
		m.Emerged = on - emerged
	case hasSeeded:
		m.Emerged = max(0, m.Seeded-emergesAfter)
	case m.Nodes >= 0:
		m.Emerged = int(float64(float64(max(0, m.Nodes-2)) * perNode))
	}
	return m
}

// scores fills in the means of the card with their intervals on spot means.
func (u dug) scores(part *DigPart) {
	figure := func(means []float64, most float64) Figure {
		mean, low, high, ok := nodule.MeanInterval(means, 0, most)
		fig := known(mean, "points", cite.Memory, cite.ScorePoints, cite.Zaychuk)
		if ok {
			fig = fig.between(low, high)
		}
		return fig
	}
	part.Score = figure(u.means[0], 13)
	part.ScoreA, part.ScoreB = figure(u.means[1], 5), figure(u.means[2], 5)
	part.ScoreC = figure(u.means[3], 3)
	part.Score.Sources = append(part.Score.Sources, cite.PeaScore)
	part.Band = nodule.Band(*part.Score.Value)
	part.NearEdge = nodule.NearEdge(u.plants)
}

// shareOf is adequate of counted plants with a 95 % Wilson interval on effective plants.
func (f *field) shareOf(spots []nodule.Count) Figure {
	from := []string{cite.GRDCAdequate, cite.DigTable, cite.Wilson, cite.ClusterRho}
	if f.crop.CountsNodules {
		from = append(from, sourcesOfCount...)
	}
	counted, adequate := nodule.Totals(spots)
	if counted == 0 {
		return unknown("share", cite.Derived, tell(code.DigNoneCounted), from...)
	}
	p, n := float64(adequate)/float64(counted), nodule.Effective(spots, nodule.Rho)
	low, high := nodule.Wilson(p, n)
	return known(p, "share", cite.Derived, from...).between(low, high).
		step(code.StepCounted, float64(counted), "plants").
		step(code.StepEffective, n, "plants")
}

// class is the published class of the share, held back where it would condemn too early.
func (u dug) class(counted, adequate int) string {
	switch good := 10*adequate >= 7*counted; {
	case counted == 0, u.moment.Emerged >= 0 && u.moment.Emerged <= 14 && !good,
		u.when == nodule.Early && !good:
		return "tooEarly"
	case good:
		return "adequate"
	case 2*adequate >= counted:
		return "borderline"
	case u.bare == len(u.plants):
		return "none"
	}
	return "poor"
}
