//go:build js && wasm

package main

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"slices"

	"hilum/internal/feed"
	"hilum/internal/memlog"
	"hilum/internal/merge"
	"hilum/internal/wire"
)

// Planted faults: what a careless server would do. They prove that the checks see something.

// plant spoils a batch.
func (t *tx) plant(ctx context.Context, b *feed.Batch) error {
	switch t.server.req.Planted {
	case "historyNotWritten":
		b.Values = nil
	case "conflictDropped":
		b.Conflicts = nil
		b.Records = slices.DeleteFunc(b.Records, func(s merge.State) bool {
			return s.Kind == "conflict"
		})
	case "putOffForgotten":
		b.Stale = nil
	case "editAlone":
		forgetEdits(b)
	case "partialCommit":
		if t.server.boundary+1 == t.server.req.Crash {
			b.Records = b.Records[:len(b.Records)/2]
		}
	case "mutationNotKept":
		if len(b.Mutations) > 1 {
			b.Mutations = b.Mutations[1:]
		}
	case "clockWins", "deletedWins", "firstWins":
		return t.keepOld(ctx, b)
	}
	return nil
}

// forgetEdits refuses for good what waits only for the making of its own record.
func forgetEdits(b *feed.Batch) {
	for i, m := range b.Mutations {
		var of wire.Mutation
		if json.Unmarshal(m.Raw, &of) == nil && of.Base == 0 && of.Rec == m.Lacks {
			b.Mutations[i].Lacks = ""
		}
	}
}

// keepOld lets the older state win where the planted rule says so.
func (t *tx) keepOld(ctx context.Context, b *feed.Batch) error {
	for i, s := range b.Records {
		old, err := t.Tx.Records(ctx, []string{s.ID})
		if err != nil {
			return err
		}
		if len(old) == 1 && s.Kind != "conflict" && s.Kind != "result" {
			b.Records[i] = older(t.server.req.Planted, old[0], s)
		}
	}
	return nil
}

func older(rule string, old, now merge.State) merge.State {
	if rule == "deletedWins" {
		now.Deleted = old.Deleted || now.Deleted
		return now
	}
	for field, stamp := range now.Stamps {
		was, had := old.Stamps[field]
		late := rule == "firstWins" || stamp.Said < was.Said
		if had && late && stamp.Seq != was.Seq && len(old.Body[field]) > 0 {
			now.Body[field], now.Stamps[field] = old.Body[field], was
		}
	}
	return now
}

func (s *server) push() []json.RawMessage {
	var body wire.SyncRequest
	if json.Unmarshal([]byte(s.req.Body), &body) != nil {
		return nil
	}
	return body.Push
}

func numberOf(raw json.RawMessage) int64 {
	var m struct {
		N int64 `json:"n"`
	}
	if json.Unmarshal(raw, &m) != nil {
		return 0
	}
	return m.N
}

func (s *server) numbers() []int64 {
	var all []int64
	for _, raw := range s.push() {
		all = append(all, numberOf(raw))
	}
	return all
}

func (s *server) hashOf(n int64) [32]byte {
	for _, raw := range s.push() {
		if numberOf(raw) == n {
			return sha256.Sum256(raw)
		}
	}
	return [32]byte{}
}

// dropKnown takes a record that is known for a repeat.
func (s *server) dropKnown(now memlog.Farm, body *wire.SyncRequest) *reply {
	known := false
	var acks []wire.Ack
	for _, raw := range body.Push {
		var m wire.Mutation
		if json.Unmarshal(raw, &m) == nil {
			_, is := now.Records[m.Rec]
			known = known || is
			acks = append(acks, wire.Ack{N: m.N, Outcome: wire.Applied})
		}
	}
	if !known || len(acks) != 1 {
		return nil
	}
	return &reply{Status: 200, Answer: &wire.SyncResponse{Epoch: now.Head.Epoch, Head: now.Head.Head,
		Cursor: body.Cursor, Acks: acks, Rows: []wire.Row{}, ServerTime: "2027-06-14T12:00:00Z"}}
}

// refusePoison refuses a whole push for one bad entry.
func (s *server) refusePoison(body *wire.SyncRequest) *reply {
	for _, raw := range body.Push {
		var m wire.Mutation
		if json.Unmarshal(raw, &m) != nil || m.Rec == "" || len(m.Set) == 0 && !m.Del {
			return &reply{Status: 500, Problem: &wire.Problem{Code: "internal", Message: "no"}}
		}
	}
	return nil
}

// byTime leaves out rows of the second that the cursor's own row was committed in.
func (s *server) byTime(body wire.SyncRequest, out *wire.SyncResponse) {
	out.Rows = slices.DeleteFunc(out.Rows, func(r wire.Row) bool {
		return body.Cursor > 0 && s.seconds[r.Seq] <= s.seconds[body.Cursor]
	})
}
