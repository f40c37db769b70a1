package fault

import (
	"errors"
	"fmt"
	"math"
	"testing"
)

// TestSpellWritesAsSprintf: every verb and type that the project's faults use.
func TestSpellWritesAsSprintf(t *testing.T) {
	for _, c := range []struct {
		message string
		args    []any
	}{
		{"is missing", nil},
		{"is %q, accepted: %s", []any{"x\n\"é", "a, b"}},
		{"is %d bytes, accepted up to %d", []any{-3, int64(math.MaxInt64)}},
		{"is 100 %% %s", []any{"sure"}},
		{"fails: %v", []any{errors.New("because")}},
		{"fails: %s", []any{At("field", "code", "is %d", 3)}},
		{"%s%s", []any{"", ""}},
	} {
		want := fmt.Sprintf(c.message, c.args...)
		if got := spell(c.message, c.args); got != want {
			t.Errorf("spell(%q) = %q, want %q", c.message, got, want)
		}
	}
	for _, v := range []float64{0, -0.5, 1, 200, 1e5, 123456789, 1e20, 1e21, -1e22, 0.0001, 0.00009,
		0.25, 1.0 / 3, math.MaxFloat64, math.SmallestNonzeroFloat64, math.Inf(1), math.NaN()} {
		want := fmt.Sprintf("is %g, accepted %v", v, v)
		if got := spell("is %g, accepted %v", []any{v, v}); got != want {
			t.Errorf("spell of %g = %q, want %q", v, got, want)
		}
	}
}

// TestSpellSurvivesWrongUse: vet refuses it, but a fault must still come out.
func TestSpellSurvivesWrongUse(t *testing.T) {
	for message, want := range map[string]string{
		"%s and %s": "a and (missing)", "100 %": "100 %", "%d": "a",
	} {
		if got := spell(message, []any{"a"}); got != want {
			t.Errorf("spell(%q) = %q, want %q", message, got, want)
		}
	}
	if got := spell("%v", []any{struct{}{}}); got != "(a value)" {
		t.Errorf("a value of an unknown type is %q", got)
	}
}

func TestUnderNamesTheParent(t *testing.T) {
	err := Under("soilTest", At("layers.0", "range", "is %g", 1.5))
	if got := err.Error(); got != "soilTest.layers.0: is 1.5" {
		t.Errorf("Under gives %q", got)
	}
	if other := errors.New("x"); Under("soilTest", other) != other {
		t.Error("Under changes an error that is not a fault")
	}
	if KindOf(fmt.Errorf("wrapped: %w", err)) != Invalid || KindOf(errors.New("x")) != Internal {
		t.Error("KindOf does not look through wrapping")
	}
}
