// Command kill proves the promise "at the farm server": it pushes digs without pause, kills the
// server with SIGKILL at random moments, starts it again on the same data, and checks that nothing
// acknowledged is missing and that no repeat made a second record. The database runs with fsync on
// and dies with the server.
//
//	go run ./deploy/prove/kill [-rounds 8] [-seed 1]
package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"time"

	"github.com/google/uuid"

	"hilum/deploy/prove/program"
	"hilum/internal/agro"
	"hilum/internal/demo"
	"hilum/internal/feed"
	"hilum/internal/wire"
)

func main() {
	rounds := flag.Int("rounds", 8, "how often the server is killed")
	seed := flag.Uint64("seed", 1, "of the moments of the kills")
	binary := flag.String("program", ".build/hilum", "the server")
	flag.Parse()
	if err := prove(context.Background(), *rounds, *seed, *binary); err != nil {
		fmt.Fprintf(os.Stderr, "kill: %v\n", err)
		os.Exit(1)
	}
}

func prove(ctx context.Context, rounds int, seed uint64, binary string) error {
	dir, err := os.MkdirTemp("", "hilum-kill-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	if err := os.Chmod(dir, 0o755); err != nil {
		return err
	}
	s := &program.Program{Binary: binary, Data: dir, Log: os.Stderr}
	defer s.Stop()
	p := &phone{ctx: ctx, device: uuid.NewString(), server: s, acked: map[string]bool{}}
	moments := rand.New(rand.NewPCG(seed, 2))
	for round := range rounds {
		if err := s.Start(ctx, "--demo"); err != nil {
			return fmt.Errorf("round %d: starting: %w", round, err)
		}
		if err := p.signIn(); err != nil {
			return fmt.Errorf("round %d: %w", round, err)
		}
		if err := p.check(); err != nil {
			return fmt.Errorf("round %d: %w", round, err)
		}
		wait := time.Duration(100+moments.IntN(900)) * time.Millisecond
		time.AfterFunc(wait, s.Kill)
		p.pushUntilDead()
		<-s.Gone()
	}
	return p.last()
}

// phone pushes digs and remembers what was acknowledged.
type phone struct {
	ctx      context.Context
	server   *program.Program
	device   string
	farm     string
	field    string
	year     int
	access   string
	n        int64
	outbox   []json.RawMessage // not acknowledged yet
	sent     []string          // record of each number, from 1
	acked    map[string]bool
	repeated int
}

func (p *phone) signIn() error {
	var session wire.Session
	body := wire.SignIn{Login: "scout", Password: demo.Password, Device: p.device}
	if err := p.server.Post(p.ctx, "/api/v1/signin", "", body, &session); err != nil {
		return fmt.Errorf("signing in: %w", err)
	}
	p.farm, p.access = session.Farm, session.Access
	return nil
}

func (p *phone) sync(
	push []json.RawMessage,
	cursor int64,
	epoch string,
) (wire.SyncResponse, error) {
	var out wire.SyncResponse
	err := p.server.Post(p.ctx, "/api/v1/farms/"+p.farm+"/sync", p.access, wire.SyncRequest{
		Proto: wire.Proto, Schema: wire.Schema, Device: p.device, Push: push,
		Cursor: cursor, Epoch: epoch,
	}, &out)
	return out, err
}

// pushUntilDead adds digs and pushes the whole outbox until the server is gone.
func (p *phone) pushUntilDead() {
	for {
		for range 1 + p.n%5 {
			p.dig()
		}
		out, err := p.sync(p.outbox, 1<<40, "")
		if err != nil {
			return
		}
		p.take(out.Acks)
	}
}

func (p *phone) dig() {
	p.n++
	rec := uuid.NewString()
	plant := wire.DigPlant{ID: uuid.NewString(), Plant: agro.Plant{
		Vigour: "vigorous", Nodules: "over5", Inside: "pink", Position: "crownAndLateral"}}
	body := wire.Dig{
		Field:    p.field,
		CropYear: p.year,
		Date:     fmt.Sprintf("%d-06-12", p.year),
		Spots:    []wire.DigSpot{{ID: uuid.NewString(), Plants: []wire.DigPlant{plant}}},
	}
	raw, err := feed.NewMutation(p.n, rec, "dig", 0, body, time.Now())
	if err != nil {
		panic(err) // a body of ours that is not JSON
	}
	p.outbox, p.sent = append(p.outbox, raw), append(p.sent, rec)
}

func (p *phone) take(acks []wire.Ack) {
	for _, a := range acks {
		rec := p.sent[a.N-1]
		if a.Outcome != wire.Applied {
			panic(fmt.Sprintf("dig %d got the outcome %s: %+v", a.N, a.Outcome, a.Problem))
		}
		p.acked[rec] = true
	}
	p.outbox = p.outbox[min(len(acks), len(p.outbox)):]
}

// all reads the whole feed from its beginning.
func (p *phone) all() (map[string]int, error) {
	seen, cursor, epoch := map[string]int{}, int64(0), ""
	for {
		out, err := p.sync(nil, cursor, epoch)
		if err != nil {
			return nil, fmt.Errorf("reading the feed: %w", err)
		}
		for _, row := range out.Rows {
			seen[row.ID]++
			if row.Kind == "season" && p.field == "" {
				p.pick(row)
			}
		}
		cursor, epoch = out.Cursor, out.Epoch
		if !out.More {
			return seen, nil
		}
	}
}

// pick takes the field of the first pea season of the newest year.
func (p *phone) pick(row wire.Row) {
	var s wire.Season
	if json.Unmarshal(row.Body, &s) == nil && s.Crop == "pea" && s.Status == "started" {
		p.field, p.year = s.Field, s.CropYear
	}
}

// check demands that everything acknowledged is in the feed, once.
func (p *phone) check() error {
	seen, err := p.all()
	if err != nil {
		return err
	}
	for rec := range p.acked {
		if seen[rec] != 1 {
			return fmt.Errorf(
				"dig %s was acknowledged and stands %d times in the feed",
				rec,
				seen[rec],
			)
		}
	}
	if p.field == "" {
		return fmt.Errorf("the demo has no pea field of the running year")
	}
	for _, raw := range p.outbox {
		var m wire.Mutation
		if json.Unmarshal(raw, &m) == nil && seen[m.Rec] > 0 {
			p.repeated++ // committed, and the answer was lost: the next push repeats it
		}
	}
	return nil
}

func (p *phone) last() error {
	if err := p.server.Start(p.ctx, "--demo"); err != nil {
		return err
	}
	if err := p.signIn(); err != nil {
		return err
	}
	out, err := p.sync(p.outbox, 1<<40, "")
	if err != nil {
		return err
	}
	p.take(out.Acks)
	if err := p.check(); err != nil {
		return err
	}
	seen, err := p.all()
	if err != nil {
		return err
	}
	for _, rec := range p.sent {
		if seen[rec] != 1 {
			return fmt.Errorf("dig %s stands %d times in the feed, want once", rec, seen[rec])
		}
	}
	fmt.Printf("%d kills, %d digs sent, %d acknowledged, 0 missing, 0 doubled; "+
		"%d were committed although their answer was lost\n",
		p.server.Kills, len(p.sent), len(p.acked), p.repeated)
	return nil
}
