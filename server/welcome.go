package main

import (
	"context"
	"fmt"
	"time"

	"github.com/google/uuid"

	"hilum/internal/auth"
	"hilum/internal/demo"
	"hilum/internal/fault"
	"hilum/internal/feed"
	"hilum/internal/store"
)

// welcome loads the demo if asked, or prints the link for the first owner of an empty database.
func welcome(
	ctx context.Context,
	c config,
	s *store.Store,
	admin *store.Admin,
	demoMode string,
) error {
	farms, err := admin.Farms(ctx)
	if err != nil {
		return err
	}
	if demoMode != "" {
		return loadDemo(ctx, s, admin, farms, demoMode)
	}
	if len(farms) > 0 {
		return nil
	}
	farm, err := uuid.NewV7()
	if err != nil {
		return fmt.Errorf("drawing an id: %w", err)
	}
	return printLink(ctx, c, admin, "first owner", "first-owner", farm.String(), "")
}

func printLink(
	ctx context.Context,
	c config,
	admin *store.Admin,
	label, page, farm, person string,
) error {
	link, hash, err := auth.NewLink(farm)
	if err != nil {
		return err
	}
	if err := admin.AddLink(ctx, farm, person, hash, time.Now().Add(auth.LinkLife)); err != nil {
		return err
	}
	fmt.Printf("%s: %s/%s#%s\n", label, c.address(), page, link)
	fmt.Println(
		"This link works once, within 24 hours. Whoever has it gets in: hand it on with care.",
	)
	return nil
}

// loadDemo makes the demo account unless it is there. It keeps away from a database with accounts
// of its own unless told.
func loadDemo(
	ctx context.Context,
	s *store.Store,
	admin *store.Admin,
	farms []store.Farm,
	mode string,
) error {
	present := false
	for _, f := range farms {
		present = present || f.ID == demo.Farm
		if !f.Demo && mode != "--demo=beside" {
			return fault.New(fault.Conflict, "demo",
				"this database holds the account %q; --demo=beside puts the demo beside it", f.Name)
		}
	}
	if present && mode == "--demo=fresh" {
		if err := admin.DropDemo(ctx, demo.Farm); err != nil {
			return err
		}
		present = false
	}
	if !present {
		account := demo.Make(demo.Seed, demo.Today(time.Now()))
		if err := demo.Load(ctx, s, feed.Door{Log: s.Log(), Now: time.Now}, account); err != nil {
			return err
		}
	}
	fmt.Println("The demo account is invented. Its day is 14 June, whatever the calendar says.")
	for _, who := range []string{"consultant", "scout"} {
		fmt.Printf("%s: login=%s password=%s\n", who, who, demo.Password)
	}
	return nil
}
