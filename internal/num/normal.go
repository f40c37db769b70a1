package num

import "math"

// The tail of the normal distribution is tabled every 32nd of a standard deviation up to far, beyond
// which it is below 1e-15.
const (
	far        = 8
	normalStep = 1.0 / 32
)

// normals holds at each place the coefficients of Taylor's series of the upper tail, up to the fourth
// power: Q, -d, z d / 2, (1 - z^2) d / 6, (z^3 - 3z) d / 24, where d is the density.
var normals = func() (table [far/normalStep + 1][5]float64) {
	// Below far the tail is summed up from the smallest part; beyond it is far's own series.
	const beyond = (1.0 - 1.0/64 + 3.0/4096 - 15.0/262144) / far
	tail := float64(Density(far) * beyond)
	for i := len(table) - 1; i >= 0; i-- {
		z := float64(float64(i) * normalStep)
		zz, d := float64(z*z), Density(z)
		table[i] = [5]float64{tail, -d, float64(z*d) / 2, float64((1-zz)*d) / 6,
			float64(float64(z*(zz-3))*d) / 24}
		tail += densityOver(z - normalStep/2)
	}
	return table
}()

// densityOver gives the integral of the density over one step around m, by its series at m.
func densityOver(m float64) float64 {
	const hh = normalStep * normalStep
	mm := float64(m * m)
	more := float64((mm-1)*hh)/24 + float64((float64(mm*(mm-6))+3)*(hh*hh))/1920
	return float64(float64(Density(m)*normalStep) * (1 + more))
}

// Normal gives the standard normal distribution function with an absolute error of at most 1e-11:
// Taylor's series of degree 4 around the nearest place of a table. NaN stays NaN.
func Normal(z float64) float64 {
	a := math.Abs(z)
	if !(a < far) {
		return normalEdge(z)
	}
	i := int(a/normalStep + 0.5)
	h := a - float64(float64(i)*normalStep)
	c := &normals[i]
	q := c[3] + float64(h*c[4])
	q = c[2] + float64(h*q)
	q = c[1] + float64(h*q)
	q = c[0] + float64(h*q)
	if z > 0 {
		return 1 - q
	}
	return q
}

// normalEdge is Normal beyond the table.
func normalEdge(z float64) float64 {
	switch {
	case z >= far:
		return 1
	case z <= -far:
		return 0
	}
	return z
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
