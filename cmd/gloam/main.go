// Command gloam plans light for a film scene on location.
package main

import (
	"context"
	"os"
	"os/signal"

	"gloam/internal/cli"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	code := cli.Run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}
