// Package memlog keeps a feed in memory. It is the second log beside PostgreSQL's: one suite holds
// both to the same behaviour, and simulations of many phones run on it. It is no database: nothing
// outlives the process.
package memlog

import (
	"context"
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"sync"
	"time"

	"hilum/internal/fault"
	"hilum/internal/feed"
	"hilum/internal/merge"
	"hilum/internal/wire"
)

// Log holds any number of accounts.
type Log struct {
	mu    sync.Mutex
	farms map[string]*Farm
}

// Farm is one account's whole state. It is replaced as one when a transaction commits.
type Farm struct {
	Head      feed.Head
	Devices   map[string]feed.Device
	Records   map[string]merge.State
	Mutations map[string][]feed.Mutation // by device, in the order of their numbers
	Repeats   map[string][]feed.Repeat   // the same
	Clones    []feed.Mutation
	Values    []feed.Value
	Conflicts []feed.Conflict
	Settled   []feed.Settled
	Results   []feed.Result
	Judged    []feed.Judgement
	People    map[string]Author // by device, as it last pushed
	Stale     map[string]bool   // fields
	Photos    map[string]bool
}

// Author is whose a device is.
type Author struct{ Person, Role string }

// New makes an empty log.
func New() *Log { return &Log{farms: map[string]*Farm{}} }

// AddFarm makes an account.
func (l *Log) AddFarm(farm, epoch string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.farms[farm] = &Farm{
		Head: feed.Head{Epoch: epoch}, Devices: map[string]feed.Device{},
		Records: map[string]merge.State{}, Mutations: map[string][]feed.Mutation{},
		Repeats: map[string][]feed.Repeat{},
		Photos:  map[string]bool{}, People: map[string]Author{},
		Stale: map[string]bool{},
	}
}

// AddDevice makes a device known to an account.
func (l *Log) AddDevice(farm, device string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.farms[farm].Devices[device] = feed.Device{}
}

// Farm gives a copy of an account as it is now, for tests to look at and to restore.
func (l *Log) Farm(farm string) Farm {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.farms[farm].copy()
}

// Restore puts an account back to an earlier copy, under a new epoch, as a backup does.
func (l *Log) Restore(farm string, earlier Farm, epoch string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	back := earlier.copy()
	back.Head.Epoch = epoch
	back.Head.Head += feed.RestoreGap
	for id, d := range back.Devices {
		d.Cursor = 0
		back.Devices[id] = d
	}
	l.farms[farm] = &back
}

// copy is deep enough: states and batches are never changed in place.
func (f *Farm) copy() Farm {
	c := *f
	c.Devices, c.Records, c.Mutations = maps.Clone(f.Devices), maps.Clone(f.Records), maps.Clone(f.Mutations)
	c.Repeats = maps.Clone(f.Repeats)
	c.Clones, c.Values = slices.Clone(f.Clones), slices.Clone(f.Values)
	c.Conflicts, c.Results = slices.Clone(f.Conflicts), slices.Clone(f.Results)
	c.Settled, c.Photos = slices.Clone(f.Settled), maps.Clone(f.Photos)
	c.Judged, c.People = slices.Clone(f.Judged), maps.Clone(f.People)
	c.Stale = maps.Clone(f.Stale)
	return c
}

// Write implements feed.Log: all accounts take turns, which is more than a database promises.
func (l *Log) Write(ctx context.Context, farm string, use func(feed.Tx) error) error {
	l.mu.Lock()
	defer l.mu.Unlock()
	state, err := l.find(farm)
	if err != nil {
		return err
	}
	work := state.copy()
	if err := use(&tx{farm: &work}); err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	l.farms[farm] = &work
	return nil
}

// Read implements feed.Log.
func (l *Log) Read(_ context.Context, farm string, use func(feed.View) error) error {
	l.mu.Lock()
	state, err := l.find(farm)
	if err != nil {
		l.mu.Unlock()
		return err
	}
	now := state.copy()
	l.mu.Unlock()
	return use(&tx{farm: &now})
}

func (l *Log) find(farm string) (*Farm, error) {
	state, ok := l.farms[farm]
	if !ok {
		return nil, fault.New(fault.NotFound, "farm", "there is no such account")
	}
	return state, nil
}

// Seen implements feed.Log.
func (l *Log) Seen(_ context.Context, farm, device string, cursor int64, at time.Time) error {
	l.mu.Lock()
	defer l.mu.Unlock()
	state, err := l.find(farm)
	if err != nil {
		return err
	}
	d := state.Devices[device]
	d.Cursor, d.SeenAt = max(d.Cursor, cursor), at
	state.Devices[device] = d
	return nil
}

type tx struct{ farm *Farm }

func (t *tx) Head(context.Context) (feed.Head, error) { return t.farm.Head, nil }

func (t *tx) Rows(_ context.Context, after, upTo int64, limit int) ([]wire.Row, error) {
	var rows []wire.Row
	for _, s := range t.farm.Records {
		if s.Seq > after && s.Seq <= upTo && (!s.Deleted || s.Seq > t.farm.Head.Floor) {
			rows = append(rows, rowOf(s))
		}
	}
	slices.SortFunc(rows, func(a, b wire.Row) int { return int(a.Seq - b.Seq) })
	return rows[:min(len(rows), limit)], nil
}

func (t *tx) Live(_ context.Context, upTo int64, use func(wire.Row) error) error {
	rows, err := t.Rows(context.Background(), 0, upTo, len(t.farm.Records))
	for _, row := range rows {
		if err == nil && !row.Deleted {
			err = use(row)
		}
	}
	return err
}

func rowOf(s merge.State) wire.Row {
	row := wire.Row{ID: s.ID, Kind: s.Kind, Seq: s.Seq, Deleted: s.Deleted, By: s.By(),
		Body: json.RawMessage("{}")}
	if !s.Deleted {
		row.Body, _ = json.Marshal(s.Body)
	}
	return row
}

func (t *tx) Device(_ context.Context, device string) (feed.Device, error) {
	d, ok := t.farm.Devices[device]
	if !ok {
		return d, fault.New(fault.NotFound, "device", "this device is not known here; sign in again")
	}
	d.Moved = t.farm.moved(device)
	return d, nil
}

func (t *tx) Devices(context.Context) ([]feed.Device, error) {
	return slices.Collect(maps.Values(t.farm.Devices)), nil
}

func (t *tx) Photos(_ context.Context, hashes []string) (map[string]bool, error) {
	there := map[string]bool{}
	for _, hash := range hashes {
		there[hash] = t.farm.Photos[hash]
	}
	return there, nil
}

func (t *tx) PhotoRecords(_ context.Context, hash string) ([]merge.State, error) {
	return t.pick(func(s merge.State) bool {
		return s.Kind == "photo" && !s.Deleted && strings.Trim(string(s.Body["sha256"]), `"`) == hash
	}), nil
}

func (t *tx) Taken(_ context.Context, device string, numbers []int64) (map[int64]feed.Taken, error) {
	taken := map[int64]feed.Taken{}
	for _, m := range t.farm.Mutations[device] {
		if slices.Contains(numbers, m.N) {
			taken[m.N] = feed.Taken{Hash: m.Hash, Ack: t.farm.Latest(device, m).Ack}
		}
	}
	for _, r := range t.farm.Repeats[device] {
		if slices.Contains(numbers, r.N) {
			ack := t.farm.At(r.Of).Ack
			ack.N = r.N
			taken[r.N] = feed.Taken{Hash: r.Hash, Ack: ack}
		}
	}
	return taken, nil
}

func (t *tx) Records(_ context.Context, ids []string) ([]merge.State, error) {
	return t.pick(func(s merge.State) bool { return slices.Contains(ids, s.ID) }), nil
}

func (t *tx) OfFields(_ context.Context, fields []string) ([]merge.State, error) {
	return t.pick(func(s merge.State) bool {
		return !s.Deleted && s.Kind != "photo" && (s.Kind == "settings" || slices.Contains(fields, s.ID) ||
			slices.Contains(fields, strings.Trim(string(s.Body["field"]), `"`)))
	}), nil
}

func (t *tx) Stale(_ context.Context, limit int) ([]string, error) {
	ids := slices.Sorted(maps.Keys(t.farm.Stale))
	return ids[:min(len(ids), limit)], nil
}

func (t *tx) Fields(context.Context) ([]string, error) {
	var ids []string
	for _, s := range t.pick(func(s merge.State) bool { return s.Kind == "field" && !s.Deleted }) {
		ids = append(ids, s.ID)
	}
	return ids, nil
}

// pick gives the matching records in the order of their ids.
func (t *tx) pick(match func(merge.State) bool) []merge.State {
	var found []merge.State
	for _, id := range slices.Sorted(maps.Keys(t.farm.Records)) {
		if s := t.farm.Records[id]; match(s) {
			found = append(found, s)
		}
	}
	return found
}

func (t *tx) Save(_ context.Context, b feed.Batch) error {
	f := t.farm
	for _, s := range b.Records {
		if s.Seq <= b.From || s.Seq > b.Head {
			return fault.New(fault.Internal, "seq", "record %s got change number %d outside %d to %d",
				s.ID, s.Seq, b.From+1, b.Head)
		}
		f.Records[s.ID] = s
	}
	f.Head.Head, f.Head.Floor = b.Head, max(f.Head.Floor, b.Floor)
	if b.LastN > 0 {
		d := f.Devices[b.Device]
		d.LastN, d.Cursor = b.LastN, max(d.Cursor, b.Cursor)
		if !b.SeenAt.IsZero() {
			d.SeenAt = b.SeenAt
		}
		f.Devices[b.Device] = d
		f.Mutations[b.Device] = append(slices.Clone(f.Mutations[b.Device]), b.Mutations...)
		f.Repeats[b.Device] = append(slices.Clone(f.Repeats[b.Device]), b.Repeats...)
	}
	if b.Device != "" {
		f.People[b.Device] = Author{b.Person, b.Role}
	}
	for _, id := range b.Stale {
		f.Stale[id] = true
	}
	for _, id := range b.Freshened {
		delete(f.Stale, id)
	}
	f.Judged = append(f.Judged, b.Judgements...)
	f.Clones = append(f.Clones, b.Clones...)
	f.Values = append(f.Values, b.Values...)
	f.Conflicts = append(f.Conflicts, b.Conflicts...)
	f.Settled = append(f.Settled, b.Settled...)
	for _, p := range b.Photos {
		f.Photos[p.Hash] = true
	}
	f.Results = append(f.Results, b.Results...)
	return nil
}
