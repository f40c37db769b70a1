//go:build js && wasm

package main

import (
	"context"
	"encoding/json"
	"errors"
	"maps"
	"slices"
	"time"

	"hilum/internal/fault"
	"hilum/internal/feed"
	"hilum/internal/memlog"
	"hilum/internal/merge"
	"hilum/internal/snapshot"
	"hilum/internal/wire"
)

// request is one call from the host; Op says which of the rest counts.
type request struct {
	Op      string `json:"op"` // a case of do
	Farm    string `json:"farm"`
	Person  string `json:"person"`
	Device  string `json:"device"`
	Role    string `json:"role"`
	Epoch   string `json:"epoch"`
	Body    string `json:"body"`    // of a sync, as the phone sent it
	Now     int64  `json:"now"`     // the server's clock, Unix seconds
	Crash   int    `json:"crash"`   // boundary at which the server dies, from 1; 0 = it lives
	Copy    int    `json:"copy"`    // which earlier copy to restore
	Hash    string `json:"hash"`    // of a photo whose bytes come
	Tag     string `json:"tag"`     // version of the packed account that a phone has a part of
	Busy    bool   `json:"busy"`    // so that results are put off
	Planted string `json:"planted"` // a fault to carry; empty = none
}

// reply is the answer; Status is as over HTTP.
type reply struct {
	Status    int                `json:"status"`
	Problem   *wire.Problem      `json:"problem,omitempty"`
	Answer    *wire.SyncResponse `json:"answer,omitempty"`
	Committed []logged           `json:"committed,omitempty"` // by this call, or all after a restore
	Copy      int                `json:"copy"`
	Head      int64              `json:"head"`
	Floor     int64              `json:"floor"`
	Epoch     string             `json:"epoch"`
	Rows      []wire.Row         `json:"rows,omitempty"`
	Wrote     int                `json:"wrote"`
	Judged    []wire.Judged      `json:"judged,omitempty"` // of what the owner took up
	Text      string             `json:"text,omitempty"`   // the packed account
	Tag       string             `json:"tag,omitempty"`    // and its version
	Boundary  int                `json:"boundary"`         // transaction boundaries that this call passed
	State     *state             `json:"state,omitempty"`
}

// logged is one stored mutation.
type logged struct {
	Device  string `json:"device"`
	N       int64  `json:"n"`
	Raw     string `json:"raw"`
	Outcome string `json:"outcome"`
	Seq     int64  `json:"seq"`
	Clone   bool   `json:"clone,omitempty"`
	Lacks   string `json:"lacks,omitempty"` // the record for want of which it is set aside
	Why     string `json:"why,omitempty"`   // the code of the reason why it is set aside
	Repeat  bool   `json:"repeat,omitempty"`
	Was     *place `json:"was,omitempty"` // where it was first, if under another device id
}

type place struct {
	Device string `json:"device"`
	N      int64  `json:"n"`
}

// world is one account and its server.
type world struct {
	log    *memlog.Log
	farm   string
	copies []memlog.Farm
	server server
	packed *snapshot.Cache
}

func (w *world) do(req request) reply {
	ctx := context.Background()
	w.server.call(w.log, req)
	switch req.Op {
	case "farm":
		w.log, w.farm, w.copies = memlog.New(), req.Farm, nil
		w.server = server{seconds: map[int64]int64{}, revoked: map[string]bool{}}
		w.log.AddFarm(req.Farm, req.Epoch)
		w.packed = snapshot.New(&w.server)
	case "device":
		w.enrol(req.Device)
	case "sync", "handIn":
		return w.sync(ctx, req)
	case "takeUp":
		return w.takeUp(ctx, req)
	case "copy":
		w.copies = append(w.copies, w.log.Farm(w.farm))
		return reply{Status: 200, Copy: len(w.copies) - 1}
	case "restore":
		return w.restore(req)
	case "revoke":
		w.server.revoked[req.Device] = true
	case "snapshot":
		return w.snapshot(ctx, req)
	case "photo":
		return w.photo(ctx, req)
	case "rows":
		return w.rows(ctx)
	case "state":
		now := stateOf(w.log.Farm(w.farm))
		now.Saves = w.server.saves
		return reply{Status: 200, State: now}
	case "tidy":
		_, err := w.door().Tidy(ctx, w.farm)
		if err == nil {
			_, err = w.door().TakeUp(ctx, w.farm)
		}
		return failure(err, reply{Status: 200})
	case "freshen":
		return failure(w.freshen(ctx), reply{Status: 200})
	case "recompute":
		wrote, err := w.door().Recompute(ctx, w.farm)
		return failure(err, reply{Status: 200, Wrote: wrote})
	}
	return reply{Status: 200}
}

// freshen computes all that was put off.
func (w *world) freshen(ctx context.Context) error {
	for more := true; more; {
		var err error
		if more, err = w.door().Freshen(ctx, w.farm); err != nil {
			return err
		}
	}
	return nil
}

// enrol leaves a device that is known as it is, as a second sign-in does.
func (w *world) enrol(device string) {
	if _, known := w.log.Farm(w.farm).Devices[device]; !known {
		w.log.AddDevice(w.farm, device)
	}
}

func (w *world) door() feed.Door {
	return feed.Door{Log: &w.server, PutOff: func() bool { return w.server.req.Busy },
		Now: func() time.Time { return time.Unix(w.server.req.Now, 0) }}
}

func (w *world) sync(ctx context.Context, req request) reply {
	var body wire.SyncRequest
	if err := json.Unmarshal([]byte(req.Body), &body); err != nil {
		return failure(fault.New(fault.Invalid, "json", "is not JSON: %s", err), reply{})
	}
	if answer := w.server.before(w.log.Farm(w.farm), &body); answer != nil {
		return *answer
	}
	who := feed.Author{Farm: w.farm, Person: req.Person, Device: req.Device, Role: req.Role}
	serve := w.door().Sync
	if req.Op == "handIn" {
		serve = w.door().HandIn
	}
	out, err := serve(ctx, who, body)
	r := reply{Status: 200, Committed: w.server.committed, Boundary: w.server.boundary}
	if err == nil {
		w.server.after(body, &out)
		r.Answer = &out
	}
	if errors.Is(err, errCrash) {
		w.packed = snapshot.New(&w.server) // another process
	}
	return failure(err, r)
}

// takeUp is the owner's word on all that a shut-out device handed in.
func (w *world) takeUp(ctx context.Context, req request) reply {
	var numbers []int64
	for _, m := range mutationsOf(w.log.Farm(w.farm)) {
		if m.Device == req.Device && m.Why == feed.HandInCode {
			numbers = append(numbers, m.N)
		}
	}
	judged, err := w.door().SettleAside(ctx, feed.Author{Farm: w.farm}, req.Device, numbers, true)
	return failure(err, reply{Status: 200, Judged: judged})
}

// failure puts an error into a reply, with the status that the server's edge gives it.
func failure(err error, r reply) reply {
	if err == nil {
		return r
	}
	status := map[fault.Kind]int{fault.Invalid: 400, fault.NotFound: 404, fault.Conflict: 409,
		fault.Unauthorized: 401, fault.Forbidden: 403, fault.TooLarge: 413, fault.TooMany: 429,
		fault.Unavailable: 503}
	r.Status, r.Problem = status[fault.KindOf(err)], wire.ProblemOf(err)
	if errors.Is(err, errCrash) || r.Status == 0 {
		r.Status = 500
		r.Problem = &wire.Problem{Code: "internal", Message: err.Error()}
	}
	if errors.Is(err, errCrash) {
		r.Status = 0 // nobody answers
	}
	return r
}

func (w *world) restore(req request) reply {
	epoch := req.Epoch
	if req.Planted == "epochKept" {
		epoch = w.log.Farm(w.farm).Head.Epoch
	}
	w.log.Restore(w.farm, w.copies[req.Copy], epoch)
	w.server.saves = nil
	w.packed = snapshot.New(&w.server) // another process
	return reply{Status: 200, Committed: mutationsOf(w.log.Farm(w.farm))}
}

func (w *world) snapshot(ctx context.Context, req request) reply {
	s, err := w.packed.Get(ctx, w.farm, req.Tag)
	if err != nil {
		return failure(err, reply{})
	}
	plain, err := s.As("")
	return failure(err, reply{Status: 200, Text: string(plain), Tag: s.Tag()})
}

// photo is the server's edge of a photo's bytes: a live record must name them.
func (w *world) photo(ctx context.Context, req request) reply {
	_, err := w.door().Awaited(ctx, w.farm, req.Hash)
	if err == nil {
		err = w.door().Stored(ctx, w.farm, feed.Photo{Hash: req.Hash, Size: 3, Clean: req.Hash})
	}
	return failure(err, reply{Status: 204})
}

func (w *world) rows(ctx context.Context) reply {
	r := reply{Status: 200, Rows: []wire.Row{}}
	err := w.log.Read(ctx, w.farm, func(v feed.View) error {
		head, err := v.Head(ctx)
		if err != nil {
			return err
		}
		r.Head, r.Floor, r.Epoch = head.Head, head.Floor, head.Epoch
		return v.Live(ctx, head.Head, func(row wire.Row) error {
			r.Rows = append(r.Rows, row)
			return nil
		})
	})
	return failure(err, r)
}

// state is the whole account as the checks want to see it.
type state struct {
	Head      int64             `json:"head"`
	Mutations []logged          `json:"mutations"`
	Texts     map[string]string `json:"texts"`     // by record: all that it shows, showed or contests
	Deleted   map[string]int64  `json:"deleted"`   // deleted records that clients write
	Contested map[string]bool   `json:"contested"` // records with a conflict, open or settled
	Results   int               `json:"results"`
	Clones    int               `json:"clones"`
	Saves     [][2]int64        `json:"saves"`  // head before and after each transaction
	Bodies    map[string]string `json:"bodies"` // by record, without anything a clock said
}

func loggedAs(device string, m feed.Mutation, clone bool) logged {
	why := ""
	if m.Ack.Problem != nil {
		why = m.Ack.Problem.Code
	}
	l := logged{Device: device, N: m.N, Raw: string(m.Raw), Outcome: m.Ack.Outcome,
		Seq: m.Ack.Seq, Clone: clone, Lacks: m.Lacks, Why: why}
	if m.Former != nil {
		l.Was = &place{m.Former.Device, m.Former.N}
	}
	return l
}

// repeats are numbers of a device that stand for an entry on record.
func repeats(device string, list []feed.Repeat) []logged {
	all := make([]logged, len(list))
	for i, r := range list {
		all[i] = logged{Device: device, N: r.N, Repeat: true}
	}
	return all
}

func mutationsOf(f memlog.Farm) []logged {
	all := []logged{}
	for _, device := range slices.Sorted(maps.Keys(f.Mutations)) {
		from := len(all)
		for _, m := range f.Mutations[device] {
			m = f.Latest(device, m)
			all = append(all, loggedAs(device, m, false))
		}
		all = append(all, repeats(device, f.Repeats[device])...)
		for i, r := range f.Repeats[device] {
			of := loggedAs(r.Of.Device, f.At(r.Of), false)
			l := &all[len(all)-len(f.Repeats[device])+i]
			if l.Outcome, l.Was = of.Outcome, of.Was; l.Was == nil {
				l.Was = &place{r.Of.Device, r.Of.N}
			}
		}
		slices.SortFunc(all[from:], func(a, b logged) int { return int(a.N - b.N) })
	}
	return all
}

func stateOf(f memlog.Farm) *state {
	s := &state{Head: f.Head.Head, Mutations: mutationsOf(f), Texts: map[string]string{},
		Deleted: map[string]int64{}, Bodies: map[string]string{}, Contested: map[string]bool{},
		Results: len(f.Results), Clones: len(f.Clones)}
	for id, r := range f.Records {
		raw, _ := json.Marshal(r.Body)
		switch r.Kind {
		case "result":
		case "conflict":
			var of string
			_ = json.Unmarshal(r.Body["record"], &of)
			s.Contested[of] = true
		default:
			s.Texts[id] += string(raw)
			s.Bodies[id] = string(raw)
			if r.Deleted {
				s.Deleted[id], s.Bodies[id] = r.Stamps[merge.Life].Seq, "deleted"
			}
		}
	}
	for _, v := range f.Values {
		s.Texts[v.Record] += string(v.Value)
	}
	return s
}
