package risk

import "testing"

// TestInnerLoopsAllocateNothing holds what runs some ten thousand times for each field.
func TestInnerLoopsAllocateNothing(t *testing.T) {
	live := NewLive([]Product{{Form: Liquid, Dose: 1}}, 7, "dry")
	ground, shares := NewGround(1), NewShares(0.5, 0.35)
	gain, losses := ground.Gain(live, shares), NewLosses(ground.Outcome(live), shares)
	for name, loop := range map[string]func(){
		"Chances": func() { ground.Chances(live) },
		"Over":    func() { gain.Over(0.02) },
		"Below":   func() { losses.Below(0.1) },
	} {
		if n := testing.AllocsPerRun(20, loop); n != 0 {
			t.Errorf("%s allocates %v times, want 0", name, n)
		}
	}
}
