package risk

import (
	"math"

	"hilum/internal/num"
)

// nearEdge is how many steps under the edge are integrated with care, and farEdge from how many
// steps on the inoculant is at most a 30th of the cells, so that a series of second order does.
const (
	nearEdge = 4
	farEdge  = 24
)

// edge is what an edge of the outcome's steps means for the live dose, the same for every field.
type edge struct {
	log, cells  float64 // log10 cells/g, and the cells
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
	total := num.Exp10(log)
	e := edge{log: log, cells: total}
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
	per := 1 / sd
	z := float64((e.log - soil) * per)
	bare := num.Normal(z)
	if live.weight == nil || bare == 0 {
		return bare
	}
	sum := 0.0
	if e.first > 0 {
		sum = live.small[e.first-1].below(e.cells, z, sd, bare)
	}
	careful := max(e.first, e.most-len(e.close))
	for i, w := range live.weight[e.first:careful] {
		if w > dust {
			sum += float64(w * num.Normal(float64((e.left[i]-soil)*per)))
		}
	}
	for i, w := range live.weight[careful:e.most] {
		part := 0.0
		for j, p := range points {
			part += float64(p[1] * num.Normal(float64((e.close[i+len(e.close)-e.most+careful][j]-soil)*per)))
		}
		if careful+i == e.most-1 {
			part = float64(part * e.cut)
		}
		sum += float64(w * part)
	}
	return sum
}

// small sums up the steps of a live dose up to one: their chance, and its product with the cells and
// with their square.
type small struct{ chance, cells, square float64 }

// below is chanceBelow for small doses: what they leave to the soil lies so little under the edge that
// Taylor's series of second order gives its chance. z is the edge, bare its chance without a dose.
func (s small) below(edge, z, sd, bare float64) float64 {
	share, square := s.cells/edge, s.square/float64(edge*edge)
	first := -(share + square/2) / float64(num.Ln10*sd)
	second := square / float64(float64(num.Ln10*sd)*float64(num.Ln10*sd))
	return float64(s.chance*bare) + float64(num.Density(z)*(first-float64(z*second)/2))
}
