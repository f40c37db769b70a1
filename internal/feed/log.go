// Package feed is the one door by which synced records are read and written: phone, desk, demo
// and command line all go through it. It knows nothing of HTTP and nothing of SQL.
package feed

import (
	"context"
	"encoding/json"
	"time"

	"hilum/internal/merge"
	"hilum/internal/wire"
)

// Log is where an account's changes are kept. One transaction serves one account.
type Log interface {
	// Write runs use in one transaction that holds the account's head: writers of one account
	// come one after the other, and their order is the order of change numbers. All or nothing.
	Write(ctx context.Context, farm string, use func(Tx) error) error
	// Seen notes that a device stores every row up to a number. It needs no lock of the head.
	Seen(ctx context.Context, farm, device string, cursor int64, at time.Time) error
	// Read runs use in one read-only transaction that sees a single moment.
	Read(ctx context.Context, farm string, use func(View) error) error
}

// View reads one account as it stood at one moment.
type View interface {
	Head(ctx context.Context) (Head, error)
	// Rows gives records changed after a number and up to another, ascending, at most limit.
	// Deleted ones from the floor down are left out: nobody holds those any more.
	Rows(ctx context.Context, after, upTo int64, limit int) ([]wire.Row, error)
	// Live hands over the records that are not deleted, changed up to a number, ascending.
	Live(ctx context.Context, upTo int64, use func(wire.Row) error) error
	// PhotoRecords gives the live records of photos with this hash.
	PhotoRecords(ctx context.Context, hash string) ([]merge.State, error)
	// Judged gives what became later of entries of one person's devices that had been set aside,
	// by judgements after a number and up to another, in their order.
	Judged(ctx context.Context, person string, after, upTo int64) ([]wire.Judged, error)
}

// Tx is a writing transaction of one account, its head locked.
type Tx interface {
	View
	// Device gives what is known of a device; NotFound when it was never enrolled.
	Device(ctx context.Context, device string) (Device, error)
	// Devices gives all devices of the account.
	Devices(ctx context.Context) ([]Device, error)
	// Taken gives the mutations of a device among the numbers asked for.
	Taken(ctx context.Context, device string, numbers []int64) (map[int64]Taken, error)
	// OnRecord gives those of the entries that one person's devices have brought, under whichever
	// id. One that was brought by a device of somebody else is not among them.
	OnRecord(ctx context.Context, person string, entries []First) ([]Known, error)
	// Repeats gives what these devices have repeated, and what was repeated of theirs.
	Repeats(ctx context.Context, devices []string) ([]Repeat, error)
	// Photos says which of these hashes are stored.
	Photos(ctx context.Context, hashes []string) (map[string]bool, error)
	// Records gives the records with these ids, deleted ones too.
	Records(ctx context.Context, ids []string) ([]merge.State, error)
	// OfFields gives the live records that belong to these fields, and the account's settings;
	// photos are left out, since no result hangs on them.
	OfFields(ctx context.Context, fields []string) ([]merge.State, error)
	// Fields gives the ids of all live fields, in the order of their ids.
	Fields(ctx context.Context) ([]string, error)
	// Lacking gives the entries set aside for want of one of these records, by device and number.
	// No ids: those whose want has ended, since the record is there.
	Lacking(ctx context.Context, ids []string) ([]Aside, error)
	// Asides gives the entries of a device with these numbers that are still set aside.
	Asides(ctx context.Context, device string, numbers []int64) ([]Aside, error)
	// HandedIn counts what came from a device after it was shut out.
	HandedIn(ctx context.Context, device string) (entries, bytes int64, err error)
	// Stale gives fields whose results were put off, at most limit, in the order of their ids.
	Stale(ctx context.Context, limit int) ([]string, error)
	// Save stores a batch.
	Save(ctx context.Context, b Batch) error
}

// Head is the newest change number of an account, and the oldest that a cursor may stand at.
type Head struct {
	Epoch string
	Head  int64
	Floor int64
}

// Device is a phone or desk as the door knows it.
type Device struct {
	LastN   int64
	Revoked bool
	Cursor  int64 // it stores every row up to this number; 0: it has said nothing yet
	SeenAt  time.Time
	Moved   bool // entries of it are on record under another id, or it has repeated such
}

// Taken is a mutation that was taken before.
type Taken struct {
	Hash [32]byte
	Ack  wire.Ack
}

// Batch is all that one push, or one recompute, stores.
type Batch struct {
	From      int64 // head before
	Head      int64 // head after
	Floor     int64 // 0 leaves the floor as it is
	Device    string
	Person    string // whose device it is
	Role      string
	LastN     int64 // 0 leaves the device as it is
	Cursor    int64 // noted with LastN, see Log.Seen; SeenAt zero: it says nothing
	SeenAt    time.Time
	Records   []merge.State
	Mutations []Mutation
	Repeats   []Repeat
	Clones    []Mutation
	Values    []Value
	Conflicts []Conflict
	Settled   []Settled
	Photos    []Photo
	Results   []Result

	Judgements []Judgement
	Stale      []string // fields whose results are put off
	Freshened  []string // fields whose results were, and are not any more
}

// Mutation is one pushed entry, its bytes as sent.
type Mutation struct {
	N      int64
	Hash   [32]byte
	Schema int
	Raw    []byte
	Ack    wire.Ack
	Lacks  string // id of the record for want of which it is set aside
	Former *First // where it was first, under another device id
}

// Aside is an entry that was set aside, with its person as the account knows them now.
type Aside struct {
	Device, Person, Role string
	N                    int64
	Raw                  []byte
}

// Judgement is what a later look at an entry that was set aside came to.
type Judgement struct {
	Device string
	Ack    wire.Ack
	Lacks  string // as in Mutation
	Seq    int64  // of the judgement, so that phones learn of it
	By     string // person who took it up by hand
}

// Value is a value that is no longer shown.
type Value struct {
	Record string
	merge.Replaced
	Seq int64 // change number that replaced it
}

// Conflict waits for a person.
type Conflict struct {
	Record string
	Seq    int64
	merge.Open
}

// Settled ends the conflicts over one value that a person had seen.
type Settled struct {
	Record string
	Field  string
	By     string // person
	Seq    int64
	Seen   int64           // conflicts opened after this number stay open
	Value  json.RawMessage // which is right
}

// Photo is a picture whose bytes are safe.
type Photo struct {
	Hash  string // hex, of the bytes as sent
	Size  int    // bytes as stored
	Clean string // hex, of the bytes as stored
}

// Result is one computed result with its whole report.
type Result struct {
	ID         string
	Seq        int64
	InputSeq   int64
	Body       wire.Result
	ComputedAt time.Time
	Report     json.RawMessage // empty when the case had a problem
}
