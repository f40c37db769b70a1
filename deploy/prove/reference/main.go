// Command reference works generated fields out by the engine and by plain draws of the same model,
// written a second time from its description, and prints how far the figures lie apart: losses may
// differ by 0.3 percentage points, chances by 0.5.
//
//	go run ./deploy/prove/reference [-fields 1000] [-draws 1048576] [-seed 1] [-only 17]
//
// A thousand fields take twenty minutes of processor time. The draws have errors of their own: half a
// point is ten of their standard deviations. Each figure that lies too far apart is named with its
// field, which can be drawn again with more draws by -only.
package main

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"sync"

	"hilum/internal/agro"
	"hilum/internal/sample"
)

// How far figure and reference may lie apart, as shares.
const (
	nearChance = 0.005
	nearLoss   = 0.003
)

// figures are those compared, in the order of the table that is printed.
var figures = []struct {
	name string
	near float64
	of   func(agro.Option) *float64
	want func(*drawn) float64
}{
	{"fail", nearChance, func(o agro.Option) *float64 { return o.Fail.Value }, (*drawn).failing},
	{"good", nearChance, func(o agro.Option) *float64 { return o.Good.Value }, (*drawn).adequate},
	{"loss", nearLoss, func(o agro.Option) *float64 { return o.LossShare.Value }, (*drawn).mean},
	{"loss 10 %", nearLoss, func(o agro.Option) *float64 { return o.LossShare.Low }, quantile(0.1)},
	{"loss 50 %", nearLoss, func(o agro.Option) *float64 { return o.LossShare.Median },
		quantile(0.5)},
	{"loss 90 %", nearLoss, func(o agro.Option) *float64 { return o.LossShare.High },
		quantile(0.9)},
	{"pays", nearChance, func(o agro.Option) *float64 { return o.Pays.Value }, (*drawn).paying},
}

func quantile(q float64) func(*drawn) float64 {
	return func(d *drawn) float64 { return d.quantile(q) }
}

// tally is the largest difference of one figure.
type tally struct {
	compared, over int
	worst, square  float64
}

func (t *tally) add(apart, near float64) {
	t.compared++
	t.square += apart * apart
	t.worst = max(t.worst, apart)
	if apart > near {
		t.over++
	}
}

func main() {
	fields := flag.Int("fields", 1000, "how many fields")
	draws := flag.Int("draws", 1<<20, "draws for each field")
	seed := flag.Uint64("seed", 1, "of the fields and of the draws")
	only := flag.Int("only", 0, "one field by its number from 1; 0: all")
	flag.Parse()
	over, err := run(*fields, *draws, *seed, *only)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
	}
	if err != nil || over > 0 {
		os.Exit(1)
	}
}

// numbered is a field with its number from 1.
type numbered struct {
	no int
	agro.Input
}

// run compares all fields on all processors and gives how many figures lie too far apart.
func run(fields, draws int, seed uint64, only int) (over int, err error) {
	total := make([]tally, len(figures))
	var lock sync.Mutex
	var work sync.WaitGroup
	r := rand.New(rand.NewPCG(seed, 0))
	todo := make(chan numbered)
	for worker := range runtime.GOMAXPROCS(0) {
		work.Go(func() {
			own := rand.New(rand.NewPCG(seed, uint64(worker)+1))
			for in := range todo {
				if e := compare(in, draws, own, total, &lock); e != nil {
					lock.Lock()
					err = e
					lock.Unlock()
				}
			}
		})
	}
	for no := range fields {
		if in := sample.Field(r); only == 0 || only == no+1 {
			todo <- numbered{no + 1, in}
		}
	}
	close(todo)
	work.Wait()
	if only > 0 {
		fields = 1
	}
	fmt.Printf("%d fields, %d draws for each\n", fields, draws)
	for i, f := range figures {
		t := total[i]
		fmt.Printf("%-10s %5d compared, worst %.4f, root mean square %.5f, over %.3f: %d\n", f.name,
			t.compared, t.worst, math.Sqrt(t.square/max(1, float64(t.compared))), f.near, t.over)
		over += t.over
	}
	return over, err
}

// compare holds one field's plans against draws.
func compare(in numbered, draws int, r *rand.Rand, total []tally, lock *sync.Mutex) error {
	report, err := agro.Evaluate(in.Input)
	if err != nil {
		return err
	}
	var plans []plan
	var options []agro.Option
	worth := float64(in.Plan.Yield.Value * in.Plan.Price.Value) // the samples are in bu
	for _, o := range report.Inoculation.Options {
		if o.NotAllowed == nil {
			plans, options = append(plans, planOf(o, worth)), append(options, o)
		}
	}
	found := draw(*report.Rhizobia.Now.Value, supplyOf(in.Input, report.Nitrogen.SupplyShare), plans, draws, r)
	lock.Lock()
	defer lock.Unlock()
	for k, o := range options {
		for i, f := range figures {
			got := f.of(o)
			if got == nil {
				continue
			}
			want := f.want(found[k])
			total[i].add(math.Abs(*got-want), f.near)
			if math.Abs(*got-want) > f.near {
				fmt.Printf("field %d, %s, %s: %.5f, drawn %.5f\n", in.no, o.Key, f.name, *got, want)
			}
		}
	}
	return nil
}
