package feed_test

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/google/uuid"

	"hilum/internal/memlog"
	"hilum/internal/pgtest"
	"hilum/internal/store"
	"hilum/internal/wire"
)

// onStore is the log of PostgreSQL, through the program's own pool.
type onStore struct {
	*store.Log
	s *store.Store
}

func openStore(t testing.TB) backend {
	s, err := store.Open(context.Background(), pgtest.Database(t))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	return onStore{s.Log(), s}
}

func (b onStore) addFarm(t testing.TB) string {
	farm := uuid.NewString()
	owner := wire.Person{ID: uuid.NewString(), Name: "Owner", Login: "owner" + farm[:8], Role: "owner"}
	if err := b.s.CreateFarm(context.Background(), farm, false, owner, "hash", nil); err != nil {
		t.Fatal(err)
	}
	return farm
}

func (b onStore) addDevice(t testing.TB, farm, role string) (person, device string) {
	ctx := context.Background()
	person, device = uuid.NewString(), uuid.NewString()
	who := wire.Person{ID: person, Name: "Somebody", Login: "p" + person[:8], Role: role}
	if err := b.s.CreatePerson(ctx, farm, who, "hash", store.Actor{}); err != nil {
		t.Fatal(err)
	}
	if err := b.s.EnrolServer(ctx, farm, person, device, "Phone"); err != nil {
		t.Fatal(err)
	}
	return person, device
}

func (b onStore) addDeviceOf(t testing.TB, farm, person string) string {
	device := uuid.NewString()
	if err := b.s.EnrolServer(context.Background(), farm, person, device, "Phone"); err != nil {
		t.Fatal(err)
	}
	return device
}

func (b onStore) results(t testing.TB, farm, field string) []wire.Result {
	found, err := b.s.FieldResult(context.Background(), farm, field, 2027)
	if err != nil {
		t.Fatal(err)
	}
	return append([]wire.Result{found.Result}, found.Older...)
}

func (b onStore) kept(t testing.TB, farm string) string {
	var all strings.Builder
	err := b.s.Export(context.Background(), farm, func(kind string, row json.RawMessage) error {
		if kind == "conflict" || kind == "value" {
			fmt.Fprintln(&all, kind, string(row))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return all.String()
}

// inMemory is the log of simulations.
type inMemory struct{ *memlog.Log }

func openMemory(testing.TB) backend { return inMemory{memlog.New()} }

func (b inMemory) addFarm(testing.TB) string {
	farm := uuid.NewString()
	b.AddFarm(farm, uuid.NewString())
	return farm
}

func (b inMemory) addDevice(_ testing.TB, farm, _ string) (person, device string) {
	device = uuid.NewString()
	b.AddDevice(farm, device)
	return uuid.NewString(), device
}

func (b inMemory) addDeviceOf(_ testing.TB, farm, _ string) string {
	device := uuid.NewString()
	b.AddDevice(farm, device)
	return device
}

func (b inMemory) results(_ testing.TB, farm, field string) []wire.Result {
	var found []wire.Result
	for _, r := range b.Farm(farm).Results {
		if r.Body.Field == field {
			found = append([]wire.Result{r.Body}, found...)
		}
	}
	return found
}

func (b inMemory) kept(_ testing.TB, farm string) string {
	state := b.Farm(farm)
	var all strings.Builder
	for _, v := range state.Values {
		fmt.Fprintln(&all, v.Field, string(v.Value))
	}
	for _, c := range state.Conflicts {
		fmt.Fprintln(&all, c.Field, string(c.Other))
	}
	return all.String()
}
