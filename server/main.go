// Command hilum serves the program and does what an administrator needs at the command line.
package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"syscall"
	_ "time/tzdata" // account time zones, also where the system has none

	"hilum/internal/fault"
)

// version is the program's own; the engine has its own too.
var version = "0.1.0"

const usage = `hilum: starter nitrogen, inoculant and root digs for prairie pulse crops

  hilum serve [--demo | --demo=fresh | --demo=beside]
                             start the program (settings: README.md)
  hilum migrate              bring the database to this version, then stop
  hilum evaluate FILE | -    work one field's case out (JSON in, JSON out)
  hilum evaluate --batch FILE | -
                             the same for every line, in order
  hilum explain FILE | - [--lang fr]
                             the working of one case as text, with its sources
  hilum crops [CROP] [--lang fr]
                             all facts of the crops
  hilum sources [--lang fr]  every source
  hilum model-card [--lang fr]
                             what is published, what is ours, and how far off it is
  hilum reset-access LOGIN [ACCOUNT]
                             print a one-time link that sets a new password
  hilum export [ACCOUNT]     write an account as JSON lines
  hilum recompute [ACCOUNT]  compute all results again
  hilum backup FILE          write the whole database into a new file; may run beside serve
  hilum restore FILE         read it into an empty database; phones then send again what they hold
  hilum restore-epoch ACCOUNT | all
                             after a restore from a backup: phones send again what they hold
  hilum tidy                 drop old tombstones and ended sessions, as serve does hourly
  hilum verify [ACCOUNT]     hold the folder of pictures to the database; changes nothing
  hilum roles                print who may do what
  hilum version              print the versions
`

// command is one subcommand. It gets its arguments and runs until done or ctx ends.
type command func(ctx context.Context, args []string) error

var commands = map[string]command{
	"explain": explainField, "crops": listCrops, "sources": listSources,
	"model-card": printCard,
	"serve":      serve, "migrate": migrate, "evaluate": evaluate, "reset-access": resetAccess,
	"export": export, "recompute": recompute, "tidy": tidy, "verify": verify,
	"backup": backup, "restore": restore,
	"restore-epoch": restoreEpoch, "roles": printRoles, "version": printVersion,
}

func main() { os.Exit(realMain(os.Args[1:])) }

// realMain gives the exit code: 0 done, 1 a fault of ours or of the machine, 2 wrong input.
func realMain(args []string) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if len(args) == 0 || args[0] == "help" || args[0] == "--help" || args[0] == "-h" {
		fmt.Print(usage)
		return 0
	}
	run, ok := commands[args[0]]
	if !ok {
		fmt.Fprintf(os.Stderr, "hilum: there is no command %q\n\n%s", args[0], usage)
		return 2
	}
	return exitCode(run(ctx, args[1:]))
}

func exitCode(err error) int {
	if err == nil {
		return 0
	}
	fmt.Fprintf(os.Stderr, "hilum: %v\n", err)
	var f *fault.Error
	if errors.As(err, &f) && f.Kind == fault.Invalid {
		return 2
	}
	return 1
}
