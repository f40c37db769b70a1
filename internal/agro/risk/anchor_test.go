package risk

import (
	"math"
	"testing"

	"hilum/internal/agro/crop"
	"hilum/internal/num"
)

// yield gives the share of full yield at the centre of the model.
func yield(soil float64, form string, pH float64, seedbed string, s float64) float64 {
	cells := num.Exp10(soil)
	if form != "" {
		p := Product{Form: form, Dose: 1}
		cells += FullDose * num.Exp10(Survival(p, pH, seedbed))
	}
	return 1 - Loss(Adequate(cells), s)
}

// TestPeaceRiverPea holds the model to Clayton et al. 2004: over 0, 20, 40 and 80 kg N/ha granular
// yielded 17, 50 and 56 % more than peat, liquid and none. Site pH (5.6 in water), seedbed
// (marginal) and the supply without fertilizer (0.16) are assumed, so the model is fitted here and
// predicts nothing; tolerance 0.05 of the ratio.
func TestPeaceRiverPea(t *testing.T) {
	pea, _ := crop.Find("pea")
	soil := Floor(pea, 5.6)
	mean := func(form string) float64 {
		sum := 0.0
		for _, kg := range []float64{0, 20, 40, 80} {
			s := 0.16 + 0.5*kg*0.892179/122
			sum += yield(soil, form, 5.6, "marginal", s) / 4
		}
		return sum
	}
	granular := mean(Granular)
	for form, want := range map[string]float64{Peat: 1 / 1.17, Liquid: 1 / 1.50, "": 1 / 1.56} {
		got := mean(form) / granular
		t.Logf("%q over granular: %.3f, published %.3f", form, got, want)
		if math.Abs(got-want) > 0.05 {
			t.Errorf("%q over granular = %.3f, want %.3f within 0.05", form, got, want)
		}
	}
}

// TestAlbertaPea holds the model to McKenzie et al. 2001: +19 % without and +5 % with a history of
// legumes, at one supply of 0.64; the authors' means are over sites that responded, hence the wide
// tolerance of 2 points.
func TestAlbertaPea(t *testing.T) {
	for _, tt := range []struct{ soil, want float64 }{{1, 19}, {2.25, 5}} {
		gain := yield(tt.soil, Peat, 6.8, "moist", 0.64) / yield(tt.soil, "", 6.8, "moist", 0.64)
		t.Logf("log10 %v cells/g: %+.1f %%, published +%v %%", tt.soil, 100*(gain-1), tt.want)
		if math.Abs(100*(gain-1)-tt.want) > 2 {
			t.Errorf("gain at log10 %v cells/g = %.1f %%, want %v within 2", tt.soil,
				100*(gain-1), tt.want)
		}
	}
}

// TestPriorChances holds the chances to the table worked for pH 7: never a host of viciae, and a
// host three winters ago.
func TestPriorChances(t *testing.T) {
	for _, tt := range []struct {
		name       string
		soil       float64
		forms      []string
		seedbed    string
		fail, good float64
	}{
		{"foreign, liquid, moist", -1, []string{Liquid}, "moist", .11, .78},
		{"foreign, liquid, dry", -1, []string{Liquid}, "dry", .52, .22},
		{"foreign, peat, moist", -1, []string{Peat}, "moist", .05, .92},
		{"foreign, peat, dry", -1, []string{Peat}, "dry", .11, .67},
		{"foreign, granular, moist", -1, []string{Granular}, "moist", .03, .97},
		{"foreign, both, moist", -1, []string{Granular, Peat}, "moist", .001, .998},
		{"native, none", 1, nil, "moist", .71, .08},
		{"native, liquid, moist", 1, []string{Liquid}, "moist", .07, .82},
		{"native, liquid, dry", 1, []string{Liquid}, "dry", .31, .32},
		{"native, peat, moist", 1, []string{Peat}, "moist", .03, .93},
		{"native, peat, dry", 1, []string{Peat}, "dry", .06, .74},
		{"native, granular, moist", 1, []string{Granular}, "moist", .02, .97},
		{"host three winters ago, none", 2.25, nil, "moist", .11, .64},
	} {
		var products []Product
		for _, form := range tt.forms {
			products = append(products, Product{Form: form, Dose: 1})
		}
		o := NewGround(tt.soil).Outcome(NewLive(products, 7, tt.seedbed))
		if math.Abs(o.Fail()-tt.fail) > 0.0101 || math.Abs(o.Good()-tt.good) > 0.0101 {
			t.Errorf("%s: fail %.3f, good %.3f, want %v and %v within 0.01", tt.name, o.Fail(),
				o.Good(), tt.fail, tt.good)
		}
	}
}
