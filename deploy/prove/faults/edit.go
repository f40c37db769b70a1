package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"time"

	"github.com/google/uuid"

	"hilum/internal/agro"
	"hilum/internal/wire"
)

// edited are the kinds whose bodies a phone keeps, to have something to edit.
var edited = []string{"season", "grower", "soilTest", "dig", "conflict"}

func (p *phone) remember(r wire.Row) {
	enough := r.Kind == "dig" && len(p.bodies) > 400 // the oldest digs will do for corrections
	if slices.Contains(edited, r.Kind) && !enough {
		p.bodies[r.ID] = r
	}
}

// any gives one row of a kind, by the phone's own dice; false when it has none.
func (p *phone) any(kind string) (wire.Row, bool) {
	var found []wire.Row
	for _, id := range slices.Sorted(maps.Keys(p.bodies)) {
		if p.bodies[id].Kind == kind {
			found = append(found, p.bodies[id])
		}
	}
	if len(found) == 0 {
		return wire.Row{}, false
	}
	return found[p.random.IntN(len(found))], true
}

// edit adds one entry to the outbox: mostly digs, and what two people do to one record.
func (p *phone) edit() {
	roll := p.random.IntN(100)
	switch {
	case p.login == "scout" && roll < 80, roll < 40:
		p.dig()
	case p.login == "scout":
		p.correct()
	case roll < 55:
		if r, ok := p.any("grower"); ok {
			p.queue(r.ID, r.Kind, r.Seq, map[string]any{"note": fmt.Sprint("note ", p.random.IntN(9))})
		}
	case roll < 90:
		if r, ok := p.any("soilTest"); ok {
			p.queue(r.ID, r.Kind, r.Seq,
				map[string]any{"organicMatter": 2 + float64(p.random.IntN(40))/10})
		}
	default:
		p.settle()
	}
}

func (p *phone) dig() {
	r, ok := p.any("season")
	var s wire.Season
	if !ok || json.Unmarshal(r.Body, &s) != nil {
		return
	}
	plant := wire.DigPlant{ID: uuid.NewString(), Plant: agro.Plant{
		Vigour: "vigorous", Nodules: "over5", Inside: "pink", Position: "crownAndLateral"}}
	p.queue(uuid.NewString(), "dig", 0, map[string]any{"field": s.Field, "cropYear": s.CropYear,
		"date":  fmt.Sprintf("%d-06-%02d", s.CropYear, 1+p.random.IntN(30)),
		"spots": []wire.DigSpot{{ID: uuid.NewString(), Plants: []wire.DigPlant{plant}}}})
}

func (p *phone) correct() {
	r, ok := p.any("dig")
	var d wire.Dig
	if !ok || json.Unmarshal(r.Body, &d) != nil {
		return
	}
	p.queue(uuid.NewString(), "correction", 0, map[string]any{"dig": r.ID, "field": d.Field,
		"drop": true, "why": "counted the wrong row"})
}

func (p *phone) settle() {
	r, ok := p.any("conflict")
	var c wire.Conflict
	if !ok || json.Unmarshal(r.Body, &c) != nil {
		return
	}
	p.queue(r.ID, "settle", r.Seq, map[string]any{"record": c.Record, "name": c.Name,
		"take": c.Values[p.random.IntN(len(c.Values))].Seq})
}

func (p *phone) queue(rec, kind string, base int64, set map[string]any) {
	n := p.n.Load() + 1
	raw, err := json.Marshal(map[string]any{"n": n, "schema": wire.Schema, "rec": rec, "kind": kind,
		"base": base, "set": set, "phoneTime": time.Now().UTC().Format(time.RFC3339)})
	if err != nil {
		panic(fmt.Sprintf("an entry of ours that is not JSON: %v", err))
	}
	p.outbox = append(p.outbox, waiting{n, rec, raw})
	p.n.Store(n)
}
