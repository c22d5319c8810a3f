// Package cli is the terminal's front door: it reads the call, runs the pipeline and prints. It holds no physics.
//
// Answers go to standard output, for people in at most 80 columns or as one JSON document with --json; everything else
// goes to standard error. The exit code is fault.Code's.
package cli

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"gloam/internal/fault"
)

// terminal is where a command reads and writes.
type terminal struct {
	out, err io.Writer
	json     bool
	style    style
}

// Run carries out one call and returns its exit code.
func Run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	t := &terminal{out: stdout, err: stderr, style: styleFor(stdout)}
	root := root(t)
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.ExecuteContext(ctx)
	for _, f := range fault.Of(err, fault.Call) {
		fmt.Fprintln(stderr, f.Error())
	}
	var list fault.List
	var one fault.Fault
	if err != nil && !errors.As(err, &list) && !errors.As(err, &one) { // the command-line library's own
		return 2
	}
	return fault.Code(err)
}

func root(t *terminal) *cobra.Command {
	c := &cobra.Command{
		Use:   "gloam",
		Short: "Plan light for a film scene on location, in stops",
		Long: `Gloam plans light for a film scene on location: will these lamps, cloths and
filters make the picture, against the daylight there will be? It answers in
stops, from physics, with the doubt beside each number.

It points; people decide. Local code, the makers' instructions and the competent
persons on the spot win over any number here.`,
		SilenceErrors: true,
		SilenceUsage:  true,
	}
	c.PersistentFlags().BoolVar(&t.json, "json", false, "print one JSON document")
	c.AddCommand(quick(t), check(t), levels(t), photometric(t))
	return c
}

// printJSON prints one document.
func (t *terminal) printJSON(v any) error {
	e := json.NewEncoder(t.out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return fault.Fault{Kind: fault.Unfinished, Text: "could not print: " + err.Error()}
	}
	return nil
}

// note tells what stops nothing.
func (t *terminal) note(faults fault.List) {
	for _, f := range faults {
		if f.Kind == fault.Note {
			fmt.Fprintln(t.err, "note: "+f.Error())
		}
	}
}

// exactly asks for a number of arguments, in the program's own words.
func exactly(n int, what string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		if len(args) != n {
			return fault.Fault{Kind: fault.Call, Text: fmt.Sprintf("wants %s, and got %d words", what, len(args))}
		}
		return nil
	}
}

// readFile reads a file a call names.
func readFile(name string) ([]byte, error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, fault.Fault{Kind: fault.Call, Text: "can't read the file: " + err.Error()}
	}
	return text, nil
}
