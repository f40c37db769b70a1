// Command faults proves the promise "at the farm server" on real parts: the real server and a real
// PostgreSQL with fsync on, phones that write without pause, and between them a proxy that drops
// answers after the commit, sends requests twice or days late, and cuts both short; server and
// database are killed with SIGKILL at random moments. In the end every acknowledged mutation must
// stand once, and all phones must hold what the database holds. What happened is written to a log
// that ./deploy/prove/history judges by rules of its own.
//
//	go run ./deploy/prove/faults [-kills 3 -dbkills 2 -drops 20] [-seed 1] [-limit 60s] [-log FILE]
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"sync"
	"syscall"
	"time"

	"hilum/deploy/prove/program"
)

type options struct {
	kills, dbKills, drops int
	phones                int
	seed                  uint64
	limit                 time.Duration
	program, log          string
}

func main() {
	var o options
	flag.IntVar(&o.kills, "kills", 3, "how often the server is killed")
	flag.IntVar(&o.dbKills, "dbkills", 2, "how often the database is killed")
	flag.IntVar(&o.drops, "drops", 20, "how many answers are dropped after the commit, at least")
	flag.IntVar(&o.phones, "phones", 6, "how many phones write")
	flag.Uint64Var(&o.seed, "seed", 1, "of all that is left to chance but the timing")
	flag.DurationVar(&o.limit, "limit", time.Minute, "the faults must be over by then")
	flag.StringVar(&o.program, "program", ".build/hilum", "the server")
	flag.StringVar(&o.log, "log", "", "where the history is kept; empty: thrown away after the check")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if err := prove(ctx, o); err != nil {
		fmt.Fprintf(os.Stderr, "faults: seed %d: %v\n", o.seed, err)
		stop()
		os.Exit(1)
	}
}

// farm is everything that runs.
type farm struct {
	o        options
	database *database
	server   *program.Program
	proxy    *proxy
	phones   []*phone
	log      *journal
}

func prove(ctx context.Context, o options) error {
	dir, err := os.MkdirTemp("", "hilum-faults-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	if err := os.Chmod(dir, 0o755); err != nil {
		return err
	}
	f, err := open(ctx, o, dir)
	if err != nil {
		return err
	}
	defer f.close()
	began := time.Now()
	short := f.chaos(ctx) // whatever became of it, what happened is judged
	trouble := time.Since(began)
	if err := f.calm(ctx); err != nil {
		return err
	}
	if err := f.log.close(); err != nil {
		return err
	}
	fmt.Printf("%d server kills, %d database kills; %s; %d phones, %d mutations, %d acknowledged; "+
		"%s of faults, all phones equal after %s\n", f.server.Kills, f.database.kills, f.proxy.counts(),
		len(f.phones), f.sent(), f.acked(), trouble.Round(time.Second),
		(time.Since(began) - trouble).Round(time.Millisecond))
	return errors.Join(judge(ctx, f.log.path), short)
}

func open(ctx context.Context, o options, dir string) (*farm, error) {
	f := &farm{o: o, database: &database{data: filepath.Join(dir, "data")}}
	if err := os.Mkdir(f.database.data, 0o755); err != nil {
		return nil, err
	}
	path := o.log
	if path == "" {
		path = filepath.Join(dir, "history.jsonl")
	}
	var err error
	if f.log, err = newJournal(path); err != nil {
		return nil, err
	}
	if err := f.database.start(ctx); err != nil {
		return f, fmt.Errorf("starting the database: %w", err)
	}
	f.server = &program.Program{Binary: o.program, DSN: f.database.dsn(), Data: dir}
	if err := f.server.Start(ctx, "--demo"); err != nil {
		f.close()
		return nil, fmt.Errorf("starting the server: %w", err)
	}
	if f.proxy, err = newProxy(f.server, o.seed); err != nil {
		f.close()
		return nil, err
	}
	for i := range o.phones {
		f.phones = append(f.phones, newPhone(i, f.proxy.url, f.log, o.seed))
	}
	return f, nil
}

func (f *farm) close() {
	if f.server != nil {
		f.server.Kill()
	}
	f.database.stop()
}

// chaos lets the phones write while things are killed, until every fault has happened as often as
// asked.
func (f *farm) chaos(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, f.o.limit)
	defer cancel()
	writing, stopWriting := context.WithCancel(ctx)
	var all sync.WaitGroup
	for _, p := range f.phones {
		all.Go(func() { p.write(writing) })
	}
	err := f.killAll(ctx)
	for err == nil && f.proxy.dropped() < f.o.drops {
		err = pause(ctx, 50*time.Millisecond)
	}
	stopWriting()
	all.Wait()
	if err != nil {
		return fmt.Errorf("after %d server kills, %d database kills, %s: %w", f.server.Kills,
			f.database.kills, f.proxy.counts(), err)
	}
	return nil
}

func (f *farm) killAll(ctx context.Context) error {
	moments := rand.New(rand.NewPCG(f.o.seed, 7))
	for left := f.o.kills + f.o.dbKills; left > 0; left-- {
		// Some work between two kills, and then a random moment in the middle of more.
		for before := f.acked(); f.acked() < before+5; {
			if err := pause(ctx, 5*time.Millisecond); err != nil {
				return fmt.Errorf("the phones get nowhere: %w", err)
			}
		}
		if err := pause(ctx, time.Duration(moments.IntN(400))*time.Millisecond); err != nil {
			return err
		}
		database := moments.IntN(left) < f.o.dbKills-f.database.kills
		if err := f.killOne(ctx, database); err != nil {
			return err
		}
	}
	return nil
}

// killOne kills one of the two and starts it again. The server is not restarted when the database
// falls: it must find it again by itself.
func (f *farm) killOne(ctx context.Context, database bool) error {
	if database {
		f.log.write(map[string]any{"e": "kill", "what": "database"})
		if err := f.database.kill(); err != nil {
			return err
		}
		if err := f.database.start(ctx); err != nil {
			return fmt.Errorf("starting the database again: %w", err)
		}
		return f.server.Ready(ctx)
	}
	f.log.write(map[string]any{"e": "kill", "what": "server"})
	f.server.Kill()
	if err := f.server.Start(ctx, "--demo"); err != nil {
		return fmt.Errorf("starting the server again: %w", err)
	}
	return nil
}

func pause(ctx context.Context, d time.Duration) error {
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-time.After(d):
		return nil
	}
}

// calm ends the faults and demands that everything settles within bounded tries.
func (f *farm) calm(ctx context.Context) error {
	// A long run on a busy machine leaves thousands of entries to send.
	ctx, cancel := context.WithTimeout(ctx, max(time.Minute, f.o.limit/4))
	defer cancel()
	f.proxy.calm()
	for round := range 2 { // the first sends all that is left, the second fetches what others sent
		for _, p := range f.phones {
			if err := p.drain(ctx); err != nil {
				return fmt.Errorf("round %d, phone %s: %w", round, p.device, err)
			}
		}
	}
	for _, p := range f.phones {
		f.log.write(map[string]any{"e": "final", "dev": p.device, "rows": p.rows()})
	}
	truth, err := f.database.truth(ctx)
	if err != nil {
		return fmt.Errorf("reading the database: %w", err)
	}
	f.log.write(truth)
	return nil
}

func (f *farm) sent() (n int64) {
	for _, p := range f.phones {
		n += p.n.Load()
	}
	return n
}

func (f *farm) acked() (n int64) {
	for _, p := range f.phones {
		n += p.acked.Load()
	}
	return n
}

// judge runs the checker, which shares nothing with this program.
func judge(ctx context.Context, log string) error {
	cmd := exec.CommandContext(ctx, "go", "run", "./deploy/prove/history", log)
	cmd.Stdout, cmd.Stderr = os.Stdout, os.Stderr
	return cmd.Run()
}
