package cli

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/pipeline"
	"gloam/internal/plan"
	"gloam/internal/solve"
	"gloam/internal/unit"
)

// solveCall is one call of `gloam solve`.
type solveCall struct {
	setup, out, from, to string
	free, moves, order   []string
	take, answers        int
	black                bool
	seed                 uint32
}

func solveCommand(t *terminal) *cobra.Command {
	var call solveCall
	c := &cobra.Command{
		Use:   "solve PLAN",
		Short: "Ways to meet the targets, ranked, or what stands between",
		Long: `Looks for settings that meet the targets of a set-up, ranks them, and runs each
through the engine again. Dims may always change, lamps may be left out, and a
white board or a black cloth near a point is always tried, with a sky by the
model another hour too. --free says what else may change:

  exposure    iris and ND, within what the plan says of the camera: filters,
              variable, widest, closest, indices
  colour      colour temperature of lamps, for targets in mired
  zoom        spot to flood
  mode        normal or quiet
  kit         which lamp of the plan's truck stands where
  cloth       which cloth is on a frame
  window      ND on all panes alike
  practicals  dims of practicals

--move lets a lamp, a cloth or a person stand elsewhere. With --from and --to one
setting is to hold all that time, whatever the sky does inside its interval.
What it may take in all, with lamps at full output, the plan says under limits.

Ranked by what is missed, then by the least reserve (half to two and a half stops
is best), current, hands, time, hire and softness, or as --by says. It proposes
and changes nothing; --take N writes a new plan with answer N in, comments kept.

Ends with 3 where a target is out of reach.`,
		Example: `  gloam solve plan.yaml --free window,cloth
  gloam solve plan.yaml --free mode --move "reader: from 2.8 4.8 to 2.8 5.2"
  gloam solve plan.yaml --take 2 -o new.yaml`,
		Args: exactly(1, "one plan file"),
		RunE: func(c *cobra.Command, args []string) error { return t.solve(c.Context(), args[0], &call) },
	}
	f := c.Flags()
	f.StringVar(&call.setup, "setup", "", "the set-up by name; the first if not given")
	f.StringSliceVar(&call.free, "free", nil, "what may change beside dims: "+strings.Join(freeNames(), ", "))
	f.StringArrayVar(&call.moves, "move", nil, "what may stand elsewhere: "+pipeline.MoveForms)
	f.StringVar(&call.from, "from", "", "one setting is to hold from this time")
	f.StringVar(&call.to, "to", "", "to this time")
	f.StringSliceVar(&call.order, "by", nil, "rank by these, the first first: "+strings.Join(criteria, ", "))
	f.IntVar(&call.answers, "answers", 4, "how many ways at most")
	f.IntVar(&call.take, "take", 0, "write the plan with this answer in, to the file that -o names")
	f.StringVarP(&call.out, "output", "o", "", "with --take, the new plan")
	f.BoolVar(&call.black, "black", false, "surroundings give no light back, as hand sums assume")
	f.Uint32Var(&call.seed, "seed", 1, "seed of the sampling: same plan and seed, same digits")
	c.RegisterFlagCompletionFunc("setup", completeSetups)
	c.RegisterFlagCompletionFunc("free", cobra.FixedCompletions(freeNames(), cobra.ShellCompDirectiveNoFileComp))
	c.RegisterFlagCompletionFunc("by", cobra.FixedCompletions(criteria, cobra.ShellCompDirectiveNoFileComp))
	return c
}

// criteria are what answers may be ranked by.
var criteria = []string{string(solve.ByReserve), string(solve.ByCurrent), string(solve.ByPower), string(solve.ByHands), string(solve.ByMass),
	string(solve.ByTime), string(solve.ByMoney), string(solve.ByNoise), string(solve.BySoftness)}

// freedoms are what --free may name.
var freedoms = []struct {
	name string
	set  func(*pipeline.Freedom)
}{
	{"exposure", func(f *pipeline.Freedom) { f.Exposure = true }},
	{"colour", func(f *pipeline.Freedom) { f.Colour = true }},
	{"zoom", func(f *pipeline.Freedom) { f.Zoom = true }},
	{"mode", func(f *pipeline.Freedom) { f.Mode = true }},
	{"kit", func(f *pipeline.Freedom) { f.Kit = true }},
	{"cloth", func(f *pipeline.Freedom) { f.Cloth = true }},
	{"window", func(f *pipeline.Freedom) { f.Window = true }},
	{"practicals", func(f *pipeline.Freedom) { f.Practicals = true }},
}

func freeNames() (names []string) {
	for _, f := range freedoms {
		names = append(names, f.name)
	}
	return names
}

// freedom reads what may change.
func (c *solveCall) freedom() (free pipeline.Freedom, err error) {
	for _, name := range c.free {
		i := slices.Index(freeNames(), strings.TrimSpace(name))
		if i < 0 {
			return free, fault.Fault{Kind: fault.Call, Path: "--free", Text: "there is no such freedom", Read: name,
				Allowed: strings.Join(freeNames(), ", "), Hint: fault.Meant(name, freeNames())}
		}
		freedoms[i].set(&free)
	}
	for _, text := range c.moves {
		var m pipeline.Move
		if err := m.Parse(text); err != nil {
			return free, fault.Fault{Kind: fault.Call, Path: "--move", Text: err.Error(), Read: text, Allowed: pipeline.MoveForms}
		}
		free.Moves = append(free.Moves, m)
	}
	if (c.from == "") != (c.to == "") {
		return free, fault.Fault{Kind: fault.Call, Path: "--from", Text: "goes with --to"}
	}
	if c.from != "" {
		free.From, free.To = new(unit.Clock), new(unit.Clock)
		if err := free.From.Parse(c.from); err != nil {
			return free, fault.Fault{Kind: fault.Call, Path: "--from", Text: err.Error(), Read: c.from}
		}
		if err := free.To.Parse(c.to); err != nil {
			return free, fault.Fault{Kind: fault.Call, Path: "--to", Text: err.Error(), Read: c.to}
		}
	}
	return free, nil
}

// options are those of a search.
func (c *solveCall) options() (o pipeline.SolveOptions, err error) {
	o.Options = pipeline.Defaults()
	o.Seed, o.Black, o.Answers = c.seed, c.black, c.answers
	for _, name := range c.order {
		if !slices.Contains(criteria, name) {
			return o, fault.Fault{Kind: fault.Call, Path: "--by", Text: "answers are not ranked by that", Read: name,
				Allowed: strings.Join(criteria, ", "), Hint: fault.Meant(name, criteria)}
		}
		o.Order = append(o.Order, solve.Criterion(name))
	}
	o.Free, err = c.freedom()
	return o, err
}

func (t *terminal) solve(ctx context.Context, file string, call *solveCall) error {
	if (call.take != 0) != (call.out != "") {
		return fault.Fault{Kind: fault.Call, Path: "--take", Text: "goes with --output, the new plan"}
	}
	if call.answers < 1 || call.take < 0 {
		return fault.Fault{Kind: fault.Call, Path: "--answers", Text: "answers are counted from 1"}
	}
	o, err := call.options()
	if err != nil {
		return err
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
	o.Answers = max(o.Answers, call.take)
	o.Tell = t.search()
	found, err := pipeline.Solve(ctx, view, o)
	t.endProgress()
	if err != nil {
		return err
	}
	if call.take > 0 {
		if call.take > len(found.Answers) {
			return fault.Fault{Kind: fault.Call, Path: "--take", Text: "there is no such answer", Read: fmt.Sprint(call.take), Allowed: fmt.Sprintf("1 to %d", len(found.Answers))}
		}
		if err := take(p, name, found.Answers[call.take-1].Settings, file, call.out); err != nil {
			return err
		}
	}
	if t.json {
		err = t.printJSON(found)
	} else {
		t.printProposals(p.Document.Title, view, found, call)
	}
	switch {
	case err != nil:
		return err
	case found.Outcome == solve.Stopped:
		return ctx.Err()
	case found.Outcome != solve.Met && len(found.Answers) == 0:
		return no{"out of reach: no choice keeps to the limits"}
	case found.Outcome != solve.Met:
		return no{"out of reach: " + strings.Join(found.Answers[0].Limits, "; ")}
	}
	return nil
}

// take writes the plan with a proposal's settings in it, all else byte for byte.
func take(p *plan.Plan, setup string, settings []pipeline.Setting, file, out string) error {
	text, err := readFile(file)
	if err != nil {
		return err
	}
	for _, s := range settings {
		source, err := document.Parse(file, text)
		if err != nil {
			return err
		}
		if text, err = source.Edit(p.Written(setup, s.Path), s.New); err != nil {
			return err
		}
	}
	if _, faults := plan.Read(file, text, plan.Beside(file)); faults.Err() != nil {
		return faults.Err()
	}
	return plan.Save(out, text)
}
