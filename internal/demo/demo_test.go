package demo

import (
	"context"
	"reflect"
	"testing"
	"time"

	"hilum/internal/feed"
	"hilum/internal/pgtest"
	"hilum/internal/store"
	"hilum/internal/wire"
)

func TestSameSeedAndDayGiveTheSameAccount(t *testing.T) {
	day := Today(time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC))
	if got := day.Format(time.DateOnly); got != "2027-06-14" {
		t.Fatalf("Today in November 2026 = %s, want 2027-06-14", got)
	}
	if !reflect.DeepEqual(Make(Seed, day), Make(Seed, day)) {
		t.Error("two makes of one seed differ")
	}
}

func TestDemoLoadsThroughTheDoor(t *testing.T) {
	ctx := context.Background()
	dsn := pgtest.Database(t)
	s, err := store.Open(ctx, dsn)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	day := Today(time.Now())
	door := feed.Door{Log: s.Log(), Now: time.Now}
	if err := Load(ctx, s, door, Make(Seed, day)); err != nil {
		t.Fatal(err)
	}
	lines, err := s.Fields(ctx, Farm)
	if err != nil {
		t.Fatal(err)
	}
	results := 0
	for _, l := range lines {
		var r wire.Result
		if l.Result == nil {
			continue
		}
		if err := wire.Lenient(l.Result, &r); err != nil || r.Problem != nil {
			t.Errorf("result %s: %v %+v", l.Result, err, r.Problem)
		}
		results++
	}
	if len(lines) != 24 || results < 20 {
		t.Errorf("%d fields, %d with a result; want 24 and at least 20", len(lines), results)
	}
	admin, err := store.OpenAdmin(ctx, dsn)
	if err != nil {
		t.Fatal(err)
	}
	defer admin.Close(ctx)
	if err := admin.DropDemo(ctx, Farm); err != nil {
		t.Fatal(err)
	}
	if farms, err := admin.Farms(ctx); err != nil || len(farms) != 0 {
		t.Errorf("after dropping the demo: %v, %v; want no account", farms, err)
	}
}
