package store

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"hilum/internal/feed"
	"hilum/internal/merge"
)

const (
	findPhotoRecords = `
		SELECT id::text AS id, kind, seq, deleted, body, stamps
		FROM record
		WHERE farm_id = @farm AND kind = 'photo' AND NOT deleted AND body ->> 'sha256' = ANY (@ids::text[])
		ORDER BY id`
	findPhotos = `
		SELECT encode(sha256, 'hex') FROM photo
		WHERE farm_id = @farm AND encode(sha256, 'hex') = ANY (@hashes::text[]) ORDER BY sha256`
	savePhoto = `
		INSERT INTO photo (farm_id, sha256, size, stored_seq, clean_sha256)
		VALUES (@farm, decode(@hash, 'hex'), @size, @seq, decode(@clean, 'hex'))
		ON CONFLICT (farm_id, sha256) DO UPDATE SET size = excluded.size, clean_sha256 = excluded.clean_sha256`
	listPhotos = `
		SELECT encode(sha256, 'hex') AS hash, size, coalesce(encode(clean_sha256, 'hex'), '') AS clean
		FROM photo WHERE farm_id = @farm ORDER BY sha256`
)

// PhotoRecords implements feed.View.
func (t *logTx) PhotoRecords(ctx context.Context, hash string) ([]merge.State, error) {
	return t.states(ctx, findPhotoRecords, []string{hash})
}

// Photos implements feed.Tx.
func (t *logTx) Photos(ctx context.Context, hashes []string) (map[string]bool, error) {
	rows, err := t.tx.Query(ctx, findPhotos, pgx.NamedArgs{"farm": t.farm, "hashes": hashes})
	if err != nil {
		return nil, fmt.Errorf("looking for photos: %w", err)
	}
	found, err := pgx.CollectRows(rows, pgx.RowTo[string])
	there := make(map[string]bool, len(found))
	for _, hash := range found {
		there[hash] = true
	}
	return there, err
}

// HasPhoto says whether an account's photo was stored.
func (s *Store) HasPhoto(ctx context.Context, farm, hash string) (there bool, err error) {
	err = s.inFarm(ctx, farm, reading, func(tx pgx.Tx) error {
		found, err := (&logTx{tx: tx, farm: farm}).Photos(ctx, []string{hash})
		there = found[hash]
		return err
	})
	return there, err
}

// PhotosOf lists the pictures that an account's rows say are stored.
func (s *Store) PhotosOf(ctx context.Context, farm string) (list []feed.Photo, err error) {
	err = s.inFarm(ctx, farm, reading, func(tx pgx.Tx) error {
		rows, err := tx.Query(ctx, listPhotos, pgx.NamedArgs{"farm": farm})
		if err != nil {
			return fmt.Errorf("listing photos: %w", err)
		}
		list, err = pgx.CollectRows(rows, pgx.RowToStructByName[feed.Photo])
		return err
	})
	return list, err
}
