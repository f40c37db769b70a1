package num

import "math"

// Log gives the natural logarithm of x within one unit in the last place for positive normal x;
// 0 gives -Inf, +Inf stays, a negative number or NaN gives NaN. The method is the table-driven one
// of Tang 1990 (ACM Trans. Math. Softw. 16:378): x = 2^m (F + f), F = 1 + j/128,
// log x = m ln 2 + log F + log(1 + f/F), the last by its odd series in u = 2f / (2F + f).
func Log(x float64) float64 {
	shift := 0
	if !(x >= 0x1p-1022 && x <= math.MaxFloat64) {
		if !(x > 0) || math.IsInf(x, 1) {
			return logEdge(x)
		}
		x, shift = float64(x*0x1p54), -54
	}
	// The place in the table comes from the bits themselves: as a whole number it costs WebAssembly
	// half of a floating one.
	bits := math.Float64bits(x)
	fraction := bits & (1<<52 - 1)
	j := (fraction + 1<<44) >> 45
	m := float64(int(bits>>52) - 1023 + shift)
	y := math.Float64frombits(fraction | 1023<<52)
	base := 1 + float64(int(j))/128
	f := y - base
	down := y + base
	u := float64(2*f) / down
	uHigh, fHigh := high(u), high(f)
	rest := float64(2*(f-float64(uHigh*base))) - float64(uHigh*fHigh)
	uLow := (rest - float64(uHigh*(f-fHigh))) / down
	v := float64(u * u)
	q := 1.0/80 + float64(v*(1.0/448))
	q = 1.0/12 + float64(v*q)
	q = float64(float64(u*v) * q)
	entry := &logs[j]
	lead := float64(m*ln2Lead) + entry[0]
	trail := float64(m*ln2Trail) + entry[1]
	return lead + (uHigh + (uLow + (q + trail)))
}

// logEdge is Log where it has no finite value.
func logEdge(x float64) float64 {
	switch {
	case x == 0:
		return math.Inf(-1)
	case x > 0:
		return x
	}
	return math.NaN()
}

// Log10 gives the logarithm to base ten as Log(x) / ln 10.
func Log10(x float64) float64 { return Log(x) / Ln10 }

// Pow gives x to the power a for positive x, as Exp(a log x); 0 for x = 0 and positive a. Its
// relative error grows with the exponent of the result; for the engine's powers it is below 2e-15.
func Pow(x, a float64) float64 {
	if x == 0 {
		return 0
	}
	return Exp(float64(a * Log(x)))
}

// high gives the leading 24 bits of x.
func high(x float64) float64 {
	return math.Float64frombits(math.Float64bits(x) &^ (1<<29 - 1))
}
