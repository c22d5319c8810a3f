package cli

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"gloam/internal/fault"
	"gloam/internal/picture"
	"gloam/internal/pipeline"
	"gloam/internal/plan"
	"gloam/internal/unit"
)

// pictureCall is one call of `gloam picture`.
type pictureCall struct {
	setup, at, out, probe string
	width, samples        int
	stops                 bool
	seed                  uint32
}

func pictureCommand(t *terminal) *cobra.Command {
	var call pictureCall
	c := &cobra.Command{
		Use:   "picture PLAN",
		Short: "What the camera sees, or a map of its stops, as PNG or EXR",
		Args:  exactly(1, "one plan file"),
		RunE:  func(c *cobra.Command, args []string) error { return t.picture(c.Context(), args[0], &call) },
	}
	f := c.Flags()
	f.StringVar(&call.setup, "setup", "", "set-up by name; the first if not given")
	f.StringVar(&call.at, "at", "", "another time of day, on the plan's clock; for daylight by the model")
	f.StringVarP(&call.out, "output", "o", "", "file to write: out.png or out.exr")
	f.IntVar(&call.width, "width", 960, "pixels across")
	f.IntVar(&call.samples, "samples", 16, "paths a pixel: 4 for a look, 16 to judge, 64 to keep")
	f.BoolVar(&call.stops, "stops", false, "a map of stops over grey instead of the picture")
	f.StringVar(&call.probe, "probe", "", "print the stops at a pixel, as X,Y from the top left")
	f.Uint32Var(&call.seed, "seed", 1, "seed of the sampling: same plan and seed, same digits")
	c.RegisterFlagCompletionFunc("setup", completeSetups)
	return c
}

// Where a camera drowns and clips, in stops over grey, until the plan can say (common practice, no source).
const (
	noiseFloor unit.Stop = -6
	clip       unit.Stop = 6
)

// most is the largest picture, across.
const mostPixels = 8192

func (t *terminal) picture(ctx context.Context, file string, call *pictureCall) error {
	x, y, err := call.check()
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
	view, err := setupAt(p, name, call.at)
	if err != nil {
		return err
	}
	o := pipeline.PictureOptions{Options: pipeline.Defaults(), Width: call.width, Samples: call.samples, Shown: t.samples(name)}
	o.Seed = call.seed
	drawn, err := pipeline.Draw(ctx, view, o)
	t.endProgress()
	if err != nil {
		return err
	}
	answer := pictured{Setup: name, Output: call.out, Width: drawn.Image.Width, Height: drawn.Image.Height, Samples: drawn.Image.Samples}
	if call.probe != "" {
		if answer.probed, err = probe(drawn, x, y); err != nil {
			return err
		}
	}
	if call.out != "" {
		if err := call.save(drawn); err != nil {
			return err
		}
	}
	if t.json {
		return t.printJSON(answer)
	}
	if p := answer.probed; p != nil {
		t.line("%d,%d: %s", x, y, p.reading)
	}
	return nil
}

// check tells what is wrong with the call, and reads the pixel to probe.
func (call *pictureCall) check() (x, y int, err error) {
	bad := func(option, text, read, allowed string) error {
		return fault.Fault{Kind: fault.Call, Path: option, Text: text, Read: read, Allowed: allowed}
	}
	switch {
	case call.out == "" && call.probe == "":
		return 0, 0, bad("--output", "neither a file to write nor a pixel to probe is given", "", "-o out.png, -o out.exr, --probe 480,270")
	case call.out != "" && !strings.HasSuffix(call.out, ".png") && !strings.HasSuffix(call.out, ".exr"):
		return 0, 0, bad("--output", "is no kind of picture file", call.out, "a name that ends in .png or .exr")
	case call.stops && strings.HasSuffix(call.out, ".exr"):
		return 0, 0, bad("--stops", "a map of stops is printed, not kept in layers", call.out, "-o out.png")
	case call.width < 16 || call.width > mostPixels:
		return 0, 0, bad("--width", "is out of range", strconv.Itoa(call.width), fmt.Sprintf("16 to %d", mostPixels))
	case call.samples < 1 || call.samples > 1<<16:
		return 0, 0, bad("--samples", "is out of range", strconv.Itoa(call.samples), "1 to 65536")
	}
	if call.probe == "" {
		return 0, 0, nil
	}
	left, top, _ := strings.Cut(call.probe, ",")
	x, errX := strconv.Atoi(strings.TrimSpace(left))
	y, errY := strconv.Atoi(strings.TrimSpace(top))
	if errX != nil || errY != nil || x < 0 || y < 0 || x >= call.width {
		return 0, 0, bad("--probe", "is no pixel of the picture", call.probe, "X,Y from the top left, such as 480,270")
	}
	return x, y, nil
}

// save writes the picture, in one go, once it is whole.
func (call *pictureCall) save(p *pipeline.Picture) error {
	var b bytes.Buffer
	if err := call.write(&b, p); err != nil {
		return err
	}
	return plan.Save(call.out, b.Bytes())
}

func (call *pictureCall) write(w io.Writer, p *pipeline.Picture) error {
	if strings.HasSuffix(call.out, ".exr") {
		return p.WriteEXR(w)
	}
	return p.WritePNG(w, call.stops, noiseFloor, clip)
}

// pictured is what was drawn, in the fields that --json prints; without a file or a pixel to probe, theirs are left out.
type pictured struct {
	Setup   string `json:"setup"`
	Output  string `json:"output,omitempty"`
	Width   int    `json:"width_px"`
	Height  int    `json:"height_px"`
	Samples int    `json:"paths_per_pixel"`
	*probed
}

// probed is one pixel; dark has no stops.
type probed struct {
	reading picture.Reading

	X          int           `json:"x"`
	Y          int           `json:"y"`
	Luminance  unit.Nit      `json:"luminance_cd_m2"`
	OverGrey   *unit.Stop    `json:"over_grey_stops"`
	Equivalent unit.Fraction `json:"reflectance_at_key"`
}

func probe(p *pipeline.Picture, x, y int) (*probed, error) {
	if y >= p.Image.Height {
		return nil, fault.Fault{Kind: fault.Call, Path: "--probe", Text: "is below the picture",
			Allowed: fmt.Sprintf("0,0 to %d,%d", p.Image.Width-1, p.Image.Height-1)}
	}
	r := p.Seen().Probe(x, y, p.Setup.Camera)
	found := &probed{reading: r, X: x, Y: y, Luminance: r.Luminance, Equivalent: r.Reflectance}
	if r.Luminance > 0 {
		found.OverGrey = &r.OverGrey
	}
	return found, nil
}

// samples returns what shows how far a picture is, on a terminal.
func (t *terminal) samples(name string) func(int) {
	if !styleFor(t.err).on {
		return nil
	}
	return func(n int) { fmt.Fprintf(t.err, "\r%s, %d paths a pixel ", name, n) }
}
