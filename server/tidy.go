package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"time"

	"hilum/internal/feed"
	"hilum/internal/photo"
	"hilum/internal/store"
)

// tidyEvery is how often a running server tidies up.
const tidyEvery = time.Hour

// tidy is the command: it says what it did with each account.
func tidy(ctx context.Context, _ []string) error {
	return withStore(ctx, func(s *store.Store, admin *store.Admin) error {
		return tidyAll(ctx, s, admin, func(farm store.Farm, floor int64) {
			fmt.Printf("%s: tombstones up to change %d are dropped (%s)\n", farm.ID, floor, farm.Name)
		})
	})
}

// tidyAll raises the floor of every account and sweeps. One account's fault does not stop the
// others.
func tidyAll(
	ctx context.Context,
	s *store.Store,
	admin *store.Admin,
	say func(store.Farm, int64),
) error {
	farms, err := admin.Farms(ctx)
	if err != nil {
		return err
	}
	door := feed.Door{Log: s.Log(), Now: time.Now}
	var failed []error
	for _, farm := range farms {
		floor, err := door.Tidy(ctx, farm.ID)
		if err == nil {
			_, err = door.TakeUp(ctx, farm.ID)
		}
		if err != nil {
			failed = append(failed, fmt.Errorf("tidying %s: %w", farm.ID, err))
			continue
		}
		say(farm, floor)
	}
	return errors.Join(append(failed, admin.Sweep(ctx))...)
}

// keepTidy tidies up once an hour until ctx ends. What fails is logged and tried again.
func keepTidy(
	ctx context.Context,
	dsn string,
	s *store.Store,
	photos photo.Folder,
	log *slog.Logger,
) {
	tick := time.NewTicker(tidyEvery)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
		err := errors.Join(tidyOnce(ctx, dsn, s), photos.Sweep(time.Now()))
		if err != nil && ctx.Err() == nil {
			log.Error("tidying up", "error", err)
		}
	}
}

func tidyOnce(ctx context.Context, dsn string, s *store.Store) error {
	admin, err := store.OpenAdmin(ctx, dsn)
	if err != nil {
		return err
	}
	defer admin.Close(ctx)
	return tidyAll(ctx, s, admin, func(store.Farm, int64) {})
}
