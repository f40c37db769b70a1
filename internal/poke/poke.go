// Package poke tells listening devices that their account has changed, so that they sync at once
// and not at the next minute. It carries the head and nothing else; a device that misses a poke
// loses nothing but time. One poller serves all listeners of the process.
package poke

import (
	"context"
	"maps"
	"slices"
	"sync"
	"time"

	"hilum/internal/fault"
)

const (
	// Every is how often the heads are read.
	Every = time.Second
	// most is how many devices one process lets listen; each holds a connection open.
	most = 2000
)

// Heads reads the heads of accounts; an account that is gone is left out.
type Heads func(ctx context.Context, farms []string) (map[string]int64, error)

// Hub knows who listens to which account.
type Hub struct {
	heads Heads
	mu    sync.Mutex
	farms map[string]*room
	count int
	done  chan struct{}
}

// room is one account with its listeners.
type room struct {
	head  int64 // -1: not read yet
	chans map[chan int64]bool
}

// New makes a hub; Run makes it work.
func New(heads Heads) *Hub {
	return &Hub{heads: heads, farms: map[string]*room{}, done: make(chan struct{})}
}

// Run polls until ctx ends, and then lets every listener go.
func (h *Hub) Run(ctx context.Context) {
	defer close(h.done)
	tick := time.NewTicker(Every)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
			h.poll(ctx)
		}
	}
}

// Done is closed when the hub has stopped.
func (h *Hub) Done() <-chan struct{} { return h.done }

// poll reads the heads of the accounts that somebody listens to. A database that does not answer
// is asked again at the next tick.
func (h *Hub) poll(ctx context.Context) {
	h.mu.Lock()
	farms := slices.Collect(maps.Keys(h.farms))
	h.mu.Unlock()
	if len(farms) == 0 {
		return
	}
	heads, err := h.heads(ctx, farms)
	if err != nil {
		return
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	for farm, head := range heads {
		r := h.farms[farm]
		if r == nil || r.head == head {
			continue
		}
		r.head = head
		for c := range r.chans {
			offer(c, head)
		}
	}
}

// offer puts the newest head in, over one that was not fetched yet.
func offer(c chan int64, head int64) {
	select {
	case <-c:
	default:
	}
	c <- head // the room's lock is held and the channel has a place: this never waits
}

// Listen gives the account's head, now and whenever it changes, until leave is called.
// Unavailable when too many listen already: the device then polls.
func (h *Hub) Listen(farm string) (heads <-chan int64, leave func(), err error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.count >= most {
		return nil, nil, fault.New(fault.Unavailable, "busy",
			"too many devices are listening; sync once a minute instead")
	}
	r := h.farms[farm]
	if r == nil {
		r = &room{head: -1, chans: map[chan int64]bool{}}
		h.farms[farm] = r
	}
	c := make(chan int64, 1)
	if r.head >= 0 {
		c <- r.head
	}
	r.chans[c] = true
	h.count++
	return c, func() { h.leave(farm, c) }, nil
}

func (h *Hub) leave(farm string, c chan int64) {
	h.mu.Lock()
	defer h.mu.Unlock()
	r := h.farms[farm]
	if r == nil || !r.chans[c] {
		return
	}
	delete(r.chans, c)
	h.count--
	if len(r.chans) == 0 {
		delete(h.farms, farm)
	}
}
