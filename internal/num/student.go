package num

import "math"

// Student gives the chance that Student's t with df degrees of freedom (1 or more) is at most t,
// within 1e-12, by the finite sums for whole degrees of freedom (Abramowitz and Stegun 1964,
// formulas 26.7.3 and 26.7.4). NaN stays NaN.
func Student(t float64, df int) float64 {
	inside := float64(studentInside(math.Abs(t), df) / 2)
	if t < 0 {
		return 0.5 - inside
	}
	return 0.5 + inside
}

// studentInside gives A(t|df), the chance between -t and t. Its cosine and sine are taken straight
// from the ratio t over the root of df: only the odd sum needs the angle itself.
func studentInside(t float64, df int) float64 {
	n := float64(df)
	root := math.Sqrt(n + float64(t*t))
	sine, cosine := t/root, math.Sqrt(n)/root
	if math.IsInf(t, 1) {
		sine, cosine = 1, 0
	}
	square := float64(cosine * cosine)
	first, term := 2, 1.0
	if df%2 == 1 {
		first, term = 3, cosine
	}
	sum := 0.0
	for k := first; k <= df; k += 2 {
		sum += term
		term = float64(float64(term*square)*float64(k-1)) / float64(k)
	}
	if df%2 == 0 {
		return float64(sine * sum)
	}
	return float64((angle(sine, cosine) + float64(sine*sum)) * (2 / math.Pi))
}

// angle gives the angle between 0 and a right one that has this sine and cosine: its sixteenth by
// halving the tangent, and that by the series of the arc tangent, cut where it is below 1e-17.
func angle(sine, cosine float64) float64 {
	x := sine / (1 + cosine)
	for range 3 {
		x /= 1 + math.Sqrt(1+float64(x*x))
	}
	square, sum := float64(x*x), 0.0
	for k := 15; k >= 1; k -= 2 {
		sum = 1/float64(k) - float64(square*sum)
	}
	return float64(float64(x*sum) * 16)
}

// StudentQuantile gives the t below which the chance is p, within 1e-9 for p between 1e-6 and
// 1 - 1e-6, by halving; p of 0 and 1 give the infinities.
func StudentQuantile(p float64, df int) float64 {
	switch {
	case p <= 0:
		return math.Inf(-1)
	case p >= 1:
		return math.Inf(1)
	case p < 0.5:
		return -StudentQuantile(1-p, df)
	}
	low, high := 0.0, 1.0
	for Student(high, df) < p {
		low, high = high, float64(high*2)
	}
	for range 80 {
		middle := (low + high) / 2
		if Student(middle, df) < p {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}
