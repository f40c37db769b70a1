package feed

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"

	"hilum/internal/agro"
	"hilum/internal/fault"
	"hilum/internal/kind"
	"hilum/internal/merge"
	"hilum/internal/wire"
)

// batchOfFields is how many fields one recompute transaction takes, so that nobody waits long.
const batchOfFields = 200

// Recompute brings the results of every field of an account up to date, batch by batch. Unchanged
// input and engine write nothing. It gives the number of results written.
func (d Door) Recompute(ctx context.Context, farm string) (int, error) {
	var fields []string
	err := d.Log.Write(ctx, farm, func(tx Tx) (err error) {
		fields, err = tx.Fields(ctx)
		return err
	})
	written := 0
	for batch := range slices.Chunk(fields, batchOfFields) {
		if err != nil {
			break
		}
		err = d.Log.Write(ctx, farm, func(tx Tx) error {
			head, err := tx.Head(ctx)
			if err != nil {
				return err
			}
			b := Batch{From: head.Head, Head: head.Head}
			c := computing{tx: tx, farm: farm, batch: &b, now: d.Now()}
			if err := c.fields(ctx, batch); err != nil {
				return err
			}
			written += len(b.Results)
			return tx.Save(ctx, b)
		})
	}
	return written, err
}

// freshenAtOnce is how many fields one Freshen takes: a tenth of a second at most, since phones of
// the account wait meanwhile.
const freshenAtOnce = 24

// Freshen computes results that were put off, some at a time; more says that others wait still.
func (d Door) Freshen(ctx context.Context, farm string) (more bool, err error) {
	err = d.Log.Write(ctx, farm, func(tx Tx) error {
		fields, err := tx.Stale(ctx, freshenAtOnce)
		if err != nil || len(fields) == 0 {
			return err
		}
		more = len(fields) == freshenAtOnce
		head, err := tx.Head(ctx)
		if err != nil {
			return err
		}
		b := Batch{From: head.Head, Head: head.Head, Freshened: fields}
		c := computing{tx: tx, farm: farm, batch: &b, now: d.Now()}
		if err := c.fields(ctx, fields); err != nil {
			return err
		}
		return tx.Save(ctx, b)
	})
	return more, err
}

// computing adds results to a batch.
type computing struct {
	tx      Tx
	farm    string
	batch   *Batch
	now     time.Time
	overlay map[string]*merge.State // records as this transaction changed them
	seen    int64                   // change number of the inputs
}

func (c *computing) fields(ctx context.Context, ids []string) error {
	if len(ids) == 0 {
		return nil
	}
	c.seen = c.batch.Head
	stored, err := c.tx.OfFields(ctx, ids)
	if err != nil {
		return err
	}
	all := map[string]*merge.State{}
	for _, s := range stored {
		all[s.ID] = &s
	}
	maps.Copy(all, c.overlay)
	grouped := byField(all)
	for _, id := range ids {
		if err := c.field(id, append(grouped[id], grouped[""]...)); err != nil {
			return err
		}
	}
	return nil
}

// byField sorts live records by the field that they belong to, in the order of their ids; settings
// stand under "", and what belongs to no field is left out.
func byField(all map[string]*merge.State) map[string][]*merge.State {
	grouped := map[string][]*merge.State{}
	for _, id := range slices.Sorted(maps.Keys(all)) {
		s := all[id]
		if s == nil || s.Deleted {
			continue
		}
		if home := groundOf(s); home != "" || s.Kind == "settings" {
			grouped[home] = append(grouped[home], s)
		}
	}
	return grouped
}

// field computes each crop year of one field that has a pulse the engine knows, and takes away
// results whose season is gone.
func (c *computing) field(id string, records []*merge.State) error {
	parts, err := partsOf(id, records)
	if err != nil {
		return err
	}
	for _, year := range slices.Sorted(maps.Keys(parts.years)) {
		resultID := kind.ID(c.farm, "result", kind.ResultKey(id, year))
		if err := c.result(resultID, id, year, parts); err != nil {
			return err
		}
		delete(parts.old, resultID)
	}
	for _, resultID := range slices.Sorted(maps.Keys(parts.old)) {
		c.batch.Head++
		gone := *parts.old[resultID]
		gone.Seq, gone.Deleted = c.batch.Head, true
		c.batch.Records = append(c.batch.Records, gone)
	}
	return nil
}

// parts are a field's live records, sorted.
type parts struct {
	records   []wire.Record           // inputs
	old       map[string]*merge.State // stored results by id
	years     map[int]string          // the crop of each year that the engine can compute
	conflicts []string                // inputs that wait for a person
}

func partsOf(field string, records []*merge.State) (parts, error) {
	p := parts{old: map[string]*merge.State{}, years: map[int]string{}}
	gone := !slices.ContainsFunc(records, func(s *merge.State) bool { return s.ID == field })
	for _, s := range records {
		if err := p.add(s, gone); err != nil {
			return p, err
		}
	}
	return p, nil
}

func (p *parts) add(s *merge.State, gone bool) error {
	switch s.Kind {
	case "result":
		p.old[s.ID] = s
		return nil
	case "conflict":
		c, err := conflictOf(s)
		p.conflicts = append(p.conflicts, c.Of+"."+c.Name)
		return err
	}
	raw, err := json.Marshal(s.Body)
	if err != nil {
		return fmt.Errorf("encoding record %s: %w", s.ID, err)
	}
	p.records = append(p.records, wire.Record{ID: s.ID, Kind: s.Kind, Seq: s.Seq, Body: raw})
	var season wire.Season
	if s.Kind == "season" && !gone && wire.Lenient(raw, &season) == nil && season.Computable() {
		p.years[season.CropYear] = season.Crop
	}
	return nil
}

// result computes one field and year and adds it to the batch unless nothing changed.
func (c *computing) result(
	id, field string,
	year int,
	p parts,
) error {
	body := wire.Result{
		Field: field, CropYear: year, Crop: p.years[year], EngineVersion: agro.Version,
		ComputedAt: c.now.UTC().Format(time.RFC3339), Conflicts: p.contested(),
	}
	in, err := wire.Case(p.records, field, year)
	if err == nil {
		body.InputHash, err = wire.Hash(in)
	}
	old := p.old[id]
	if err == nil && old != nil && unchanged(old, body) {
		return nil // the engine need not be asked
	}
	var report json.RawMessage
	if err == nil {
		body.Headline, report, err = evaluate(in)
	}
	var f *fault.Error
	switch {
	case err == nil:
	case errors.As(err, &f) && f.Kind != fault.Internal:
		body.Problem = wire.ProblemOf(err)
		body.InputHash = "problem:" + body.Problem.Code + ":" + body.Problem.Field
		if old != nil && unchanged(old, body) {
			return nil
		}
	default:
		return fmt.Errorf("computing field %s: %w", field, err)
	}
	return c.add(id, body, report)
}

// evaluate turns a panic of the engine, which is a defect of ours, into a problem of this one
// result: no record may block the others.
func evaluate(in agro.Input) (head agro.Headline, report json.RawMessage, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fault.New(
				fault.Conflict,
				"engine",
				"the engine could not work this case out; the records are kept",
			)
		}
	}()
	out, err := agro.Evaluate(in)
	if err != nil {
		return head, nil, err
	}
	report, err = wire.WriteReport(out)
	return out.Headline, report, err
}

// contested names each input in conflict once, in order.
func (p parts) contested() []string {
	return slices.Compact(slices.Sorted(slices.Values(p.conflicts)))
}

func unchanged(old *merge.State, body wire.Result) bool {
	var hash, version string
	var conflicts []string
	if raw, ok := old.Body["conflicts"]; ok && json.Unmarshal(raw, &conflicts) != nil {
		return false
	}
	return slices.Equal(conflicts, body.Conflicts) &&
		json.Unmarshal(old.Body["inputHash"], &hash) == nil && hash == body.InputHash &&
		json.Unmarshal(old.Body["engineVersion"], &version) == nil && version == body.EngineVersion
}

func (c *computing) add(id string, body wire.Result, report json.RawMessage) error {
	raw, err := json.Marshal(body)
	if err != nil {
		return fmt.Errorf("encoding a result: %w", err)
	}
	state := merge.State{ID: id, Kind: "result", Stamps: map[string]merge.Stamp{}}
	if err := json.Unmarshal(raw, &state.Body); err != nil {
		return fmt.Errorf("encoding a result: %w", err)
	}
	c.batch.Head++
	state.Seq = c.batch.Head
	c.batch.Records = append(c.batch.Records, state)
	c.batch.Results = append(c.batch.Results, Result{
		ID: id, Seq: state.Seq, InputSeq: c.seen, Body: body, ComputedAt: c.now, Report: report})
	return nil
}
