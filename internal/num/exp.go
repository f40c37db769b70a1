// Package num holds the few numeric functions whose results must be the same bits on every
// machine that runs the engine. The standard library's Exp differs between processors.
package num

import "math"

// Ln10 is the natural logarithm of ten, rounded to nearest.
const Ln10 = 2.302585092994045684

// expMax and expMin bound the arguments whose exponential is a normal float64. Outside them Exp
// gives +Inf and 0.
const (
	expMax = 709.7
	expMin = -708.3
)

// Exp gives e to the power x within one unit in the last place for -708 <= x <= 709; above it is
// +Inf, below it is 0, and NaN stays NaN. The method is table-driven reduction to
// |r| <= ln 2 / 64 (Tang 1989, ACM Trans. Math. Softw. 15:144) with the Taylor polynomial of
// degree 7, whose truncation there is below 2^-64.
func Exp(x float64) float64 {
	switch {
	case x != x:
		return x
	case x > expMax:
		return math.Inf(1)
	case x < expMin:
		return 0
	}
	n := math.Floor(float64(x*invStep) + 0.5)
	lead := x - float64(n*stepLead)
	trail := -float64(n * stepTrail)
	r := lead + trail
	p := 1.0/720 + float64(r*(1.0/5040))
	p = 1.0/120 + float64(r*p)
	p = 1.0/24 + float64(r*p)
	p = 1.0/6 + float64(r*p)
	p = 0.5 + float64(r*p)
	p = lead + (trail + float64(float64(r*r)*p))
	k := int(n)
	j := k & 31
	s := &powers[j]
	sum := s[0] + s[1]
	return scale(s[0]+(s[1]+float64(sum*p)), (k-j)/32)
}

// scale gives x times 2^k for results in the normal range.
func scale(x float64, k int) float64 {
	if k == 1024 { // 2^1024 itself is out of range, the product is not.
		return float64(float64(x*0x1p1023) * 2)
	}
	return float64(x * math.Float64frombits(uint64(k+1023)<<52))
}

// Exp10 gives 10 to the power x as Exp(x ln 10); relative error at most 2e-15 for |x| <= 20.
func Exp10(x float64) float64 { return Exp(float64(x * Ln10)) }
