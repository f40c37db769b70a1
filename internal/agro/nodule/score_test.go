package nodule

import "testing"

// states are the 40 combinations of the card's states: four of A with nine of B and C, or bare.
func states() []Plant {
	var all []Plant
	for _, vigour := range []string{"vigorous", "small", "pale", "yellow"} {
		all = append(all, Plant{Vigour: vigour, Nodules: "none", Position: "none"})
		for _, nodules := range []string{"over5", "3to5", "under3"} {
			for _, position := range []string{"crownAndLateral", "mostlyCrown", "mostlyLateral"} {
				all = append(all, Plant{Vigour: vigour, Nodules: nodules, Inside: "pink",
					Position: position})
			}
		}
	}
	return all
}

// TestBandsMoveAsTheSensitivityTableSays holds the six readings to the table worked by hand: 3, 4,
// 2, 1, 4 and 5 of 40 combinations change band, 12 in all.
func TestBandsMoveAsTheSensitivityTableSays(t *testing.T) {
	want := []int{3, 4, 2, 1, 4, 5}
	near := 0
	bands := map[string]int{}
	for _, p := range states() {
		bands[Band(float64(Card.Total(p)))]++
		if NearEdge([]Plant{p}) {
			near++
		}
	}
	if bands["effective"] != 5 || bands["lessEffective"] != 20 || bands["poor"] != 15 {
		t.Errorf("bands of the 40 combinations = %v, want 5, 20 and 15", bands)
	}
	if near != 12 {
		t.Errorf("%d combinations are near an edge, want 12", near)
	}
	for i, v := range Variants() {
		moved := 0
		for _, p := range states() {
			if Band(float64(v.Total(p))) != Band(float64(Card.Total(p))) {
				moved++
			}
		}
		if moved != want[i] {
			t.Errorf("variant %d moves %d combinations, want %d", i, moved, want[i])
		}
	}
}

func TestMomentGivesTheKindOfDig(t *testing.T) {
	for _, tt := range []struct {
		name string
		m    Moment
		want string
	}{
		{"day 20", Moment{20, 33, 6, 12, false}, Early},
		{"day 21", Moment{21, 34, 8, 12, false}, Decision},
		{"day 27, cool", Moment{27, 40, 8, 12, true}, Early},
		{"day 28, cool", Moment{28, 41, 8, 12, true}, Decision},
		{"six weeks after seeding", Moment{30, 42, 10, 12, false}, Decision},
		{"a day later", Moment{31, 43, 10, 12, false}, Scored},
		{"flowering", Moment{40, -1, 12, 12, false}, Scored},
		{"nine weeks after emergence", Moment{63, 75, 14, 12, false}, Late},
		{"nothing known", Moment{-1, -1, -1, 12, false}, Early},
	} {
		if got := tt.m.Kind(); got != tt.want {
			t.Errorf("%s: Kind() = %s, want %s", tt.name, got, tt.want)
		}
	}
}
