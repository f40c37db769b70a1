// Command load measures the real server on a real PostgreSQL with fsync on: a village of phones
// that come home within some seconds, the same all at the same instant, and what a pull costs in
// accounts of several sizes. It runs on this machine, the load on the same cores as the server,
// over loopback only; count and time are bounded by the flags. It prints a table and fails when
// anything was lost.
//
//	go run ./deploy/prove/load [-phones 200 -accounts 25 -records 60 -within 10s -short]
//	    [-sizes 10000,100000] [-limit 5m]
//
// A record is a dig of fifteen plants, a correction, or a photo's record with its thumbnail, about
// 2,000 bytes each; with -short about 400, as the goal's first load has them.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"

	"hilum/deploy/prove/program"
)

type options struct {
	phones, accounts, records int
	within, limit             time.Duration
	sizes                     []int
	program                   string
	short                     bool
}

func main() {
	var o options
	sizes := flag.String("sizes", "10000,100000", "records of the accounts that are pulled from")
	flag.IntVar(&o.phones, "phones", 200, "1 to 1000")
	flag.IntVar(&o.accounts, "accounts", 25, "1 to the number of phones")
	flag.IntVar(&o.records, "records", 60, "digs that each phone hands in, 1 to 500")
	flag.DurationVar(&o.within, "within", 10*time.Second, "time over which the phones come")
	flag.DurationVar(&o.limit, "limit", 5*time.Minute, "of the whole run")
	flag.StringVar(&o.program, "program", ".build/hilum", "the server")
	flag.BoolVar(&o.short, "short", false, "digs of two plants, photos without thumbnails")
	flag.Parse()
	err := o.read(*sizes)
	if err == nil {
		err = run(o)
	}
	if err != nil {
		fmt.Fprintf(os.Stderr, "load: %v\n", err)
		os.Exit(1)
	}
}

func (o *options) read(sizes string) error {
	if o.phones < 1 || o.phones > 1000 || o.accounts < 1 || o.accounts > o.phones ||
		o.records < 1 || o.records > 500 {
		return fmt.Errorf("accepted are 1 to 1000 phones, 1 account to one a phone, 1 to 500 records")
	}
	for part := range strings.SplitSeq(sizes, ",") {
		if part == "" {
			continue
		}
		n, err := strconv.Atoi(part)
		if err != nil || n < 100 || n > 2_000_000 {
			return fmt.Errorf("a size is %q, accepted 100 to 2000000", part)
		}
		o.sizes = append(o.sizes, n)
	}
	return nil
}

func run(o options) error {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	ctx, cancel := context.WithTimeout(ctx, o.limit)
	defer cancel()
	dir, err := os.MkdirTemp("", "hilum-load-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	if err := os.Chmod(dir, 0o755); err != nil {
		return err
	}
	w, err := open(ctx, o, filepath.Join(dir, "data"))
	if err != nil {
		return err
	}
	defer w.close()
	fmt.Printf("%-34s %8s %8s %8s %8s\n", "milliseconds, load on the same cores", "median", "p95", "p99",
		"worst")
	for _, wave := range []struct {
		name   string
		within time.Duration
	}{
		{fmt.Sprintf("%d phones within %s", o.phones, o.within), o.within},
		{fmt.Sprintf("%d phones at once", o.phones), 0},
	} {
		if err := w.wave(ctx, wave.name, wave.within); err != nil {
			return err
		}
		if err := w.settle(ctx); err != nil {
			return err
		}
	}
	for _, size := range o.sizes {
		if err := w.pulls(ctx, size); err != nil {
			return err
		}
	}
	fmt.Printf("server's memory at its peak: %d MB\n", program.PeakMB(w.server.PID()))
	return nil
}
