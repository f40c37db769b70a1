package calibration

import (
	"math"

	"hilum/internal/num"
)

// Spot is the counted plants of one spot of a dig and how many of them were adequate.
type Spot struct{ Plants, Adequate int }

// Alike is the correlation of plants of one spot as an account's own digs show it. It needs three
// digs that say something; Known is false with fewer.
type Alike struct {
	Digs      int // that have two spots of two plants and are not all of one kind
	Rho       float64
	Low, High float64 // 95 %, by leaving out one dig at a time
	Known     bool
}

// leastDigs is how many digs a range can be told from (ours).
const leastDigs = 3

// Correlation estimates rho by moments: between and within spots, summed over the digs, so that
// differences between fields count as neither (analysis of variance estimator; Ridout, Demetrio and
// Firth 1999, from memory). The range is the jackknife's over digs with Student's t.
func Correlation(digs [][]Spot) Alike {
	var all []parts
	for _, d := range digs {
		if p, ok := partsOf(d); ok {
			all = append(all, p)
		}
	}
	a := Alike{Digs: len(all)}
	if a.Digs < leastDigs {
		return a
	}
	a.Known = true
	n := float64(a.Digs)
	whole := sumWithout(all, -1).rho()
	pseudo := make([]float64, a.Digs)
	mean := 0.0
	for i := range all {
		pseudo[i] = float64(n*whole) - float64((n-1)*sumWithout(all, i).rho())
		mean += pseudo[i] / n
	}
	squares := 0.0
	for _, v := range pseudo {
		squares += float64((v - mean) * (v - mean))
	}
	half := float64(num.StudentQuantile(0.975, a.Digs-1) * math.Sqrt(squares/(n-1)/n))
	a.Rho = unit01(whole)
	a.Low, a.High = math.Min(a.Rho, unit01(whole-half)), math.Max(a.Rho, unit01(whole+half))
	return a
}

func unit01(x float64) float64 { return math.Max(0, math.Min(1, x)) }

// parts are the sums of an analysis of variance of one dig.
type parts struct {
	between, within   float64 // sums of squares
	spots, plants     float64 // degrees of freedom
	size, sizeWeights float64 // for the mean number of plants of a spot
}

func partsOf(spots []Spot) (p parts, ok bool) {
	plants, adequate, squares, used := 0.0, 0.0, 0.0, 0.0
	for _, s := range spots {
		n := float64(s.Plants)
		plants += n
		adequate += float64(s.Adequate)
		squares += float64(n * n)
		if s.Plants > 0 {
			used++
		}
	}
	if used < 2 || plants <= used || adequate == 0 || adequate == plants {
		return parts{}, false
	}
	share := adequate / plants
	for _, s := range spots {
		if s.Plants == 0 {
			continue
		}
		n := float64(s.Plants)
		own := float64(s.Adequate) / n
		p.between += float64(n * float64((own-share)*(own-share)))
		p.within += float64(n * float64(own*(1-own)))
	}
	p.spots, p.plants = used-1, plants-used
	p.size, p.sizeWeights = plants-squares/plants, used-1
	return p, true
}

// sumWithout adds the digs up, but for one of them.
func sumWithout(all []parts, out int) parts {
	var sum parts
	for i, p := range all {
		if i == out {
			continue
		}
		sum.between += p.between
		sum.within += p.within
		sum.spots += p.spots
		sum.plants += p.plants
		sum.size += p.size
		sum.sizeWeights += p.sizeWeights
	}
	return sum
}

// rho is the intraclass correlation; below 0 where spots differ less than plants do.
func (p parts) rho() float64 {
	size := p.size / p.sizeWeights
	between, within := p.between/p.spots, p.within/p.plants
	whole := between + float64((size-1)*within)
	if whole == 0 {
		return 0
	}
	return (between - within) / whole
}
