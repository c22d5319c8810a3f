package cli

import (
	"context"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/meter"
	"gloam/internal/pipeline"
	"gloam/internal/plan"
	"gloam/internal/solve"
	"gloam/internal/unit"
)

// solveCall is one call of `gloam solve`.
type solveCall struct {
	setup, out string
	take       bool
	seed       uint32
}

func solveCommand(t *terminal) *cobra.Command {
	var call solveCall
	c := &cobra.Command{
		Use:   "solve PLAN",
		Short: "What to set the lamps to, to meet the targets",
		Long: `Looks for dims of the lamps that meet the targets of a set-up at the exposure as
planned, practicals and all else as they are, and runs what it found through the
engine again. Where the targets can't all be met it gives the best there is and
says what limits it.

It proposes and changes nothing; --take writes a new plan with the proposal in,
comments kept.

Ends with 3 where a target is out of reach.`,
		Args: exactly(1, "one plan file"),
		RunE: func(c *cobra.Command, args []string) error { return t.solve(c.Context(), args[0], &call) },
	}
	f := c.Flags()
	f.StringVar(&call.setup, "setup", "", "the set-up by name; the first if not given")
	f.BoolVar(&call.take, "take", false, "write the plan with the proposal in, to the file that -o names")
	f.StringVarP(&call.out, "output", "o", "", "with --take, the new plan")
	f.Uint32Var(&call.seed, "seed", 1, "seed of the sampling: same plan and seed, same digits")
	c.RegisterFlagCompletionFunc("setup", completeSetups)
	return c
}

func (t *terminal) solve(ctx context.Context, file string, call *solveCall) error {
	if call.take != (call.out != "") {
		return fault.Fault{Kind: fault.Call, Path: "--take", Text: "goes with --output, the new plan"}
	}
	p, faults := readPlan(file)
	t.note(faults)
	if err := faults.Err(); err != nil {
		return err
	}
	name := call.setup
	if name == "" {
		name = p.Setups()[0]
	}
	view, faults := p.Setup(name)
	if err := faults.Err(); err != nil {
		return err
	}
	o := pipeline.Defaults()
	o.Seed, o.Progress = call.seed, t.progress("solve")
	found, err := pipeline.Solve(ctx, view, o)
	t.endProgress()
	if err != nil {
		return err
	}
	if call.take {
		if err := take(p, name, found.Settings, file, call.out); err != nil {
			return err
		}
	}
	if t.json {
		err = t.printJSON(solveJSON(p, found))
	} else {
		t.printProposal(p.Document.Title, found, call.out)
	}
	if err == nil && found.Outcome != solve.Met {
		return no{"out of reach: " + strings.Join(found.Limits, "; ")}
	}
	return err
}

// take writes the plan with a proposal's dims in it, all else byte for byte.
func take(p *plan.Plan, setup string, settings []pipeline.Setting, file, out string) error {
	text, err := readFile(file)
	if err != nil {
		return err
	}
	for _, s := range settings {
		if s.Dim.String() == s.Now.String() {
			continue
		}
		if text, err = p.Edit(string(dimPath(p, setup, s.Lamp)), s.Dim.String()); err != nil {
			return err
		}
		var faults fault.List
		if p, faults = plan.Read(file, text, plan.Beside(file)); faults.Err() != nil {
			return faults.Err()
		}
	}
	return plan.Save(out, text)
}

// dimPath is where a lamp's dim is written: in the set-up, where the plan has some.
func dimPath(p *plan.Plan, setup, lamp string) document.Path {
	path := document.Path("lamps").Join(lamp).Join("dim")
	if len(p.Document.Setups) > 0 {
		path = document.Path("setups").Join(setup) + "." + path
	}
	return path
}

// proposal is the document that --json prints.
type proposal struct {
	Setup   string           `json:"setup"`
	Outcome solve.Outcome    `json:"outcome"`
	Answers []proposalAnswer `json:"answers"`
}

type proposalAnswer struct {
	Settings []proposalSetting `json:"settings"`
	Points   []meter.Reading   `json:"points"`
	Targets  []meter.Target    `json:"targets"`
	Lamps    []meter.Lamp      `json:"lamps"`
	Limits   []string          `json:"limits"`
}

type proposalSetting struct {
	Path document.Path `json:"path"`
	Lamp string        `json:"lamp"`
	Now  unit.Fraction `json:"now"`
	Dim  unit.Fraction `json:"dim"`
}

func solveJSON(own *plan.Plan, p *pipeline.Proposal) proposal {
	setup := p.Planned.Setup.Name
	a := proposalAnswer{Settings: []proposalSetting{}, Points: p.Forward.Points, Targets: p.Forward.Targets, Lamps: p.Forward.Lamps, Limits: append([]string{}, p.Limits...)}
	for _, s := range p.Settings {
		a.Settings = append(a.Settings, proposalSetting{dimPath(own, setup, s.Lamp), s.Lamp, s.Now, s.Dim})
	}
	return proposal{setup, p.Outcome, []proposalAnswer{a}}
}

func (t *terminal) printProposal(title string, p *pipeline.Proposal, out string) {
	t.line("%s", t.style.bold(title+", "+p.Planned.Setup.Name))
	outcome := string(p.Outcome)
	if p.Outcome == solve.Met && slices.ContainsFunc(p.Forward.Targets, func(t meter.Target) bool { return t.Outcome != "met" }) {
		outcome += ", doubt aside"
	}
	t.line("%s", wrapped("Targets at the planned exposure: "+outcome, lineWidth, 2))
	for _, limit := range p.Limits {
		t.line("  %s", wrapped(limit, lineWidth-2, 4))
	}
	if len(p.Settings) > 0 {
		t.heading(pad("Lamps", 26) + "  planned   set to")
	}
	for _, s := range p.Settings {
		t.line("%s%s   %s", column(s.Lamp, 26, 0), right(s.Now.String(), 9), right(s.Dim.String(), 6))
	}
	t.printTargets(p.Forward.Targets)
	t.printLamps(p.Forward.Lamps)
	end := "The plan is as it was: --take -o NEW.yaml writes one with this in."
	if out != "" {
		end = "Written to " + out + "."
	}
	t.line("\n%s", wrapped("Run forward with another seed; ± is 95 %. "+end, lineWidth, 0))
}
