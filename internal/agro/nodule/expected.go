package nodule

// Expected gives, before any digging, the chance that k of the plants of one spot are found
// adequate, for k from 0 to plants, in fields with the given shares of adequate plants:
// chance[k][i] belongs to shares[i].
func (r Reading) Expected(plants int, shares []float64) [][]float64 {
	chance := make([][]float64, plants+1)
	ways := 1.0
	for k := range chance {
		chance[k] = make([]float64, len(shares))
		for i, p := range shares {
			spot := Count{Plants: plants, Adequate: k}
			chance[k][i] = float64(ways * likelihood(spot, r.observed(p), Rho))
		}
		ways = float64(ways*float64(plants-k)) / float64(k+1)
	}
	return chance
}
