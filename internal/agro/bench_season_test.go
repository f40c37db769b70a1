package agro

import (
	"testing"

	"hilum/internal/date"
)

// BenchmarkStage works out the dates from sixty days and thirty earlier years.
func BenchmarkStage(b *testing.B) {
	in := Input{Schema: 1, Crop: "pea", CropYear: 2027,
		Plan: Plan{Seeded: "2027-05-08", Emerged: "2027-05-20"}}
	add := func(list *[]DayTemp, year, days int) {
		for d := range days {
			*list = append(*list, DayTemp{(date.Of(year, 5, 1) + date.Day(d)).String(),
				Quantity{20, "C"}, Quantity{7, "C"}})
		}
	}
	add(&in.Weather, 2027, 60)
	for year := 1997; year < 2027; year++ {
		add(&in.Climate, year, 150)
	}
	if err := Check(in); err != nil {
		b.Fatal(err)
	}
	f := newField(in)
	for b.Loop() {
		f.stage()
	}
}
