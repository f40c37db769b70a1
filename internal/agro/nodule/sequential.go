package nodule

import "hilum/internal/num"

// The sequential rule: the published class limits against each other, 70 % against 50 %, with
// chances of error of 0.10 each (Wald 1947), by whole spots with the beta-binomial likelihood.
const (
	goodShare = 0.70
	poorShare = 0.50
	boundary  = 2.1972245773362196 // ln(0.9 / 0.1)
	minSpots  = 3
	minPlants = 15
	maxSpots  = 8
	maxPlants = 40
	perSpot   = 5
)

// Answers of the rule.
const (
	More      = "more"
	Undecided = "undecided"
)

// Evidence gives the log likelihood ratio of the spots for 70 against 50 % of plants.
func Evidence(spots []Count) float64 {
	sum := 0.0
	for _, s := range spots {
		sum += LogLikelihood(s, goodShare, Rho) - LogLikelihood(s, poorShare, Rho)
	}
	return sum
}

// LogLikelihood is the beta-binomial log likelihood of a spot without its binomial coefficient, for
// mean m and correlation rho (Binns et al. 2000).
func LogLikelihood(s Count, m, rho float64) float64 { return num.Log(likelihood(s, m, rho)) }

// likelihood is the same before the logarithm, as a product without gamma functions.
func likelihood(s Count, m, rho float64) float64 {
	t := rho / (1 - rho)
	product := 1.0
	for i := range s.Adequate {
		product = float64(product * (m + float64(float64(i)*t)))
	}
	for i := range s.Plants - s.Adequate {
		product = float64(product * (1 - m + float64(float64(i)*t)))
	}
	for i := range s.Plants {
		product /= 1 + float64(float64(i)*t)
	}
	return product
}

// Enough gives the rule's answer for the spots dug so far, and how many further spots of five could
// bring the next decision.
func Enough(spots []Count) (answer string, further int) {
	used := counted(spots)
	plants, _ := Totals(used)
	evidence := Evidence(used)
	full := len(used) >= minSpots && plants >= minPlants
	switch {
	case full && evidence >= boundary:
		return Adequate, 0
	case full && evidence <= -boundary:
		return Poor, 0
	case len(used) >= maxSpots || plants >= maxPlants:
		return Undecided, 0
	}
	good := Evidence([]Count{{perSpot, perSpot}})
	bad := Evidence([]Count{{perSpot, 0}})
	up, down := evidence, evidence
	for {
		further++
		up, down = up+good, down+bad
		n, spots := plants+further*perSpot, len(used)+further
		done := spots >= minSpots && n >= minPlants
		if done && (up >= boundary || down <= -boundary) || spots >= maxSpots || n >= maxPlants {
			return More, further
		}
	}
}

func counted(spots []Count) []Count {
	var used []Count
	for _, s := range spots {
		if s.Plants > 0 {
			used = append(used, s)
		}
	}
	return used
}
