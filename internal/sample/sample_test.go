package sample

import (
	"math/rand/v2"
	"reflect"
	"testing"

	"hilum/internal/agro"
)

func TestFieldsAreAcceptedAndRepeatable(t *testing.T) {
	r, again := rand.New(rand.NewPCG(1, 2)), rand.New(rand.NewPCG(1, 2))
	for i := range 300 {
		in := Field(r)
		if err := agro.Check(in); err != nil {
			t.Fatalf("field %d: %v\n%+v", i, err, in)
		}
		if !reflect.DeepEqual(in, Field(again)) {
			t.Fatalf("field %d differs the second time", i)
		}
	}
}
