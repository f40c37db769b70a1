package main

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"time"

	"hilum/internal/agro"
	"hilum/internal/api"
	"hilum/internal/fault"
	"hilum/internal/feed"
	"hilum/internal/store"
	"hilum/internal/wire"
)

func migrate(ctx context.Context, _ []string) error {
	return withStore(ctx, func(*store.Store, *store.Admin) error {
		fmt.Println("the database is at this version")
		return nil
	})
}

func printVersion(context.Context, []string) error {
	fmt.Printf(
		"hilum %s, engine %s, record schema %d, sync protocol %d\n",
		version,
		agro.Version,
		wire.Schema,
		wire.Proto,
	)
	return nil
}

func printRoles(context.Context, []string) error {
	fmt.Print(api.Roles())
	return nil
}

func resetAccess(ctx context.Context, args []string) error {
	if len(args) < 1 || len(args) > 2 {
		return fault.New(
			fault.Invalid,
			"usage",
			"reset-access takes a login name, and the account's id if several have it",
		)
	}
	c, err := readConfig()
	if err != nil {
		return err
	}
	farm := ""
	if len(args) == 2 {
		farm = args[1]
	}
	return withStore(ctx, func(_ *store.Store, admin *store.Admin) error {
		farm, person, err := admin.FindLogin(ctx, args[0], farm)
		if err != nil {
			return err
		}
		return printLink(ctx, c, admin, "new password for "+args[0], "reset-access", farm, person)
	})
}

// export writes every row of one account as JSON lines: {"kind": ..., "row": {...}}.
func export(ctx context.Context, args []string) error {
	return withStore(ctx, func(s *store.Store, admin *store.Admin) error {
		farm, err := pickFarm(ctx, admin, args)
		if err != nil {
			return err
		}
		out := bufio.NewWriter(os.Stdout)
		lines := json.NewEncoder(out)
		err = s.Export(ctx, farm, func(kind string, row json.RawMessage) error {
			return lines.Encode(struct {
				Kind string          `json:"kind"`
				Row  json.RawMessage `json:"row"`
			}{kind, row})
		})
		if err != nil {
			return err
		}
		return out.Flush()
	})
}

func recompute(ctx context.Context, args []string) error {
	return withStore(ctx, func(s *store.Store, admin *store.Admin) error {
		farm, err := pickFarm(ctx, admin, args)
		if err != nil {
			return err
		}
		n, err := feed.Door{Log: s.Log(), Now: time.Now}.Recompute(ctx, farm)
		if err == nil {
			fmt.Printf("%d results written\n", n)
		}
		return err
	})
}

// restoreEpoch is for whoever has just restored the database from a backup.
func restoreEpoch(ctx context.Context, args []string) error {
	if len(args) != 1 {
		return fault.New(fault.Invalid, "usage", "restore-epoch takes an account's id, or all")
	}
	return withStore(ctx, func(_ *store.Store, admin *store.Admin) error {
		farms, err := admin.Farms(ctx)
		if err != nil {
			return err
		}
		if args[0] != "all" {
			farm, err := pickFarm(ctx, admin, args)
			if err != nil {
				return err
			}
			farms = []store.Farm{{ID: farm}}
		}
		return newEpochs(ctx, admin, farms)
	})
}

func newEpochs(ctx context.Context, admin *store.Admin, farms []store.Farm) error {
	for _, farm := range farms {
		epoch, err := admin.RestoreEpoch(ctx, farm.ID)
		if err != nil {
			return err
		}
		fmt.Printf("%s: new epoch %s; its phones start afresh and send again what they hold\n",
			farm.ID, epoch)
	}
	return nil
}

// pickFarm takes the account named, or the only one there is.
func pickFarm(ctx context.Context, admin *store.Admin, args []string) (string, error) {
	farms, err := admin.Farms(ctx)
	if err != nil {
		return "", err
	}
	if len(args) == 0 && len(farms) == 1 {
		return farms[0].ID, nil
	}
	list := ""
	for _, f := range farms {
		if len(args) == 1 && f.ID == args[0] {
			return f.ID, nil
		}
		list += fmt.Sprintf("\n  %s  %s", f.ID, f.Name)
	}
	return "", fault.New(fault.Invalid, "account", "name one account by its id:%s", list)
}
