package snapshot

import (
	"bytes"
	"compress/gzip"
	"context"
	"fmt"
	"slices"
	"sync"

	"github.com/andybalholm/brotli"

	"hilum/internal/feed"
	"hilum/internal/wire"
)

const (
	// level of brotli: at 5 a first load packs in a fifth of a second, at 11 in twenty.
	level = 5
	// keep bounds what all snapshots in memory take together.
	keep = 48 << 20 // bytes
	// stale is how far behind the head a kept snapshot may be: one page of the delta after it.
	stale = wire.MaxRows / 2
)

// Snapshot is one packed account.
type Snapshot struct {
	farm  string
	Epoch string
	Seq   int64
	plain []byte
	mu    sync.Mutex
	as    map[string][]byte
}

// Tag names the version of the account that the snapshot holds.
func (s *Snapshot) Tag() string { return fmt.Sprintf("%s.%d", s.Epoch, s.Seq) }

// As gives the document plain (""), or packed as "gzip" or "br".
func (s *Snapshot) As(encoding string) ([]byte, error) {
	if encoding == "" {
		return s.plain, nil
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if packed, ok := s.as[encoding]; ok {
		return packed, nil
	}
	var out bytes.Buffer
	var err error
	if encoding == "br" {
		w := brotli.NewWriterLevel(&out, level)
		_, err = w.Write(s.plain)
		err = firstOf(err, w.Close())
	} else {
		w := gzip.NewWriter(&out)
		_, err = w.Write(s.plain)
		err = firstOf(err, w.Close())
	}
	if err != nil {
		return nil, fmt.Errorf("packing a snapshot: %w", err)
	}
	s.as[encoding] = out.Bytes()
	return s.as[encoding], nil
}

func firstOf(a, b error) error {
	if a != nil {
		return a
	}
	return b
}

func (s *Snapshot) size() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	total := len(s.plain)
	for _, packed := range s.as {
		total += len(packed)
	}
	return total
}

// Cache makes snapshots, one at a time, and keeps the newest within its bound.
type Cache struct {
	log   feed.Log
	build sync.Mutex // one is made at a time: it is the largest thing this program holds
	mu    sync.Mutex
	kept  []*Snapshot // the one used last at the end
}

// New makes an empty cache over a log.
func New(log feed.Log) *Cache { return &Cache{log: log} }

// Get gives the snapshot with this tag if it is still kept, so that a broken load can go on; else
// one that is no further behind than a page, made now if need be. NotFound when there is no such
// account, TooLarge when it has more records than a snapshot takes.
func (c *Cache) Get(ctx context.Context, farm, tag string) (*Snapshot, error) {
	if s := c.find(farm, func(s *Snapshot) bool { return s.Tag() == tag }); s != nil {
		return s, nil
	}
	if s, err := c.fresh(ctx, farm); s != nil || err != nil {
		return s, err
	}
	c.build.Lock()
	defer c.build.Unlock()
	if s, err := c.fresh(ctx, farm); s != nil || err != nil {
		return s, err // somebody made it while we waited
	}
	head, plain, err := pack(ctx, c.log, farm)
	if err != nil {
		return nil, err
	}
	s := &Snapshot{farm: farm, Epoch: head.Epoch, Seq: head.Head, plain: plain,
		as: map[string][]byte{}}
	c.add(s)
	return s, nil
}

// fresh finds a kept snapshot from which the feed can go on at once; nil when there is none.
func (c *Cache) fresh(ctx context.Context, farm string) (*Snapshot, error) {
	var head feed.Head
	err := c.log.Read(ctx, farm, func(v feed.View) (err error) {
		head, err = v.Head(ctx)
		return err
	})
	if err != nil {
		return nil, err
	}
	return c.find(farm, func(s *Snapshot) bool {
		return s.Epoch == head.Epoch && s.Seq >= head.Floor && s.Seq <= head.Head &&
			head.Head-s.Seq <= stale
	}), nil
}

func (c *Cache) find(farm string, fits func(*Snapshot) bool) *Snapshot {
	c.mu.Lock()
	defer c.mu.Unlock()
	for i := len(c.kept) - 1; i >= 0; i-- {
		if s := c.kept[i]; s.farm == farm && fits(s) {
			c.kept = append(slices.Delete(c.kept, i, i+1), s)
			return s
		}
	}
	return nil
}

func (c *Cache) add(s *Snapshot) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.kept = append(c.kept, s)
	total := 0
	for i := len(c.kept) - 1; i >= 0; i-- {
		if total += c.kept[i].size(); total > keep && i < len(c.kept)-1 {
			c.kept = slices.Delete(c.kept, 0, i+1)
			return
		}
	}
}
