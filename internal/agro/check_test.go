package agro

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hilum/internal/fault"
)

func example(t testing.TB, name string) Input {
	t.Helper()
	raw, err := os.ReadFile("../../testdata/evaluate/" + name + ".json")
	if err != nil {
		t.Fatal(err)
	}
	var in Input
	if err := json.Unmarshal(raw, &in); err != nil {
		t.Fatal(err)
	}
	return in
}

// badInputs spoil the example of old ground in one place each.
var badInputs = []struct {
	name  string
	spoil func(*Input)
	field string
	says  string
}{
	{"schema 0", func(in *Input) { in.Schema = 0 }, "schema", "accepted is 1 to 1"},
	{"unknown crop", func(in *Input) { in.Crop = "rice" }, "crop", "lentil, pea"},
	{"no crop", func(in *Input) { in.Crop = "" }, "crop", "is missing"},
	{"year 1989", func(in *Input) { in.CropYear = 1989 }, "cropYear", "1990 to 2100"},
	{"unknown zone", func(in *Input) { in.Ground.SoilZone = "red" }, "ground.soilZone",
		"darkBrown"},
	{"impossible date", func(in *Input) { in.SoilTest.Sampled = "2026-02-30" },
		"soilTest.sampled", "a date like"},
	{"test after the crop", func(in *Input) { in.SoilTest.Sampled = "2028-01-02" },
		"soilTest.sampled", "to 2027-12-31"},
	{"nitrate over range", func(in *Input) { in.SoilTest.Layers[1].Nitrate.Value = 1200 },
		"soilTest.layers.1.nitrate.value", "0 to 1000 ppm NO3-N"},
	{"negative nitrate", func(in *Input) { in.SoilTest.Layers[0].Nitrate.Value = -1 },
		"soilTest.layers.0.nitrate.value", "0 to 1000"},
	{"nitrate is NaN", func(in *Input) { in.SoilTest.Layers[0].Nitrate.Value = math.NaN() },
		"soilTest.layers.0.nitrate.value", "NaN"},
	{"nitrate is infinite", func(in *Input) {
		in.SoilTest.Layers[0].Nitrate.Value = math.Inf(1)
	},
		"soilTest.layers.0.nitrate.value", "Inf"},
	{"unit without the form", func(in *Input) { in.SoilTest.Layers[0].Nitrate.Unit = "ppm" },
		"soilTest.layers.0.nitrate.unit", "ppm NO3-N, ppm NO3"},
	{"ppm without a rule", func(in *Input) { in.SoilTest.PPMRule = "" }, "soilTest.ppmRule",
		"2per6in"},
	{"density missing", func(in *Input) { in.SoilTest.PPMRule = "bulkDensity" },
		"soilTest.bulkDensity", "0.8 to 1.9 g/cm3"},
	{"layers overlap", func(in *Input) { in.SoilTest.Layers[1].Top.Value = 5 },
		"soilTest.layers.1.top", "from 6 in"},
	{"layers out of order", func(in *Input) {
		l := in.SoilTest.Layers
		l[0], l[1] = l[1], l[0]
	}, "soilTest.layers.1.top", "top layer first"},
	{"layer upside down", func(in *Input) { in.SoilTest.Layers[0].Bottom.Value = 0 },
		"soilTest.layers.0.bottom", "more than 0 in"},
	{"no layers", func(in *Input) { in.SoilTest.Layers = nil }, "soilTest.layers",
		"1 to 6 layers"},
	{"pH 11", func(in *Input) { in.SoilTest.PH.Value = 11 }, "soilTest.ph.value", "3.5 to 10"},
	{"pH without basis", func(in *Input) { in.SoilTest.PH.Basis = "" }, "soilTest.ph.basis",
		"water, CaCl2"},
	{"history of the crop year", func(in *Input) { in.History[0].CropYear = 2027 },
		"history.0.cropYear", "1950 to 2026"},
	{"a year twice", func(in *Input) { in.History[1].CropYear = 2022 }, "history.1.cropYear",
		"one entry"},
	{"yield of a dream", func(in *Input) { in.Plan.Yield = q(900, "bu/ac") },
		"plan.yield.value", "1 to 200 bu/ac"},
	{"yield in bags", func(in *Input) { in.Plan.Yield = q(9, "bags") }, "plan.yield.unit",
		"bu/ac, kg/ha"},
	{"spread over spacing", func(in *Input) { in.Plan.OpenerSpread = q(11, "in") },
		"plan.openerSpread", "up to 10 in"},
	{"emerged before seeded", func(in *Input) { in.Plan.Emerged = "2027-05-01" },
		"plan.emerged", "2027-05-04 to"},
	{"unknown product", func(in *Input) { in.Plan.Fertilizers[0].Product = "guano" },
		"plan.fertilizers.0.product", "ammoniumSulphate"},
	{"treatment class 3", func(in *Input) { *in.Plan.Inoculants[0].TreatmentClass = 3 },
		"plan.inoculants.0.treatmentClass", "0 to 2"},
	{"unknown form", func(in *Input) { in.Plan.Inoculants[0].Form = "powder" },
		"plan.inoculants.0.form", "liquid, peat, granular"},
}

func q(v float64, unit string) *Quantity { return &Quantity{v, unit} }

func TestBadInputNamesFieldAndRange(t *testing.T) {
	for _, tt := range badInputs {
		t.Run(tt.name, func(t *testing.T) {
			in := example(t, "pea-old-ground")
			tt.spoil(&in)
			demandFault(t, in, tt.field, tt.says)
		})
	}
}

func demandFault(t *testing.T, in Input, field, says string) {
	t.Helper()
	_, err := Evaluate(in)
	var f *fault.Error
	if !errors.As(err, &f) || f.Kind != fault.Invalid {
		t.Fatalf("Evaluate = %v, want an Invalid fault", err)
	}
	if f.Field != field || !strings.Contains(f.Message, says) {
		t.Errorf("fault at %s: %q, want at %s with %q", f.Field, f.Message, field, says)
	}
}

func TestBadDigNamesFieldAndRange(t *testing.T) {
	for _, tt := range []struct {
		name  string
		spoil func(*Dig)
		field string
		says  string
	}{
		{"before emergence", func(d *Dig) { d.Date = "2027-05-18" }, "digs.0.date",
			"2027-05-19 to"},
		{"no spots", func(d *Dig) { d.Spots = nil }, "digs.0.spots", "1 to 20 spots"},
		{"no plants", func(d *Dig) { d.Spots[0].Plants = nil }, "digs.0.spots.0.plants",
			"1 to 40 plants"},
		{"bare root with a colour", func(d *Dig) { d.Spots[0].Plants[0].Inside = "pink" },
			"digs.0.spots.0.plants.0.inside", "empty"},
		{"nodules nowhere", func(d *Dig) { d.Spots[0].Plants[1].Position = "none" },
			"digs.0.spots.0.plants.1.position", "mostlyCrown"},
		{"node without convention", func(d *Dig) { d.Node.Convention = "" },
			"digs.0.node.convention", "withScale, trueNodes"},
		{"warm as an oven", func(d *Dig) { d.AirTemp.Value = 90 }, "digs.0.airTemp.value",
			"-20 to 45 C"},
		{"unknown suspicion", func(d *Dig) { d.Suspicions = []string{"aliens"} },
			"digs.0.suspicions.0", "rootRot"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			in := example(t, "pea-failing-dig")
			in.Digs = in.Digs[:1]
			tt.spoil(&in.Digs[0])
			demandFault(t, in, tt.field, tt.says)
		})
	}
}

func TestEveryExampleIsAccepted(t *testing.T) {
	files, err := filepath.Glob("../../testdata/evaluate/*.json")
	if err != nil || len(files) < 6 {
		t.Fatalf("%d examples (%v), want at least 6", len(files), err)
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".json")
		if _, err := Evaluate(example(t, name)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func FuzzEvaluate(f *testing.F) {
	files, err := filepath.Glob("../../testdata/evaluate/*.json")
	if err != nil {
		f.Fatal(err)
	}
	for _, file := range files {
		raw, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(raw)
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		var in Input
		if json.Unmarshal(raw, &in) != nil {
			return
		}
		if _, err := Evaluate(in); err != nil && fault.KindOf(err) != fault.Invalid {
			t.Errorf("Evaluate = %v, want an Invalid fault", err)
		}
	})
}
