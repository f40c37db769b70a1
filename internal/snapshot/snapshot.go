// Package snapshot packs an account's live records for a phone's first load: one document, column
// by column, made when it is asked for and kept for the next phone. What happened since comes by
// the feed. It trusts the log it reads; a log that fails makes no snapshot.
//
// The document is JSON:
//
//	{"format":1, "schema":1, "epoch":"...", "seq":123, "ids":"0190f3a1...", "kinds":[KIND ...]}
//	KIND:   {"kind":"dig", "count":2, "id":[...], "seq":[...], "by":[...], "body":COLUMN}
//	COLUMN: {"t":"o", "c":{name: COLUMN ...}}    objects: each value apart
//	        {"t":"l", "n":[2, null ...], "c":COLUMN}  lists: their lengths, then all items in one
//	        {"t":"r", "c":[3, 1, null ...]}      UUIDs, as places in ids
//	        {"t":"v", "c":[any, null ...]}       values as they are
//
// ids holds UUIDs of 32 hex digits, one after the other; the first has place 0. id, by and every
// "r" give the difference to the place before them in the same list (the first: to 0), and seq the
// difference to the change number before (the first: to 0). null means that a row has no such
// value; an object all of whose values are null is itself absent. by is null where the server
// wrote. Rows stand in the order of their change numbers within their kind.
package snapshot

import (
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"hilum/internal/fault"
	"hilum/internal/feed"
	"hilum/internal/kind"
	"hilum/internal/wire"
)

// Format is the version of the document.
const Format = 1

// maxRecords bounds the memory that one snapshot takes. A larger account loads by pages of /sync.
const maxRecords = 100_000

// document is the whole snapshot.
type document struct {
	Format int     `json:"format"`
	Schema int     `json:"schema"`
	Epoch  string  `json:"epoch"`
	Seq    int64   `json:"seq"`
	IDs    string  `json:"ids"`
	Kinds  []table `json:"kinds"`
}

// table holds all live records of one kind.
type table struct {
	Kind  string   `json:"kind"`
	Count int      `json:"count"`
	ID    []*int   `json:"id"`
	Seq   []int64  `json:"seq"`
	By    []*int   `json:"by"`
	Body  *column  `json:"body"`
	ids   []string // before they have places
	by    []string
	rows  []any
	last  int64
}

// pack reads the live records of an account at one moment. TooLarge when there are too many.
func pack(ctx context.Context, log feed.Log, farm string) (feed.Head, []byte, error) {
	var head feed.Head
	tables := map[string]*table{}
	err := log.Read(ctx, farm, func(v feed.View) (err error) {
		if head, err = v.Head(ctx); err != nil {
			return err
		}
		count := 0
		return v.Live(ctx, head.Head, func(r wire.Row) error {
			if count++; count > maxRecords {
				return fault.New(fault.TooLarge, "snapshot",
					"this account has more than %d records; load it by pages", maxRecords)
			}
			return add(tables, r)
		})
	})
	if err != nil {
		return head, nil, err
	}
	raw, err := encode(head, tables)
	return head, raw, err
}

func add(tables map[string]*table, r wire.Row) error {
	t := tables[r.Kind]
	if t == nil {
		t = &table{Kind: r.Kind}
		tables[r.Kind] = t
	}
	body := json.NewDecoder(strings.NewReader(string(r.Body)))
	body.UseNumber()
	var value any
	if err := body.Decode(&value); err != nil {
		return fmt.Errorf("reading record %s: %w", r.ID, err)
	}
	t.Count++
	t.ids, t.by = append(t.ids, r.ID), append(t.by, r.By)
	t.rows = append(t.rows, value)
	t.Seq = append(t.Seq, r.Seq-t.last)
	t.last = r.Seq
	return nil
}

func encode(head feed.Head, tables map[string]*table) ([]byte, error) {
	d := document{Format: Format, Schema: wire.Schema, Epoch: head.Epoch, Seq: head.Head}
	places := &dictionary{place: map[string]int{}}
	order := slices.Sorted(maps.Keys(tables))
	for _, name := range order {
		tables[name].ID = places.deltas(texts(tables[name].ids))
	}
	for _, name := range order {
		t := tables[name]
		t.By = places.deltas(texts(t.by))
		t.Body = places.column(t.rows)
		d.Kinds = append(d.Kinds, *t)
	}
	d.IDs = places.text.String()
	raw, err := json.Marshal(d)
	if err != nil {
		return nil, fmt.Errorf("encoding a snapshot: %w", err)
	}
	return raw, nil
}

func texts(list []string) []any {
	values := make([]any, len(list))
	for i, s := range list {
		if kind.IsID(s) {
			values[i] = s
		}
	}
	return values
}
