package agro

import "testing"

// TestThePassIsThoughtOfWithinTheWindow: the dig of 12 June stands 35 days after seeding; the
// published window ends on 19 June, 42 days after.
func TestThePassIsThoughtOfWithinTheWindow(t *testing.T) {
	for dug, on := range map[string]string{
		"2027-06-04": "2027-06-11",
		"2027-06-12": "2027-06-19",
		"2027-06-17": "2027-06-19",
		"2027-06-19": "2027-06-19",
		"2027-06-20": "2027-06-27",
	} {
		r, err := Evaluate(dugOn(bareRoot, dug))
		if err != nil {
			t.Fatal(err)
		}
		if r.Rescue.On != on {
			t.Errorf("dug on %s, the pass is thought of on %q, want %s", dug, r.Rescue.On, on)
		}
	}
}
