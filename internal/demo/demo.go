// Package demo makes one invented account out of a seed and a day, as mutations through the same
// door that phones use.
package demo

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"time"

	"hilum/internal/auth"
	"hilum/internal/fault"
	"hilum/internal/feed"
	"hilum/internal/kind"
	"hilum/internal/store"
	"hilum/internal/wire"
)

// Seed is the one that pictures and journeys rely on.
const Seed = 20

// Password opens every sign-in of the demo account. It is printed, and guards nothing.
const Password = "seven-green-pods"

// Farm is the id of the demo account, the same everywhere.
var Farm = kind.ID("00000000-0000-0000-0000-000000000000", "demo", "account")

// Account is the demo as made from (seed, today).
type Account struct {
	People   []wire.Person
	Settings wire.Settings
	pushes   []push
}

// push is what one device hands in.
type push struct {
	person string
	role   string
	device string
	name   string
	items  []item
}

type item struct {
	rec, kind string
	body      any
}

// Today gives the day that the demo shows: 14 June of the crop year that is running or planned.
func Today(now time.Time) time.Time {
	year := now.Year()
	if now.Month() >= time.August {
		year++
	}
	return time.Date(year, time.June, 14, 0, 0, 0, 0, time.UTC)
}

// Make invents the account: the same seed and day give the same records.
func Make(seed uint64, today time.Time) Account {
	m := &maker{rand: rand.New(rand.NewPCG(seed, 1)), today: today, year: today.Year()}
	m.people()
	m.growers()
	m.fields()
	return Account{People: m.staff, Settings: m.settings(), pushes: m.pushes()}
}

// Load stores the account. It must not exist yet.
func Load(ctx context.Context, s *store.Store, door feed.Door, a Account) error {
	hash, err := auth.HashPassword(ctx, Password)
	if err != nil {
		return err
	}
	if err := s.CreateFarm(ctx, Farm, true, a.People[0], hash, nil); err != nil {
		return err
	}
	for _, p := range a.People[1:] {
		if err := s.CreatePerson(ctx, Farm, p, hash, store.Actor{Person: a.People[0].ID}); err != nil {
			return err
		}
	}
	if err := feed.FirstSettings(ctx, door, s, Farm, a.People[0].ID, a.Settings); err != nil {
		return err
	}
	for _, p := range a.pushes {
		if err := handIn(ctx, s, door, p); err != nil {
			return err
		}
	}
	return nil
}

func handIn(ctx context.Context, s *store.Store, door feed.Door, p push) error {
	if err := s.EnrolServer(ctx, Farm, p.person, p.device, p.name); err != nil {
		return err
	}
	req := wire.SyncRequest{Proto: wire.Proto, Schema: wire.Schema, Device: p.device}
	for i, it := range p.items {
		raw, err := feed.NewMutation(int64(i+1), it.rec, it.kind, 0, it.body, door.Now())
		if err != nil {
			return err
		}
		req.Push = append(req.Push, json.RawMessage(raw))
	}
	out, err := door.Sync(
		ctx,
		feed.Author{Farm: Farm, Person: p.person, Device: p.device, Role: p.role},
		req,
	)
	if err != nil {
		return fmt.Errorf("handing in the demo's records: %w", err)
	}
	for i, ack := range out.Acks {
		if ack.Outcome != wire.Applied {
			return fault.New(fault.Internal, "demo", "demo record %d (%s) was not applied: %s %+v",
				i, p.items[i].kind, ack.Outcome, ack.Problem)
		}
	}
	return nil
}
