package feed_test

import (
	"encoding/json"
	"testing"

	"github.com/google/uuid"
)

// BenchmarkAPhoneHandsInItsDay is one push of 24 digs on 12 fields, with the
// results that follow.
func BenchmarkAPhoneHandsInItsDay(b *testing.B) {
	for name, open := range map[string]func(testing.TB) backend{"postgres": openStore, "memory": openMemory} {
		b.Run(name, func(b *testing.B) {
			y := newYard(b, open(b))
			desk, scout := y.phone("consultant"), y.phone("scout")
			var ground []string
			for range 12 {
				ground = append(ground, desk.ground())
			}
			scout.sync()
			for b.Loop() {
				var push []json.RawMessage
				for i := range 24 {
					field := ground[i%len(ground)]
					push = append(push, scout.edit(uuid.NewString(), "dig", 0, map[string]any{"field": field,
						"cropYear": 2027, "date": "2027-06-12", "spots": []any{spot(), spot(), spot()}}))
				}
				scout.sync(push...)
			}
		})
	}
}

// spot is five good plants.
func spot() map[string]any {
	var plants []any
	for range 5 {
		plant := good()
		plant["id"] = uuid.NewString()
		plants = append(plants, plant)
	}
	return map[string]any{"id": uuid.NewString(), "plants": plants}
}
