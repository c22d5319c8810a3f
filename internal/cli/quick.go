package cli

import (
	"context"
	"fmt"
	"math"
	"regexp"
	"strings"

	"github.com/spf13/cobra"

	"gloam/internal/exposure"
	"gloam/internal/fault"
	"gloam/internal/pipeline"
	"gloam/internal/unit"
)

// quickCall is `gloam quick` as typed.
type quickCall struct {
	lamp, lux, distance, beam, offAxis, dim, colour, cloth, ambient, receptor string
	ei, fps, angle, stop, want                                                string
	cover, within, walk, swing, sun, height                                   string
}

func quick(t *terminal) *cobra.Command {
	var call quickCall
	c := &cobra.Command{
		Use:   "quick",
		Short: "The two-minute question: a lamp, a distance, an ambient reading",
		Example: `  gloam quick --lamp 250kcd --distance 5m --ambient 640lx --ei 800 --fps 24 \
      --angle 180 --stop T2.8
  gloam quick --lamp B12-D26 --distance "16'" --cloth "half white" \
      --ambient 59fc --want +1.5
  gloam quick --lux 10000lx@5m --distance 8m
  gloam quick --lamp B12-F --distance 24m --cover 10m --within 1
  gloam quick --lamp B12-F --beam 12 --distance 24m --ambient 826lx \
      --walk 10m --swing 1
  gloam quick --lamp B12-F --beam 12 --distance 24m \
      --sun "1.7m throws 24m" --height 1.6m`,
		Args: exactly(0, "options only"),
		RunE: func(c *cobra.Command, _ []string) error { return t.quick(c.Context(), &call) },
	}
	f := c.Flags()
	f.StringVar(&call.lamp, "lamp", "", "peak intensity (250kcd) or kit item (B12-D26)")
	f.StringVar(&call.lux, "lux", "", "instead: a reading on the lamp's axis, 10000lx@5m")
	f.StringVar(&call.distance, "distance", "", "from lamp to point along the ground: 5m, 16'")
	f.StringVar(&call.beam, "beam", "", "beam angle at half intensity; the zoom of a spot-to-flood kit item")
	f.StringVar(&call.offAxis, "off-axis", "0 deg", "how far the point lies off the lamp's axis")
	f.StringVar(&call.dim, "dim", "100 %", "level of the lamp")
	f.StringVar(&call.colour, "colour", "", "colour temperature set on the lamp: 3200K")
	f.StringVar(&call.cloth, "cloth", "", `cloth in front: "half white"; heavy cloth with size and distance from the point: "full grid 1.2 x 1.2 m at 1.5 m"`)
	f.StringVar(&call.ambient, "ambient", "0 lx", "ambient reading at the point: 640lx, 59fc")
	f.StringVar(&call.receptor, "receptor", "flat", "flat or dome, facing the lamp")
	f.StringVar(&call.ei, "ei", "800", "exposure index")
	f.StringVar(&call.fps, "fps", "24", "frames a second")
	f.StringVar(&call.angle, "angle", "180 deg", "shutter: 180, 172.8 deg, 1/50 s")
	f.StringVar(&call.stop, "stop", "T2.8", "T-stop")
	f.StringVar(&call.want, "want", "", `level wanted at the point, in stops over key: +1.5; or "+2 over ambient"`)
	f.StringVar(&call.cover, "cover", "", "a width to be lit evenly, the point in its middle: 3m; a spot-to-flood lamp without --beam takes the beam that does it at the most level")
	f.StringVar(&call.within, "within", "", "with --cover, how far its edges may lie under the middle: 1/2")
	f.StringVar(&call.walk, "walk", "", "a walk straight toward the lamp, the point in its middle: 10m")
	f.StringVar(&call.swing, "swing", "", "with --walk, the most that the level may swing: 1")
	f.StringVar(&call.sun, "sun", "", `hang the lamp as high as a sun: 4deg, or as the sun stands now: "1.7m throws 24m"`)
	f.StringVar(&call.height, "height", "", "with --sun, how high the point lies: 1.6m")
	c.MarkFlagsMutuallyExclusive("lamp", "lux")
	c.RegisterFlagCompletionFunc("receptor", cobra.FixedCompletions([]string{"flat", "dome"}, cobra.ShellCompDirectiveNoFileComp))
	return c
}

func (t *terminal) quick(ctx context.Context, call *quickCall) error {
	q, err := call.question()
	if err != nil {
		return err
	}
	a, r, err := pipeline.Ask(ctx, q, pipeline.Defaults())
	if err != nil {
		return err
	}
	if t.json {
		return t.printJSON(a)
	}
	t.printQuick(q, a, r.Setup.Camera)
	return nil
}

// question reads the options, telling every fault at once.
func (call *quickCall) question() (*pipeline.Quick, error) {
	q := &pipeline.Quick{Receptor: call.receptor}
	var faults fault.List
	read := func(option, text string, into quantity) bool {
		if text == "" {
			return false
		}
		if err := into.Parse(text); err != nil {
			faults = append(faults, fault.Fault{Kind: fault.Call, Path: option, Text: err.Error(), Read: text, Allowed: into.Forms()})
			return false
		}
		return true
	}
	if q.Peak.Parse(call.lamp) != nil {
		q.Kit = call.lamp
	}
	var at unit.LuxAt
	if read("--lux", call.lux, &at) {
		q.Peak, q.Measured, q.Kit = at.Candela(), true, ""
	}
	read("--distance", call.distance, &q.Distance)
	read("--off-axis", call.offAxis, &q.OffAxis)
	read("--dim", call.dim, &q.Dim)
	read("--ambient", call.ambient, &q.Ambient)
	read("--ei", call.ei, &q.Camera.EI)
	read("--fps", call.fps, &q.Camera.FPS)
	read("--angle", call.angle, &q.Camera.Shutter)
	read("--stop", call.stop, &q.Camera.Stop)
	q.Beam = optional[unit.Degree](read, "--beam", call.beam)
	q.Colour = optional[unit.Kelvin](read, "--colour", call.colour)
	faults = append(faults, call.pairs()...)
	q.Cover, q.Walk, q.Sun = call.reach(read)
	wanted, overAmbient := strings.CutSuffix(call.want, "over ambient")
	q.Want, q.Over = optional[unit.Stop](read, "--want", strings.TrimSpace(wanted)), "key"
	if overAmbient {
		q.Over = "ambient"
	}
	if call.receptor != "flat" && call.receptor != "dome" {
		faults = append(faults, fault.Fault{Kind: fault.Call, Path: "--receptor", Text: "no such receptor", Read: call.receptor, Allowed: "flat, dome"})
	}
	if call.cloth != "" {
		cloth, err := readCloth(call.cloth, q.Distance)
		faults = append(faults, fault.Of(err, fault.Call)...)
		q.Cloth = cloth
	}
	if len(faults) == 0 {
		faults = q.Check()
	}
	return q, faults.Err()
}

// quantity is what an option is read into.
type quantity interface {
	Parse(string) error
	Forms() string
}

// optional reads an option that may be absent.
func optional[T any, P interface {
	*T
	quantity
}](read func(option, text string, into quantity) bool, option, text string) *T {
	var v T
	if !read(option, text, P(&v)) {
		return nil
	}
	return &v
}

var clothText = regexp.MustCompile(`^(.*?)\s+(\d.*\S)\s+at\s+(\S.*)$`)

// readCloth reads a cloth's kind, and its size and distance from the point where they are given. A light cloth needs
// neither: it stands half a metre before the lamp, 1.2 m square.
func readCloth(text string, lamp unit.Metre) (*pipeline.QuickCloth, error) {
	m := clothText.FindStringSubmatch(text)
	if m == nil {
		c := &pipeline.QuickCloth{Kind: text, Size: unit.Size2{Width: 1.2, Height: 1.2}, Distance: lamp - 0.5, Assumed: true}
		if c.Distance <= 0 {
			c.Distance = lamp / 2
		}
		return c, nil
	}
	c := &pipeline.QuickCloth{Kind: m[1]}
	bad := func(err error) error {
		return fault.Fault{Kind: fault.Call, Path: "--cloth", Text: err.Error(), Read: text,
			Allowed: `kind, size, "at", distance from the point: full grid 1.2 x 1.2 m at 1.5 m`}
	}
	if err := c.Size.Parse(m[2]); err != nil {
		return c, bad(err)
	}
	if err := c.Distance.Parse(m[3]); err != nil {
		return c, bad(err)
	}
	return c, nil
}

func (t *terminal) printQuick(q *pipeline.Quick, a *pipeline.QuickAnswer, c exposure.Camera) {
	t.line("%s", t.style.bold(stopsOver(a.OverKey, "key")+" "+a.Interval.Interval()))
	t.line("  lamp     %s", a.Lamp.WithFootCandles())
	if q.Ambient > 0 {
		t.line("  ambient  %s", a.Ambient.WithFootCandles())
		t.line("  total    %s, %s", a.Total.WithFootCandles(), stopsOver(a.OverAmbient, "ambient"))
	}
	t.line("  key      %s: %s, %s, %s, %s", a.Key.WithFootCandles(), c.Stop.Decimal(), c.EI, c.FPS, c.Shutter)
	t.printReach(a)
	if a.OverKey == nil {
		return
	}
	if *a.ND < 0 {
		t.line("  lacks    %.2f stops to the key", -float64(*a.ND))
	} else {
		for i, s := range c.NDSplits(a.Total) {
			head := "  carry    "
			if i > 0 {
				head = "  or       "
			}
			t.line("%s%s", head, carry(s))
		}
	}
	if q.Want != nil {
		t.line("  reserve  %s", quickReserve(q, a))
	}
}

func stopsOver(s *unit.Stop, what string) string {
	if s == nil {
		return "no light"
	}
	if *s < 0 {
		return fmt.Sprintf("%s (%.2f) under %s", unit.Stop(-*s), math.Abs(float64(*s)), what)
	}
	return fmt.Sprintf("%s (%.2f) over %s", *s, float64(*s), what)
}

// carry says which filter to carry and what then is left to do.
func carry(s exposure.NDSplit) string {
	filter := "no ND"
	if s.ND > 0 {
		filter = fmt.Sprintf("ND %.1f", float64(s.ND))
	}
	switch {
	case math.Abs(float64(s.Rest)) < 0.01:
		return filter
	case s.Rest < 0:
		return fmt.Sprintf("%s, open %.2f to %s", filter, -float64(s.Rest), s.Stop.Decimal())
	}
	return fmt.Sprintf("%s, close %.2f to %s", filter, float64(s.Rest), s.Stop.Decimal())
}

// quickReserve says what is left for what is wanted.
func quickReserve(q *pipeline.Quick, a *pipeline.QuickAnswer) string {
	wanted := fmt.Sprintf("%s over %s", q.Want.Tenths(), q.Over)
	if a.Reserve == nil {
		return "no lamp needed: the ambient alone is " + wanted
	}
	return fmt.Sprintf("%s %s for %s: %s", signed(float64(*a.Reserve)), a.Interval.Interval(), wanted, a.Outcome)
}
