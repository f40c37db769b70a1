package risk

import (
	"math"

	"hilum/internal/num"
)

// nearEdge is how many steps under the edge are integrated with care, and farEdge from how many
// steps on the inoculant is too small to matter: a thousandth of the cells.
const (
	nearEdge = 4
	farEdge  = 48
)

// edge is what an edge of the outcome's steps means for the live dose, the same for every field.
type edge struct {
	log         float64 // log10 cells/g
	first, most int     // steps of the live dose that are worked out
	// left is log10 of what a step of the live dose leaves to the soil, from first on.
	left [farEdge]float64
	// close is the same at three points of each of the last steps, which the edge may cut.
	close [nearEdge + 1][3]float64
	cut   float64 // share of the last step that lies under the edge
}

// points are the places and weights of Gauss's rule of three points.
var points = func() [3][2]float64 {
	const offset = 0.7745966692414834 // root of 3/5
	return [3][2]float64{{0.5 - offset/2, 5.0 / 18}, {0.5, 8.0 / 18}, {0.5 + offset/2, 5.0 / 18}}
}()

var edgeTable = func() (table [edges]edge) {
	for k := range table {
		table[k] = newEdge(edgeAt(k))
	}
	return table
}()

func newEdge(log float64) edge {
	e := edge{log: log}
	total := num.Exp10(log)
	limit := (log-num.Log10(FullDose)-liveLeast)/liveStep + 0.5 // in steps from the lowest edge
	e.most = min(liveSteps, int(math.Ceil(limit)))
	e.first = max(0, e.most-farEdge)
	e.cut = math.Min(1, limit-float64(e.most-1))
	for i := e.first; i < e.most; i++ {
		if i < e.most-len(e.close) {
			e.left[i-e.first] = num.Log10(total - liveCells[i])
			continue
		}
		part := 1.0
		if i == e.most-1 {
			part = e.cut
		}
		for j, p := range points {
			at := liveAt(i) - liveStep/2 + float64(float64(liveStep*part)*p[0])
			rest := math.Max(1e-300, total-float64(FullDose*num.Exp10(at)))
			e.close[i-e.most+len(e.close)][j] = num.Log10(rest)
		}
	}
	return e
}

// chanceBelow gives the chance that soil and inoculant together hold less than the cells of edge k:
// for each step of the live dose, the chance that the soil holds less than what is then left.
func chanceBelow(k int, soil, sd float64, live Live) float64 {
	e := &edgeTable[k]
	if live.weight == nil {
		return num.Normal((e.log - soil) / sd)
	}
	sum, small := 0.0, 0.0
	for _, w := range live.weight[:e.first] {
		small += w
	}
	careful := max(e.first, e.most-len(e.close))
	for i, w := range live.weight[e.first:careful] {
		if w > dust {
			sum += float64(w * num.Normal((e.left[i]-soil)/sd))
		}
	}
	for i, w := range live.weight[careful:e.most] {
		part := 0.0
		for j, p := range points {
			part += float64(p[1] * num.Normal((e.close[i+len(e.close)-e.most+careful][j]-soil)/sd))
		}
		if careful+i == e.most-1 {
			part = float64(part * e.cut)
		}
		sum += float64(w * part)
	}
	return sum + float64(small*num.Normal((e.log-soil)/sd))
}
