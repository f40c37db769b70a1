package api

import (
	"context"
	"log/slog"
	"sync"
	"sync/atomic"
	"time"

	"hilum/internal/feed"
)

// waitingAtMost is how many syncs may wait for a place before results are put off. The answer then
// comes without them, and they follow with the next pull, for which the phone gets its nudge; the
// phone's own engine has shown them already.
const waitingAtMost = 2

// restAfter is how long a Freshener waits after a fault.
const restAfter = 5 * time.Second

// Freshener computes, in quiet moments, the results that syncs put off in busy ones. The marks are
// in the database: what it holds here is only where to look.
type Freshener struct {
	Log     *slog.Logger
	waiting atomic.Int64 // syncs that wait for a place
	mu      sync.Mutex
	farms   map[string]bool
	wake    chan struct{}
}

// NewFreshener begins with the accounts that an earlier server left something in.
func NewFreshener(log *slog.Logger, farms []string) *Freshener {
	f := &Freshener{Log: log, farms: map[string]bool{}, wake: make(chan struct{}, 1)}
	for _, farm := range farms {
		f.add(farm)
	}
	return f
}

// Busy says that results are better put off.
func (f *Freshener) Busy() bool { return f.waiting.Load() > waitingAtMost }

func (f *Freshener) add(farm string) {
	f.mu.Lock()
	f.farms[farm] = true
	f.mu.Unlock()
	select {
	case f.wake <- struct{}{}:
	default:
	}
}

func (f *Freshener) take() (string, bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	for farm := range f.farms {
		delete(f.farms, farm)
		return farm, true
	}
	return "", false
}

// Run works until ctx ends. It takes a place as a sync does, and only while none waits for one.
func (f *Freshener) Run(ctx context.Context, door feed.Door) {
	for ctx.Err() == nil {
		farm, some := f.take()
		if !some {
			select {
			case <-ctx.Done():
			case <-f.wake:
			}
			continue
		}
		f.quiet(ctx)
		if syncing.Acquire(ctx, 1) != nil {
			return
		}
		more, err := door.Freshen(ctx, farm)
		syncing.Release(1)
		if err != nil && ctx.Err() == nil {
			f.Log.Error("computing results that were put off", "farm", farm, "error", err)
			pause(ctx, restAfter)
		}
		if more || err != nil {
			f.add(farm)
		}
	}
}

// quiet waits until no sync waits.
func (f *Freshener) quiet(ctx context.Context) {
	for f.waiting.Load() > 0 && ctx.Err() == nil {
		pause(ctx, 20*time.Millisecond)
	}
}

func pause(ctx context.Context, d time.Duration) {
	select {
	case <-ctx.Done():
	case <-time.After(d):
	}
}
