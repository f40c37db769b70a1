package poke

import (
	"context"
	"errors"
	"slices"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"hilum/internal/fault"
)

// table is a set of heads that counts how often it is read.
type table struct {
	mu    sync.Mutex
	heads map[string]int64
	reads int
	asked []string
	err   error
}

func (t *table) read(_ context.Context, farms []string) (map[string]int64, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.reads++
	slices.Sort(farms)
	t.asked = farms
	found := map[string]int64{}
	for _, f := range farms {
		if head, ok := t.heads[f]; ok {
			found[f] = head
		}
	}
	return found, t.err
}

// with changes the table, or looks at it.
func (t *table) with(use func()) {
	t.mu.Lock()
	defer t.mu.Unlock()
	use()
}

func TestListenersHearOfTheirOwnAccountOnly(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		ctx, stop := context.WithCancel(context.Background())
		heads := &table{heads: map[string]int64{"a": 1, "b": 7}}
		h := New(heads.read)
		go h.Run(ctx)
		time.Sleep(3 * Every)
		heads.with(func() {
			if heads.reads != 0 {
				t.Errorf("with nobody listening the heads were read %d times", heads.reads)
			}
		})
		a, leave, err := h.Listen("a")
		if err != nil {
			t.Fatal(err)
		}
		if got := <-a; got != 1 {
			t.Errorf("the first head is %d, want 1", got)
		}
		heads.with(func() { heads.heads["a"], heads.heads["b"] = 2, 8 })
		if got := <-a; got != 2 {
			t.Errorf("the next head is %d, want 2", got)
		}
		heads.with(func() {
			if !slices.Equal(heads.asked, []string{"a"}) {
				t.Errorf("the heads of %v were read, want of a alone", heads.asked)
			}
		})
		second, leaveSecond, _ := h.Listen("a")
		if got := <-second; got != 2 {
			t.Errorf("a second listener got %d at once, want 2", got)
		}
		heads.with(func() { heads.err, heads.heads["a"] = errors.New("down"), 3 })
		time.Sleep(3 * Every)
		heads.with(func() { heads.heads["a"], heads.err = 4, nil })
		if got := <-a; got != 4 {
			t.Errorf("after an outage the head is %d, want 4", got)
		}
		leave()
		leave()
		leaveSecond()
		if len(h.farms) != 0 || h.count != 0 {
			t.Errorf("after leaving %d rooms and %d listeners are left", len(h.farms), h.count)
		}
		stop()
		<-h.Done()
	})
}

func TestASlowListenerGetsTheNewestHead(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		ctx, stop := context.WithCancel(context.Background())
		heads := &table{heads: map[string]int64{"a": 1}}
		h := New(heads.read)
		go h.Run(ctx)
		a, _, _ := h.Listen("a")
		for range 5 {
			time.Sleep(Every)
			synctest.Wait()
			heads.with(func() { heads.heads["a"]++ })
		}
		if got := <-a; got != 5 {
			t.Errorf("got head %d, want the newest read, 5", got)
		}
		stop()
		<-h.Done()
	})
}

func TestTooManyListenersAreTurnedAway(t *testing.T) {
	h := New((&table{}).read)
	for range most {
		if _, _, err := h.Listen("a"); err != nil {
			t.Fatal(err)
		}
	}
	if _, _, err := h.Listen("a"); fault.KindOf(err) != fault.Unavailable {
		t.Errorf("listener %d got %v, want Unavailable", most+1, err)
	}
}
