package cli

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"gloam/internal/colour"
	"gloam/internal/fault"
	"gloam/internal/unit"
)

// colourCall is `gloam colour` as typed.
type colourCall struct {
	against, balance, camera  string
	match, gels, lamp, follow string
	out                       string
	green                     float64
}

func colourCommand(t *terminal) *cobra.Command {
	var call colourCall
	c := &cobra.Command{
		Use:   "colour LIGHT",
		Short: "What a light is: kelvin, green or pink, quality, matches",
		Long: `LIGHT is a spectrum, a CSV of nm,value; a CIE illuminant (FL2, D65, HP1); what a
meter showed (4000K, 4000K+0.008 with its Duv); or a chromaticity (0.38,0.39).

Tells its colour temperature and Duv, how true colours look in it (Ra and R1 to
R14, Rf and Rg, SSI, TLCI), how it stands to a camera's balance, and how near it
comes to another light, to the eye and to a camera. --match says how to set a lamp
of the kit to it; --against, which gels bring it to another light; --lamp and
--follow, how a lamp that was set by it keeps up with the sky.`,
		Example: `  gloam colour tube.csv --balance 5600K
  gloam colour tube.csv --match B12-D26 --camera sensitivities.csv
  gloam colour lamp.csv --against sky.csv --gels "1/2 CTB, 1/4 CTB"
  gloam colour 6500K --lamp 5600K --follow 7200K,6300K,7600K`,
		Args: exactly(1, "one light"),
		RunE: func(_ *cobra.Command, args []string) error { return t.colour(args[0], &call) },
	}
	f := c.Flags()
	f.StringVar(&call.against, "against", "", "another light, the one to be matched by gels")
	f.StringVar(&call.gels, "gels", "", "gels to choose from, with commas; CSV for measured")
	f.StringVar(&call.match, "match", "", "a lamp of the kit that is to match the light")
	f.Float64Var(&call.green, "green", usualGreen, "how far that lamp's green and pink control goes, as Duv")
	f.StringVar(&call.lamp, "lamp", "", "what a lamp was set to beside the light: 5600K")
	f.StringVar(&call.follow, "follow", "", "what the light will be, for the lamp to follow: 7200K,6300K")
	f.StringVar(&call.balance, "balance", "", "the camera's white balance: 5600K")
	f.StringVar(&call.camera, "camera", "", "measured sensitivities, a CSV of nm,red,green,blue (default a generic camera)")
	f.StringVarP(&call.out, "output", "o", "", "draw the spectrum, with the other light's: out.svg or out.png")
	return c
}

func (t *terminal) colour(name string, call *colourCall) error {
	options, err := call.read()
	if err != nil {
		return err
	}
	light, err := t.light(name)
	if err != nil {
		return err
	}
	report, notes := light.report(options.camera)
	if options.balance > 0 {
		report.To(options.balance)
	}
	var other *lit
	if call.against != "" {
		if other, err = t.light(call.against); err != nil {
			return err
		}
		notes = append(notes, besides(report, light, other, options)...)
	}
	if call.match != "" {
		notes = append(notes, light.matched(report, call, options)...)
	}
	if call.lamp != "" {
		if err := report.Follows(options.lamp, options.skies); err != nil {
			return fault.Of(err, fault.Call).Err()
		}
	}
	if call.out != "" {
		if err := drawSpectra(call.out, light, other); err != nil {
			return err
		}
	}
	t.note(notes)
	if t.json {
		return t.printJSON(report)
	}
	t.printColour(light.name, report)
	return nil
}

func (t *terminal) printColour(name string, r *colour.Report) {
	if r.CCT == nil {
		t.line("%s", t.style.bold(clipped(name, 50)+": not a white light"))
	} else {
		t.line("%s", t.style.bold(fmt.Sprintf("%s: %.0f K, %s, Duv %s %s", clipped(name, 40), float64(*r.CCT), *r.Mired, colour.DuvText(*r.Duv), r.Tint)))
	}
	t.line("  x, y          %.4f, %.4f", r.X, r.Y)
	t.line("  in camera     %s (%s)", inCamera(&r.Camera), clipped(r.Camera.Name, 24))
	if b := r.Balance; b != nil {
		t.line("  balance       %s: %s; in camera %s", b.Balance, from(b.Eye), from(b.Camera))
	}
	t.line("  Ra %-9s  R9 %s", index(r.Ra), index(r.R9))
	var all []string
	for i, v := range r.Specials() {
		all = append(all, fmt.Sprintf("R%d %s", i+1, index(*v)))
	}
	if r.Ra != nil {
		t.line("                %s", wrapped(strings.Join(all, ", "), lineWidth-16, 16))
	}
	t.line("  Rf %-9s  Rg %s", index(r.Rf), index(r.Rg))
	of := ""
	if r.SSIReference != "" {
		of = " of " + r.SSIReference
	}
	t.line("  SSI           %s%s", index(r.SSI), of)
	t.line("  TLCI          %s", index(r.TLCI))
	if r.Against != nil {
		t.printAgainst(r.Against)
	}
	if r.Match != nil {
		t.printMatch(r.Match)
	}
	if r.Follow != nil {
		t.printFollow(r.Follow)
	}
}

func (t *terminal) printAgainst(a *colour.AgainstReport) {
	t.line("  against %s, SSI %s", clipped(a.Name, 55), index(a.SSI))
	t.line("    to the eye  %s%s", difference(a.Eye), verdict(a.EyeMatch))
	t.line("    in camera   %s%s", difference(a.Camera), verdict(a.Match))
	if a.Disagree {
		t.line("    eye and camera disagree: what matches for one does not for the other")
	}
	for i, g := range a.Gels {
		head := ""
		if i == 0 {
			head = "gels on it"
		}
		name := strings.Join(g.Gels, " + ")
		if name == "" {
			name = "none"
		}
		t.line("    %-11s %s, %.1f stop", head, name, float64(g.Loss))
		t.line("                  eye %s; camera %s", short(g.Eye), short(g.Camera))
	}
}

// index prints an index as it is quoted, in whole numbers.
func index(v *float64) string {
	if v == nil {
		return "unknown"
	}
	return strings.Replace(fmt.Sprintf("%.0f", math.Round(*v)+0), "-", "−", 1) // + 0 makes no -0
}

func inCamera(c *colour.CameraReport) string {
	if c.CCT == nil {
		return "unknown"
	}
	return fmt.Sprintf("%.0f K, %s, Duv %s %s", float64(*c.CCT), c.CCT.Mired(), colour.DuvText(*c.Duv), colour.Tint(*c.Duv))
}

// from prints a distance from the balance and its word.
func from(m *unit.Mired) string {
	if m == nil {
		return "unknown"
	}
	return m.Shift() + " " + colour.Warmth(*m)
}

// difference prints how much warmer or cooler, greener or pinker one light is than another.
func difference(d *colour.Difference) string {
	if d == nil {
		return "unknown"
	}
	mired, duv := d.Mired.Shift(), "Duv "+colour.DuvText(d.Duv)
	switch {
	case d.Mired >= 0.5:
		mired += " warmer"
	case d.Mired <= -0.5:
		mired += " cooler"
	}
	switch {
	case d.Duv >= 0.00005:
		duv += " greener"
	case d.Duv <= -0.00005:
		duv += " pinker"
	}
	return mired + ", " + duv
}

func short(d colour.Difference) string { return d.Mired.Shift() + ", Duv " + colour.DuvText(d.Duv) }

func verdict(match *bool) string {
	switch {
	case match == nil:
		return ""
	case *match:
		return ": a match"
	}
	return ": no match"
}
