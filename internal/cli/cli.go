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
	"strings"
	"unicode/utf8"

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
	out := &answer{to: stdout}
	t := &terminal{out: out, err: stderr, style: styleFor(stdout)}
	root := root(t)
	root.SetArgs(args)
	err := ours(root.ExecuteContext(ctx))
	var answered no
	if errors.As(err, &answered) && out.failed == nil {
		fmt.Fprintln(stderr, answered.text)
		return 3
	}
	if out.failed != nil {
		err = fault.Fault{Kind: fault.Unfinished, Text: "could not print: " + out.failed.Error()}
	}
	for _, f := range fault.Of(err, fault.Call) {
		fmt.Fprintln(stderr, f.Error())
	}
	return fault.Code(err)
}

// answer is standard output; what it could not take is not lost sight of.
type answer struct {
	to     io.Writer
	failed error
}

func (a *answer) Write(p []byte) (n int, err error) {
	if a.failed == nil {
		n, a.failed = a.to.Write(p)
	}
	return n, a.failed
}

// ours puts an error of the command-line library into our words: a flag is a piece of black cloth here.
func ours(err error) error {
	var list fault.List
	var one fault.Fault
	var answered no
	if err == nil || errors.As(err, &list) || errors.As(err, &one) || errors.As(err, &answered) {
		return err
	}
	return fault.Fault{Kind: fault.Call, Text: strings.ReplaceAll(err.Error(), "flag", "option")}
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
	c.SetOut(t.out) // before the library makes its own commands, which keep it
	c.SetErr(t.err)
	c.AddCommand(quick(t), check(t), levels(t), photometric(t), colourCommand(t), pictureCommand(t), sun(t), clockCommand(t), solveCommand(t), serve(t))
	fit(c)
	return c
}

// fit brings every help text into our words and 80 columns.
func fit(c *cobra.Command) {
	c.SetUsageTemplate(strings.NewReplacer(
		"FlagUsages", fmt.Sprintf("FlagUsagesWrapped %d", lineWidth), "Global Flags:", "Options of every command:", "Flags:", "Options:",
		"{{.UseLine}}", "{{.UseLine}} [options]",
	).Replace(c.UsageTemplate()))
	c.InitDefaultHelpCmd()
	c.InitDefaultCompletionCmd()
	fitAll(c)
}

func fitAll(c *cobra.Command) {
	c.DisableFlagsInUseLine = true
	c.InitDefaultHelpFlag()
	var lines []string
	for line := range strings.Lines(c.Long) {
		line = strings.TrimRight(line, "\n")
		if utf8.RuneCountInString(line) > lineWidth {
			line = wrapped(line, lineWidth, 0)
		}
		lines = append(lines, line)
	}
	c.Long = strings.Join(lines, "\n")
	for _, sub := range c.Commands() {
		fitAll(sub)
	}
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

// mostRead is a little more than any reader takes, in bytes, so that each refuses in its own words what is too large.
const mostRead = 17 << 20

// readFile reads a file a call names.
func readFile(name string) ([]byte, error) {
	file, err := os.Open(name)
	var text []byte
	if err == nil {
		defer file.Close()
		text, err = io.ReadAll(io.LimitReader(file, mostRead))
	}
	if err != nil {
		return nil, fault.Fault{Kind: fault.Call, Text: "can't read the file: " + err.Error()}
	}
	return text, nil
}
