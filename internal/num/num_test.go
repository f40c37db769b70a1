package num

import (
	"math"
	"math/big"
	"testing"
)

const prec = 200

func big64(x float64) *big.Float { return new(big.Float).SetPrec(prec).SetFloat64(x) }

// bigExp sums the Taylor series after halving the argument often enough.
func bigExp(x float64) *big.Float {
	halved := new(big.Float).SetPrec(prec+40).SetMantExp(big64(x), -20)
	sum, term := big64(1).SetPrec(prec+40), big64(1).SetPrec(prec+40)
	for k := 1; k < 40; k++ {
		term.Mul(term, halved)
		term.Quo(term, big64(float64(k)))
		sum.Add(sum, term)
	}
	for range 20 {
		sum.Mul(sum, sum)
	}
	return sum
}

// bigLog improves the library's estimate by one step of Newton's method of third order.
func bigLog(x float64) *big.Float {
	y := math.Log(x)
	e := bigExp(y)
	n := new(big.Float).SetPrec(prec).Sub(big64(x), e)
	d := new(big.Float).SetPrec(prec).Add(big64(x), e)
	step := n.Quo(n, d)
	step.Mul(step, big64(2))
	return step.Add(step, big64(y))
}

// ulps gives the distance from the true value in units of the last place.
func ulps(got float64, want *big.Float) float64 {
	near, _ := want.Float64()
	unit := math.Nextafter(math.Abs(near), math.Inf(1)) - math.Abs(near)
	diff, _ := new(big.Float).Sub(big64(got), want).Float64()
	return math.Abs(diff) / unit
}

func TestExpStaysWithinOneUnitInTheLastPlace(t *testing.T) {
	worst := 0.0
	for i := range 40000 {
		x := -60 + float64(i)*0.0030017
		worst = max(worst, ulps(Exp(x), bigExp(x)))
	}
	for _, x := range []float64{0, math.Copysign(0, -1), 1e-300, -1e-17, 0.5, -708, 709, 709.6, math.Ln2} {
		worst = max(worst, ulps(Exp(x), bigExp(x)))
	}
	if worst > 1 {
		t.Errorf("worst error of Exp = %v ulp, want at most 1", worst)
	}
	t.Logf("worst error of Exp: %.3f ulp", worst)
}

func TestLogStaysWithinOneUnitInTheLastPlace(t *testing.T) {
	worst := 0.0
	for i := range 30000 {
		for _, x := range []float64{0.4 + float64(i)*0.00006, 1 + (float64(i)-15000)*1e-7,
			1e-12 * float64(i+1), 1e3 * float64(i+1)} {
			if x == 1 {
				continue
			}
			worst = max(worst, ulps(Log(x), bigLog(x)))
		}
	}
	if worst > 1 {
		t.Errorf("worst error of Log = %v ulp, want at most 1", worst)
	}
	t.Logf("worst error of Log: %.3f ulp", worst)
}

func TestSpecialValues(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	for _, tt := range []struct {
		name string
		got  float64
		want float64
	}{
		{"Exp(1000)", Exp(1000), inf},
		{"Exp(-1000)", Exp(-1000), 0},
		{"Exp(-Inf)", Exp(-inf), 0},
		{"Exp(0)", Exp(0), 1},
		{"Log(0)", Log(0), -inf},
		{"Log(1)", Log(1), 0},
		{"Log(Inf)", Log(inf), inf},
		{"Log(-1)", Log(-1), nan},
		{"Exp(NaN)", Exp(nan), nan},
		{"Pow(0, 0.6)", Pow(0, 0.6), 0},
		{"Normal(-9)", Normal(-9), 0},
		{"Normal(9)", Normal(9), 1},
		{"Normal(NaN)", Normal(nan), nan},
	} {
		if tt.got != tt.want && !(tt.got != tt.got && tt.want != tt.want) {
			t.Errorf("%s = %v, want %v", tt.name, tt.got, tt.want)
		}
	}
}

func TestNormalAgreesWithTheErrorFunction(t *testing.T) {
	worst := 0.0
	for i := -8000; i <= 8000; i++ {
		z := float64(i) / 997
		worst = max(worst, math.Abs(Normal(z)-0.5*math.Erfc(-z/math.Sqrt2)))
	}
	if worst > 1e-11 {
		t.Errorf("worst error of Normal = %v, want at most 1e-11", worst)
	}
	t.Logf("worst error of Normal: %v", worst)
}

// TestNormalNeverFalls walks over the seams of its table.
func TestNormalNeverFalls(t *testing.T) {
	for i := 1; i < 8*32; i++ {
		seam := (float64(i) - 0.5) / 32
		for _, z := range []float64{seam, -seam} {
			under, over := Normal(z-1e-9), Normal(z+1e-9)
			if over < under {
				t.Errorf("Normal falls from %v to %v at %v", under, over, z)
			}
		}
	}
}
