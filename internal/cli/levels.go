package cli

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"gloam/internal/fault"
	"gloam/internal/meter"
	"gloam/internal/pipeline"
	"gloam/internal/plan"
	"gloam/internal/unit"
)

// levelsCall is one call of `gloam levels`.
type levelsCall struct {
	setup, point, explain string
	at                    string
	chromaticity, mireds  string // charts to write
	black                 bool
	seed                  uint32
}

func levels(t *terminal) *cobra.Command {
	var call levelsCall
	c := &cobra.Command{
		Use:   "levels PLAN",
		Short: "Levels at every point, in stops, with what each is made of",
		Args:  exactly(1, "one plan file"),
		RunE: func(c *cobra.Command, args []string) error {
			return t.levels(c.Context(), args[0], &call)
		},
	}
	c.Flags().StringVar(&call.setup, "setup", "", "one set-up by name; all if not given")
	c.Flags().StringVar(&call.at, "at", "", "another time of day, on the plan's clock; for daylight by the model")
	c.Flags().StringVar(&call.point, "point", "", "one point by name, with what each source gives it")
	c.Flags().StringVar(&call.explain, "explain", "", "one point by name: formula, inputs, interval and source of its number")
	c.Flags().BoolVar(&call.black, "black", false, "count no light back from surroundings, as sums by hand do")
	c.Flags().StringVar(&call.chromaticity, "chromaticity", "", "draw sources and points in u'v': out.svg, out.png")
	c.Flags().StringVar(&call.mireds, "mireds", "", "draw them against the balance: out.svg, out.png")
	c.Flags().Uint32Var(&call.seed, "seed", 1, "seed of the sampling: same plan and seed, same digits")
	c.RegisterFlagCompletionFunc("setup", completeSetups)
	return c
}

// completeSetups completes the set-ups of the plan that is already typed.
func completeSetups(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	p, faults := readPlan(args[0])
	if faults.Err() != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return p.Setups(), cobra.ShellCompDirectiveNoFileComp
}

// readPlan reads a plan and the files it names, all from its own folder.
func readPlan(name string) (*plan.Plan, fault.List) {
	text, err := readFile(name)
	if err != nil {
		return nil, fault.Of(err, fault.Call)
	}
	return plan.Read(name, text, plan.Beside(name))
}

func (t *terminal) levels(ctx context.Context, file string, call *levelsCall) error {
	if err := call.check(); err != nil {
		return err
	}
	p, faults := readPlan(file)
	t.note(faults)
	if err := faults.Err(); err != nil {
		return err
	}
	names := p.Setups()
	if call.setup != "" {
		names = []string{call.setup}
	}
	var results []*pipeline.Result
	for _, name := range names {
		view, err := setupAt(p, name, call.at)
		if err != nil {
			return err
		}
		o := pipeline.Defaults()
		o.Seed, o.Black = call.seed, call.black
		o.Progress = t.progress(name)
		r, err := pipeline.Run(ctx, view, o)
		t.endProgress()
		if err != nil {
			return err
		}
		results = append(results, r)
	}
	if err := call.draw(p, results); err != nil {
		return err
	}
	if call.explain != "" {
		return t.explain(results, call.explain)
	}
	if call.point != "" {
		if err := keepPoint(results, call.point); err != nil {
			return err
		}
	}
	if t.json {
		return t.printJSON(levelsDocument(results))
	}
	if len(results) > 1 && call.point == "" {
		t.printComparison(p.Document.Title, file, results)
		return nil
	}
	for i, r := range results {
		if i > 0 {
			fmt.Fprintln(t.out)
		}
		t.printLevels(p.Document.Title, r, call)
	}
	return nil
}

// setupAt returns a set-up, at another time of day if one is given.
func setupAt(p *plan.Plan, name, at string) (*plan.View, error) {
	view, faults := p.Setup(name)
	if err := faults.Err(); err != nil || at == "" {
		return view, err
	}
	var clock unit.Clock
	if err := clock.Parse(at); err != nil {
		return nil, fault.Fault{Kind: fault.Call, Path: "--at", Text: err.Error(), Read: at, Allowed: clock.Forms()}
	}
	moved, err := view.At(clock)
	if err != nil {
		return nil, called(err, "--at").Err()
	}
	return moved, nil
}

// levelsDocument is one set-up's levels, or a list of them.
func levelsDocument(results []*pipeline.Result) any {
	if len(results) == 1 {
		return results[0].Levels
	}
	all := struct {
		Setups []meter.Levels `json:"setups"`
	}{}
	for _, r := range results {
		all.Setups = append(all.Setups, r.Levels)
	}
	return all
}

// keepPoint leaves one point in every set-up that has it.
func keepPoint(results []*pipeline.Result, name string) error {
	var known []string
	found := false
	for _, r := range results {
		kept := []meter.Reading{}
		for _, p := range r.Levels.Points {
			known = append(known, p.Name)
			if p.Name == name {
				kept = append(kept, p)
			}
		}
		found = found || len(kept) > 0
		r.Levels.Points = kept
	}
	if !found {
		return noSuchPoint(name, known)
	}
	return nil
}

func noSuchPoint(name string, known []string) error {
	return fault.Fault{Kind: fault.Call, Text: "the plan has no such point", Read: name,
		Allowed: strings.Join(unique(known), ", "), Hint: fault.Meant(name, known)}
}

func unique(names []string) (out []string) {
	seen := map[string]bool{}
	for _, n := range names {
		if !seen[n] {
			out = append(out, n)
		}
		seen[n] = true
	}
	return out
}

func (t *terminal) explain(results []*pipeline.Result, point string) error {
	type explained struct {
		Setup string `json:"setup"`
		meter.Explanation
	}
	var all []explained
	var known []string
	for _, r := range results {
		for _, p := range r.Setup.Scene.Receivers {
			known = append(known, p.Name)
		}
		if e, ok := meter.Explain(r.Setup, r.Layers, point); ok {
			all = append(all, explained{r.Setup.Name, e})
		}
	}
	switch {
	case len(all) == 0:
		return noSuchPoint(point, known)
	case t.json && len(all) == 1:
		return t.printJSON(all[0])
	case t.json:
		return t.printJSON(map[string]any{"setups": all})
	}
	for _, e := range all {
		t.printExplanation(e.Setup, &e.Explanation)
	}
	return nil
}
