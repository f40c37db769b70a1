// Command wall measures what row-level security costs: the same pulls against two databases of one
// PostgreSQL with the same rows, one with the policies in force, one where they are switched off
// behind the server's back. The two take turns, pull by pull in short rounds, on the real server
// with fsync on. It counts processor time, of each server and of the backends of its database, so a
// busy machine changes the answer little. Time is bounded by -limit; the load runs on the same
// cores and is not counted. It prints the ratio and fails above the goal.
//
//	go run ./deploy/prove/wall [-pulls 2000 -size 10000 -farms 5 -limit 10m]
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"syscall"
	"time"
)

// goal is the most that the policies may cost: processor time with them over that without.
const goal = 1.10

// aRound is how many pulls one side makes before it is the other's turn.
const aRound = 50

type options struct {
	pulls, size, farms int
	limit              time.Duration
	program            string
}

func main() {
	var o options
	flag.IntVar(&o.pulls, "pulls", 2000, "each way, 100 to 100000")
	flag.IntVar(&o.size, "size", 10_000, "records of the account that is pulled from, 200 to 1000000")
	flag.IntVar(&o.farms, "farms", 5, "other accounts of that size in the same tables, 0 to 100")
	flag.DurationVar(&o.limit, "limit", 10*time.Minute, "of the whole run")
	flag.StringVar(&o.program, "program", ".build/hilum", "the server")
	flag.Parse()
	if err := run(o); err != nil {
		fmt.Fprintf(os.Stderr, "wall: %v\n", err)
		os.Exit(1)
	}
}

func run(o options) error {
	if o.pulls < 100 || o.pulls > 100_000 || o.size < 200 || o.size > 1_000_000 || o.farms < 0 || o.farms > 100 {
		return fmt.Errorf("accepted are 100 to 100000 pulls, a size of 200 to 1000000, 0 to 100 other accounts")
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	ctx, cancel := context.WithTimeout(ctx, o.limit)
	defer cancel()
	dir, err := os.MkdirTemp("", "hilum-wall-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	if err := os.Chmod(dir, 0o755); err != nil {
		return err
	}
	w, err := open(ctx, o, filepath.Join(dir, "data"))
	defer w.close()
	if err != nil {
		return err
	}
	worst := 0.0
	for _, behind := range []int{50, 0} {
		ratio, err := w.compare(ctx, behind)
		if err != nil {
			return err
		}
		worst = max(worst, ratio)
	}
	if worst > goal {
		return fmt.Errorf("the policies cost %.1f %%, the goal is at most %.0f %%", 100*worst-100, 100*goal-100)
	}
	return nil
}

// compare lets both sides pull in turn and prints what each used.
func (w *world) compare(ctx context.Context, behind int) (float64, error) {
	var ratios []float64
	var sums [2]used
	for round := range w.o.pulls / aRound {
		var now [2]used
		for turn := range 2 {
			side := (round + turn) % 2 // each begins as often as the other
			before := w.used(w.sides[side])
			for range aRound {
				if err := w.pull(ctx, w.sides[side], behind); err != nil {
					return 0, fmt.Errorf("%s: %w", w.sides[side].name, err)
				}
			}
			now[side] = w.used(w.sides[side]).less(before)
			sums[side] = sums[side].plus(now[side])
		}
		if now[1].all() > 0 {
			ratios = append(ratios, float64(now[0].all())/float64(now[1].all()))
		}
	}
	slices.Sort(ratios)
	each := func(d time.Duration) float64 { return d.Seconds() * 1000 / float64(w.o.pulls/aRound*aRound) }
	fmt.Printf("%d pulls of %d each way from %d records:\n", w.o.pulls/aRound*aRound, behind, w.o.size)
	for i, s := range w.sides {
		fmt.Printf("    %-20s server %.3f ms, database %.3f ms\n", s.name, each(sums[i].server), each(sums[i].database))
	}
	ratio := float64(sums[0].all()) / float64(sums[1].all())
	fmt.Printf("    with over without: %.3f; server %.3f, database %.3f\n",
		ratio, share(sums[0].server, sums[1].server), share(sums[0].database, sums[1].database))
	fmt.Printf("    median of rounds %.3f, middle half %.3f to %.3f\n",
		ratios[len(ratios)/2], ratios[len(ratios)/4], ratios[len(ratios)*3/4])
	return ratio, nil
}

func share(a, b time.Duration) float64 { return float64(a) / float64(max(b, 1)) }
