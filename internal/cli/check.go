package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"gloam/internal/fault"
	"gloam/internal/scene"
)

func check(t *terminal) *cobra.Command {
	return &cobra.Command{
		Use:   "check PLAN",
		Short: "Every fault of a plan at once, each with its place",
		Args:  exactly(1, "one plan file"),
		RunE:  func(_ *cobra.Command, args []string) error { return t.check(args[0]) },
	}
}

// check reads a plan and builds each of its set-ups, so that faults which show only once things stand in their places
// are told too.
func (t *terminal) check(file string) error {
	p, faults := readPlan(file)
	if faults.Err() == nil {
		for _, name := range p.Setups() {
			view, more := p.Setup(name)
			if more.Err() == nil {
				_, more = scene.Build(view, false)
			}
			faults = append(faults, more...)
		}
	}
	faults.Sort()
	if t.json {
		if faults == nil {
			faults = fault.List{}
		}
		if err := t.printJSON(map[string]any{"faults": faults}); err != nil {
			return err
		}
	}
	t.note(faults)
	if err := faults.Err(); err != nil {
		return err
	}
	if !t.json {
		fmt.Fprintf(t.out, "%s: no fault found in %s\n", file, count(len(p.Setups()), "set-up"))
	}
	return nil
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
