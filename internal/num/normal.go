package num

import "math"

// Normal gives the standard normal distribution function with an absolute error of at most
// 7.5e-8 (Abramowitz and Stegun 1964, formula 26.2.17), far below the half percentage point that
// the engine's chances are held to.
func Normal(z float64) float64 {
	const far = 8 // beyond 8 standard deviations the tail is below 1e-15
	if z >= far {
		return 1
	}
	if z <= -far {
		return 0
	}
	a := math.Abs(z)
	t := 1 / (1 + float64(0.2316419*a))
	p := -1.821255978 + float64(t*1.330274429)
	p = 1.781477937 + float64(t*p)
	p = -0.356563782 + float64(t*p)
	p = 0.319381530 + float64(t*p)
	tail := float64(float64(Density(a)*t) * p)
	if z > 0 {
		return 1 - tail
	}
	return tail
}

// Density gives the standard normal density.
func Density(z float64) float64 {
	const rootTwoPi = 2.506628274631000502
	return Exp(-float64(float64(z*z)*0.5)) / rootTwoPi
}

// Tenth gives x rounded to one decimal, halves away from zero. Classes are compared on such values,
// so that a number shown as 18.0 is treated as 18.
func Tenth(x float64) float64 {
	return math.Copysign(math.Floor(float64(math.Abs(x)*10)+0.5), x) / 10
}
