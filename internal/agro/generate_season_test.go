package agro

import (
	"hilum/internal/date"
	"pgregory.net/rapid"
)

// addSeason draws what a season may add to an input: weather, passes, a rescue pass, counts.
func addSeason(t *rapid.T, in *Input) {
	in.Rules.SoybeanCount = word(t, "count rule", "", "tenAnySize", "sevenPink2mm")
	in.Rules.DegreeDays = word(t, "heat", "", "meanThenFloor", "floorThenMean")
	in.Rules.RescueRate = word(t, "rate rule", "", "limited", "uptakeLessSoil")
	in.NodeCount = word(t, "nodes", "", "withScale", "trueNodes")
	if rapid.Bool().Draw(t, "priced") {
		price, n := amount(t, "price", 0, 30, "$/bu"), amount(t, "N price", 0, 2, "$/lb N")
		pass := amount(t, "pass", 0, 40, "$/ac")
		in.Plan.Price, in.Plan.NitrogenPrice, in.Prices.Pass = &price, &n, &pass
	}
	if rapid.Bool().Draw(t, "weather") {
		in.Weather = someDays(t, in.CropYear, rapid.IntRange(1, 90).Draw(t, "days"))
	}
	for back := rapid.IntRange(0, 2).Draw(t, "years"); back > 0; back-- {
		in.Climate = append(in.Climate, someDays(t, in.CropYear-back, 120)...)
	}
	for range rapid.IntRange(0, 2).Draw(t, "passes") {
		p := Pass{Product: "spray", Date: word(t, "sprayed", "2027-06-01", "2027-06-18"),
			Time: word(t, "at", "", "07:30", "23:59")}
		if rapid.Bool().Draw(t, "read") {
			hours := rapid.Float64Range(0, 2000).Draw(t, "hours")
			p.ReEntryHours = &hours
		}
		in.Passes = append(in.Passes, p)
	}
	if rapid.Bool().Draw(t, "rescue") {
		in.Rescue = anyRescue(t)
	}
	if rapid.Bool().Draw(t, "counted") {
		countNodules(t, in.Digs)
	}
}

// someDays gives days from 1 May on, warmer or cooler by year.
func someDays(t *rapid.T, year, n int) []DayTemp {
	mean := rapid.Float64Range(-5, 25).Draw(t, "mean")
	var days []DayTemp
	for d := range n {
		swing := float64(d%7) - 3
		days = append(days, DayTemp{(date.Of(year, 5, 1) + date.Day(d)).String(),
			Quantity{mean + swing + 7, "C"}, Quantity{mean + swing - 7, "C"}})
	}
	return days
}

func anyRescue(t *rapid.T) *Rescue {
	r := &Rescue{On: word(t, "on", "", "2027-06-10", "2027-06-25", "2027-07-20"),
		Inhibitor: rapid.Bool().Draw(t, "inhibitor"), Product: word(t, "with", "", "urea", "uan"),
		Stage: word(t, "stage", "", "V3", "R1", "R2", "R3", "R4", "R5")}
	if rapid.Bool().Draw(t, "rate given") {
		rate := amount(t, "rescue N", 0, 300, "lb/ac")
		r.Rate = &rate
	}
	if rapid.Bool().Draw(t, "rain given") {
		rain := amount(t, "rain", 0, 2, "in")
		r.Rain = &rain
	}
	return r
}

func countNodules(t *rapid.T, digs []Dig) {
	for _, d := range digs {
		for _, s := range d.Spots {
			for i, p := range s.Plants {
				if p.Nodules != "none" {
					n := rapid.IntRange(1, 30).Draw(t, "nodules")
					pink := rapid.IntRange(0, n).Draw(t, "pink")
					s.Plants[i].Count, s.Plants[i].Pink = &n, &pink
				}
			}
		}
	}
}
