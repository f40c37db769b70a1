package feed

import (
	"context"
	"encoding/json"
	"maps"

	"hilum/internal/fault"
	"hilum/internal/merge"
)

// hashOf gives the hash that a photo's record names.
func hashOf(body map[string]json.RawMessage) string {
	var hash string
	if json.Unmarshal(body["sha256"], &hash) != nil {
		return ""
	}
	return hash
}

// markStored says of a photo whether its bytes have come already, by another record of it.
func (p *push) markStored(s *merge.State) {
	if p.stored[hashOf(s.Body)] {
		s.Body["stored"] = json.RawMessage("true")
	}
}

// Awaited says that the bytes with this hash may come: a live record names them. It gives the
// size that the record says. NotFound when no record does; records come before photos.
func (d Door) Awaited(ctx context.Context, farm, hash string) (size int, err error) {
	err = d.Log.Read(ctx, farm, func(v View) error {
		named, err := v.PhotoRecords(ctx, hash)
		if err != nil {
			return err
		}
		if len(named) == 0 {
			return fault.New(fault.NotFound, "photo", "no record of this account names this picture")
		}
		if json.Unmarshal(named[0].Body["size"], &size) != nil {
			return fault.New(fault.Conflict, "photo", "the record of this picture gives no size")
		}
		return nil
	})
	return size, err
}

// Stored notes that a photo's bytes are safe, and says so in every record that names them.
// Call it after the bytes are on disk. A repeat changes no record.
func (d Door) Stored(ctx context.Context, farm string, stored Photo) error {
	hash := stored.Hash
	return d.Log.Write(ctx, farm, func(tx Tx) error {
		head, err := tx.Head(ctx)
		if err != nil {
			return err
		}
		named, err := tx.PhotoRecords(ctx, hash)
		if err != nil {
			return err
		}
		b := Batch{From: head.Head, Head: head.Head, Photos: []Photo{stored}}
		for _, s := range named {
			if string(s.Body["stored"]) == "true" {
				continue
			}
			b.Head++
			s.Seq, s.Body = b.Head, maps.Clone(s.Body)
			s.Body["stored"] = json.RawMessage("true")
			b.Records = append(b.Records, s)
		}
		return tx.Save(ctx, b)
	})
}
