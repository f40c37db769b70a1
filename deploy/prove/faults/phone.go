package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"slices"
	"sync/atomic"
	"time"

	"github.com/google/uuid"

	"hilum/internal/demo"
	"hilum/internal/wire"
)

// row is what a phone holds of a record, and what the history says of it.
type row struct {
	ID  string `json:"id"`
	Seq int64  `json:"seq"`
	Sum string `json:"sum"`
	Del bool   `json:"del,omitempty"`
}

// sum stands for a body, whatever the spacing and the order of its keys.
func sum(body []byte) string {
	var value any
	if err := json.Unmarshal(body, &value); err != nil {
		return "unreadable"
	}
	canonical, err := json.Marshal(value)
	if err != nil {
		return "unreadable"
	}
	digest := sha256.Sum256(canonical)
	return hex.EncodeToString(digest[:8])
}

// waiting is an outbox entry, its bytes fixed.
type waiting struct {
	n   int64
	rec string
	raw json.RawMessage
}

// phone follows the protocol of package wire; pages and indexes it does without.
type phone struct {
	device, login, url string
	log                *journal
	client             *http.Client
	random             *rand.Rand
	access             string
	n, acked           atomic.Int64
	outbox             []waiting
	epoch              string
	cursor, floor      int64
	base               map[string]row
	bodies             map[string]wire.Row // of the kinds that it edits
}

func newPhone(i int, url string, log *journal, seed uint64) *phone {
	login := "scout"
	if i%2 == 1 {
		login = "consultant"
	}
	return &phone{device: uuid.NewString(), login: login, url: url, log: log,
		client: &http.Client{Timeout: 20 * time.Second, Transport: &http.Transport{}},
		random: rand.New(rand.NewPCG(seed, uint64(100+i))),
		base:   map[string]row{}, bodies: map[string]wire.Row{}}
}

// write edits and syncs until ctx ends. No failure touches the outbox.
func (p *phone) write(ctx context.Context) {
	for ctx.Err() == nil {
		if p.cursor > 0 {
			for range 1 + p.random.IntN(4) {
				p.edit()
			}
		}
		if _, err := p.sync(ctx); err != nil {
			_ = pause(ctx, time.Duration(20+p.random.IntN(80))*time.Millisecond)
		}
	}
}

// drain syncs until nothing is left to send or fetch.
func (p *phone) drain(ctx context.Context) error {
	for tries := 0; ; tries++ {
		more, err := p.sync(ctx)
		switch {
		case err == nil && !more && len(p.outbox) == 0:
			return nil
		case ctx.Err() != nil || tries > 200:
			return fmt.Errorf("%d entries are left: %w", len(p.outbox), errors.Join(err, ctx.Err()))
		case err != nil:
			_ = pause(ctx, 20*time.Millisecond)
		}
	}
}

// sync is one round trip.
func (p *phone) sync(ctx context.Context) (more bool, err error) {
	if p.access == "" {
		if err := p.signIn(ctx); err != nil {
			return false, err
		}
	}
	batch := p.outbox[:min(len(p.outbox), 200)]
	req := wire.SyncRequest{Proto: wire.Proto, Schema: wire.Schema, Device: p.device,
		Epoch: p.epoch, Cursor: p.cursor, Floor: p.floor, Push: []json.RawMessage{}}
	push := []map[string]any{}
	for _, w := range batch {
		req.Push = append(req.Push, w.raw)
		push = append(push, map[string]any{"n": w.n, "rec": w.rec})
	}
	op := p.log.invoke(map[string]any{"dev": p.device, "push": push, "cursor": p.cursor,
		"epoch": p.epoch})
	var out wire.SyncResponse
	status, err := p.post(ctx, "/api/v1/farms/"+demo.Farm+"/sync", req, &out)
	switch {
	case err == nil:
		p.logged(op, out)
		return out.More, p.take(out)
	case status == http.StatusTooManyRequests:
		p.log.write(map[string]any{"e": "fail", "op": op})
		_ = pause(ctx, time.Second) // pushes are limited per device, and one comes free in half of it
	case status >= 400 && status < 500:
		p.log.write(map[string]any{"e": "fail", "op": op})
		p.access = ""
	default:
		p.log.write(map[string]any{"e": "unknown", "op": op})
	}
	return false, err
}

func (p *phone) logged(op int, out wire.SyncResponse) {
	rows, acks := []row{}, []map[string]any{}
	for _, r := range out.Rows {
		rows = append(rows, rowOf(r))
	}
	for _, a := range out.Acks {
		acks = append(acks, map[string]any{"n": a.N, "outcome": a.Outcome, "seq": a.Seq})
	}
	p.log.write(map[string]any{"e": "ok", "op": op, "epoch": out.Epoch, "head": out.Head,
		"cursor": out.Cursor, "reset": out.Reset, "acks": acks, "rows": rows})
}

func rowOf(r wire.Row) row { return row{r.ID, r.Seq, sum(r.Body), r.Deleted} }

// take stores an answer: rows with the cursor, and what was acknowledged off the outbox.
func (p *phone) take(out wire.SyncResponse) error {
	if out.Expect > 0 {
		return fmt.Errorf("the server misses %d, which was acknowledged or never made", out.Expect)
	}
	if out.Reset {
		p.base, p.bodies = map[string]row{}, map[string]wire.Row{}
	}
	for _, r := range out.Rows {
		delete(p.base, r.ID)
		delete(p.bodies, r.ID)
		if !r.Deleted {
			p.base[r.ID] = rowOf(r)
			p.remember(r)
		}
	}
	p.epoch, p.cursor, p.floor = out.Epoch, out.Cursor, out.Floor
	for _, a := range out.Acks {
		if a.Outcome == wire.Cloned {
			return fmt.Errorf("%d was taken for a clone's", a.N)
		}
		p.acked.Add(1)
	}
	p.outbox = slices.DeleteFunc(p.outbox, func(w waiting) bool {
		return slices.ContainsFunc(out.Acks, func(a wire.Ack) bool { return a.N == w.n })
	})
	return nil
}

func (p *phone) rows() []row {
	rows := []row{}
	for _, r := range p.base {
		rows = append(rows, r)
	}
	return rows
}

func (p *phone) signIn(ctx context.Context) error {
	var session wire.Session
	_, err := p.post(ctx, "/api/v1/signin", wire.SignIn{Login: p.login, Password: demo.Password,
		Device: p.device, DeviceName: "Phone"}, &session)
	p.access = session.Access
	return err
}

// post gives the status of an answer, 0 when there was none that could be read to its end.
func (p *phone) post(ctx context.Context, path string, body, into any) (int, error) {
	raw, err := json.Marshal(body)
	if err != nil {
		return 0, err
	}
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, p.url+path, bytes.NewReader(raw))
	if err != nil {
		return 0, err
	}
	req.Header.Set("Content-Type", "application/json")
	req.Header.Set("Authorization", "Bearer "+p.access)
	answer, err := p.client.Do(req)
	if err != nil {
		return 0, err
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		return 0, err
	}
	if answer.StatusCode != http.StatusOK {
		return answer.StatusCode, fmt.Errorf("%s answered %d %s", path, answer.StatusCode, text)
	}
	return answer.StatusCode, json.Unmarshal(text, into)
}
