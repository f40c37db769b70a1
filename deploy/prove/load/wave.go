package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"slices"
	"sync"
	"time"

	"github.com/google/uuid"

	"hilum/internal/agro"
	"hilum/internal/wire"
)

// tries is how often each pull is measured.
const tries = 60

// wave lets every phone hand in its digs within some time, and wants all of them taken.
func (w *world) wave(ctx context.Context, name string, within time.Duration) error {
	took := make([]time.Duration, len(w.phones))
	failed := make([]error, len(w.phones))
	moments := rand.New(rand.NewPCG(1, uint64(within)))
	bodies, answers := make([][]byte, len(w.phones)), make([][]byte, len(w.phones))
	for i, p := range w.phones {
		bodies[i] = p.pushed(w.o, moments)
	}
	server, database := w.worked()
	var all sync.WaitGroup
	for i, p := range w.phones {
		wait := time.Duration(0)
		if within > 0 {
			wait = time.Duration(moments.Int64N(int64(within)))
		}
		all.Go(func() {
			time.Sleep(wait)
			began := time.Now()
			answers[i], failed[i] = w.ask(ctx, p, bodies[i])
			took[i] = time.Since(began)
		})
	}
	all.Wait()
	for i, p := range w.phones {
		if failed[i] == nil {
			failed[i] = p.complete(answers[i], w.o.records)
		}
		if failed[i] != nil {
			return fmt.Errorf("%s: phone %d: %w", name, i, failed[i])
		}
	}
	line(name, took)
	serverAfter, databaseAfter := w.worked()
	each := func(d time.Duration) float64 { return d.Seconds() * 1000 / float64(len(w.phones)) }
	fmt.Printf("    processor time a phone: server %.1f ms, database %.1f ms\n",
		each(serverAfter-server), each(databaseAfter-database))
	return nil
}

// complete reads an answer once the wave is over, since the phones share the server's cores, and
// keeps the cursor as a phone does.
func (p *phone) complete(answer []byte, want int) error {
	var out wire.SyncResponse
	if err := json.Unmarshal(answer, &out); err != nil {
		return err
	}
	for _, a := range out.Acks {
		if a.Outcome != wire.Applied {
			return fmt.Errorf("entry %d got %s %+v", a.N, a.Outcome, a.Problem)
		}
	}
	if len(out.Acks) != want {
		return fmt.Errorf("%d of %d entries were acknowledged", len(out.Acks), want)
	}
	p.epoch, p.cursor = out.Epoch, out.Cursor
	return nil
}

// pushed is one request with a day's work, gzip as phones send it: on each field two digs of three
// spots and five plants each, a correction, and the records of two photos.
func (p *phone) pushed(o options, dice *rand.Rand) []byte {
	var push []json.RawMessage
	digs := map[string]string{}
	for i := range o.records {
		field := p.fields[i%len(p.fields)]
		rec := uuid.NewString()
		switch i / len(p.fields) % 5 {
		case 0, 1:
			digs[field] = rec
			push = append(push, p.entry(rec, "dig", dig(field, o.short, dice)))
		case 2:
			push = append(push, p.entry(rec, "correction", map[string]any{"dig": digs[field],
				"field": field, "date": fmt.Sprint(cropYear, "-06-01"), "why": "the date was wrong"}))
		default:
			push = append(push, p.entry(rec, "photo", shot(field, o.short, dice)))
		}
	}
	return pack(p.request(push))
}

func dig(field string, short bool, dice *rand.Rand) map[string]any {
	var spots []wire.DigSpot
	places, plants := 3, 5
	if short {
		places, plants = 1, 2
	}
	for range places {
		spot := wire.DigSpot{ID: uuid.NewString()}
		for range plants {
			spot.Plants = append(spot.Plants, wire.DigPlant{ID: uuid.NewString(), Plant: agro.Plant{
				Vigour: "vigorous", Nodules: "over5", Inside: "pink", Position: "crownAndLateral"}})
		}
		spots = append(spots, spot)
	}
	return map[string]any{"field": field, "cropYear": cropYear, "spots": spots,
		"date": fmt.Sprintf("%d-06-%02d", cropYear, 1+dice.IntN(30))}
}

// shot is a photo's record with a thumbnail of two kilobytes that does not compress.
func shot(field string, short bool, dice *rand.Rand) map[string]any {
	raw := make([]byte, 2<<10)
	for i := range raw {
		raw[i] = byte(dice.Uint32())
	}
	hash := sha256.Sum256(raw)
	photo := map[string]any{"field": field, "sha256": hex.EncodeToString(hash[:]), "size": 300_000,
		"w": 1600, "h": 1200, "takenAt": fmt.Sprint(cropYear, "-06-12T14:02:00-06:00")}
	if !short {
		photo["thumb"] = base64.StdEncoding.EncodeToString(raw)
	}
	return photo
}

// settle waits until the results that the wave put off are there, and says what they cost.
func (w *world) settle(ctx context.Context) error {
	began := time.Now()
	server, database := w.worked()
	for {
		farms, err := w.admin.StaleFarms(ctx)
		if err != nil {
			return err
		}
		if len(farms) == 0 {
			break
		}
		time.Sleep(100 * time.Millisecond)
	}
	serverAfter, databaseAfter := w.worked()
	fmt.Printf("    results put off were there %.1f s later, processor time: server %.1f s, database %.1f s\n",
		time.Since(began).Seconds(), (serverAfter - server).Seconds(), (databaseAfter - database).Seconds())
	return nil
}

func pack(req wire.SyncRequest) []byte {
	var out bytes.Buffer
	z := gzip.NewWriter(&out)
	if err := json.NewEncoder(z).Encode(req); err != nil {
		panic(fmt.Sprintf("a request of ours that is not JSON: %v", err))
	}
	_ = z.Close() // a buffer takes everything
	return out.Bytes()
}

func (w *world) sync(ctx context.Context, p *phone, body []byte) (out wire.SyncResponse, err error) {
	answer, err := w.ask(ctx, p, body)
	if err != nil {
		return out, err
	}
	return out, json.Unmarshal(answer, &out)
}

func (w *world) ask(ctx context.Context, p *phone, body []byte) ([]byte, error) {
	req, err := http.NewRequestWithContext(ctx, http.MethodPost,
		w.server.URL("/api/v1/farms/"+p.farm+"/sync"), bytes.NewReader(body))
	if err != nil {
		return nil, err
	}
	req.Header.Set("Content-Type", "application/json")
	req.Header.Set("Content-Encoding", "gzip")
	req.Header.Set("Authorization", "Bearer "+p.access)
	answer, err := w.client.Do(req)
	if err != nil {
		return nil, err
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err == nil && answer.StatusCode != http.StatusOK {
		err = fmt.Errorf("the server answered %d %s", answer.StatusCode, text)
	}
	return text, err
}

// pulls measures a delta of 50 and a pull of nothing in an account of some size.
func (w *world) pulls(ctx context.Context, size int) error {
	if err := w.account(ctx, 1_000_000+size); err != nil {
		return err
	}
	p, err := w.late(ctx, size)
	if err != nil {
		return err
	}
	for _, pull := range []struct {
		name   string
		behind int
	}{{"pull of 50", 50}, {"pull of nothing", 0}} {
		took := make([]time.Duration, tries)
		for i := range took {
			p.cursor = int64(size - pull.behind)
			began := time.Now()
			out, err := w.sync(ctx, p, pack(p.request(nil)))
			took[i] = time.Since(began)
			if err != nil || len(out.Rows) != pull.behind {
				return fmt.Errorf("%s: %d rows, %w", pull.name, len(out.Rows), err)
			}
		}
		line(fmt.Sprintf("%s of %d records", pull.name, size), took)
	}
	return nil
}

// late is a phone of an account with that many records, almost up to date.
func (w *world) late(ctx context.Context, size int) (*phone, error) {
	p, err := w.phone(ctx, w.last, w.owner)
	if err != nil {
		return nil, err
	}
	if err := w.fill(ctx, p.farm, size); err != nil {
		return nil, fmt.Errorf("filling an account with %d records: %w", size, err)
	}
	out, err := w.sync(ctx, p, pack(p.request(nil)))
	p.epoch = out.Epoch
	return p, err
}

func line(name string, took []time.Duration) {
	slices.Sort(took)
	at := func(share float64) float64 {
		i := min(int(share*float64(len(took))), len(took)-1)
		return float64(took[i].Microseconds()) / 1000
	}
	fmt.Printf("%-34s %8.1f %8.1f %8.1f %8.1f\n", name, at(0.5), at(0.95), at(0.99), at(1))
}
