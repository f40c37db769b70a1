//go:build js && wasm

package main

import (
	"context"
	"errors"

	"hilum/internal/feed"
	"hilum/internal/memlog"
	"hilum/internal/wire"
)

var (
	errCrash   = errors.New("the server died here")
	errDiscard = errors.New("the disk never got it")
)

// server is the log with a process around it that can die. Boundaries are numbered from 1 within
// one call: odd before the commit of a transaction, even after it.
type server struct {
	*memlog.Log
	req       request
	boundary  int
	committed []logged
	revoked   map[string]bool // devices shut out; no earlier copy brings them back
	saves     [][2]int64      // head before and after each transaction, since the last restore
	seconds   map[int64]int64 // change number to the second of its commit, for one planted fault
}

// call makes the server ready for one call.
func (s *server) call(log *memlog.Log, req request) {
	s.Log, s.req, s.boundary, s.committed = log, req, 0, nil
}

func (s *server) dies() bool {
	s.boundary++
	return s.boundary == s.req.Crash
}

// Write implements feed.Log.
func (s *server) Write(ctx context.Context, farm string, use func(feed.Tx) error) error {
	var saved []feed.Batch
	err := s.Log.Write(ctx, farm, func(inner feed.Tx) error {
		saved = nil
		if err := use(&tx{Tx: inner, server: s, saved: &saved}); err != nil {
			return err
		}
		if !s.dies() {
			return nil
		}
		switch s.req.Planted {
		case "ackBeforeCommit":
			return errDiscard
		case "partialCommit":
			return nil
		}
		return errCrash
	})
	if errors.Is(err, errDiscard) {
		return nil
	}
	if err != nil {
		return err
	}
	s.record(saved)
	if s.dies() || s.req.Planted == "partialCommit" && s.boundary-1 == s.req.Crash {
		return errCrash
	}
	return nil
}

func (s *server) record(saved []feed.Batch) {
	for _, b := range saved {
		s.saves = append(s.saves, [2]int64{b.From, b.Head})
		for _, m := range b.Mutations {
			s.committed = append(s.committed, loggedAs(b.Device, m, false))
		}
		s.committed = append(s.committed, repeats(b.Device, b.Repeats)...)
		for _, m := range b.Clones {
			s.committed = append(s.committed, loggedAs(b.Device, m, true))
		}
		for seq := b.From + 1; seq <= b.Head; seq++ {
			s.seconds[seq] = s.req.Now
		}
	}
}

// tx sees each batch on its way into the log.
type tx struct {
	feed.Tx
	server *server
	saved  *[]feed.Batch
}

// Save implements feed.Tx.
func (t *tx) Save(ctx context.Context, b feed.Batch) error {
	if err := t.plant(ctx, &b); err != nil {
		return err
	}
	if err := t.Tx.Save(ctx, b); err != nil {
		return err
	}
	*t.saved = append(*t.saved, b)
	return nil
}

// Head, Device and Taken can carry a planted fault too.

// Head implements feed.Tx.
func (t *tx) Head(ctx context.Context) (feed.Head, error) {
	head, err := t.Tx.Head(ctx)
	if t.server.req.Planted == "seqGaps" {
		head.Head++
	}
	return head, err
}

// Device implements feed.Tx.
func (t *tx) Device(ctx context.Context, device string) (feed.Device, error) {
	d, err := t.Tx.Device(ctx, device)
	d.Revoked = t.server.revoked[device]
	if t.server.req.Planted == "noDedupe" && len(t.server.numbers()) > 0 {
		d.LastN = min(d.LastN, t.server.numbers()[0]-1)
	}
	return d, err
}

// Taken implements feed.Tx.
func (t *tx) Taken(
	ctx context.Context, device string, numbers []int64,
) (map[int64]feed.Taken, error) {
	taken, err := t.Tx.Taken(ctx, device, numbers)
	if t.server.req.Planted == "hashIgnored" {
		for n, was := range taken {
			was.Hash = t.server.hashOf(n)
			taken[n] = was
		}
	}
	return taken, err
}

// OnRecord implements feed.Tx.
func (t *tx) OnRecord(
	ctx context.Context, person string, entries []feed.First,
) ([]feed.Known, error) {
	if t.server.req.Planted == "placeUnknown" {
		return nil, nil
	}
	return t.Tx.OnRecord(ctx, person, entries)
}

// Lacking implements feed.Tx.
func (t *tx) Lacking(ctx context.Context, ids []string) ([]feed.Aside, error) {
	if t.server.req.Planted == "neverAgain" {
		return nil, nil
	}
	return t.Tx.Lacking(ctx, ids)
}

// before can answer in the door's place.
func (s *server) before(now memlog.Farm, body *wire.SyncRequest) *reply {
	switch s.req.Planted {
	case "dedupeByRecord":
		return s.dropKnown(now, body)
	case "poisonRefused":
		return s.refusePoison(body)
	}
	return nil
}

// after can spoil the door's answer.
func (s *server) after(body wire.SyncRequest, out *wire.SyncResponse) {
	switch s.req.Planted {
	case "cursorByTime":
		s.byTime(body, out)
	case "cursorSkips":
		out.Cursor = out.Head
		out.More = false
	case "judgedUntold":
		out.Judged = nil
	}
}
