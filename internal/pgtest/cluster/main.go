// Command cluster runs another command beside a throw-away PostgreSQL, whose address it hands
// over in HILUM_TEST_DSN:
//
//	go run ./internal/pgtest/cluster go test ./...
//
// One server for all test programs saves the seconds that each of them would need for its own.
package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"syscall"

	"hilum/internal/pgtest"
)

func main() {
	code, err := run(os.Args[1:])
	if err != nil {
		fmt.Fprintln(os.Stderr, "cluster:", err)
	}
	os.Exit(code)
}

// run gives the command's exit code, or 1 and an error if it could not be run.
func run(args []string) (code int, err error) {
	if len(args) == 0 {
		return 1, errors.New("no command to run was named, such as go test")
	}
	// A terminal sends Ctrl-C to the command too; we stay until it has ended, to clean up.
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	c, err := pgtest.StartCluster(ctx)
	if err != nil {
		return 1, err
	}
	defer func() {
		if closeErr := c.Close(); closeErr != nil {
			code, err = max(code, 1), errors.Join(err, closeErr)
		}
	}()
	cmd := exec.CommandContext(ctx, args[0], args[1:]...)
	cmd.Cancel = func() error { return cmd.Process.Signal(syscall.SIGTERM) }
	cmd.Env = append(os.Environ(), pgtest.DSNVariable+"="+c.DSN("postgres"))
	cmd.Stdin, cmd.Stdout, cmd.Stderr = os.Stdin, os.Stdout, os.Stderr
	err = cmd.Run()
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		return max(exit.ExitCode(), 1), nil
	}
	return 0, err
}
