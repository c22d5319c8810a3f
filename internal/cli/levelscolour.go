package cli

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"

	"gloam/internal/chart"
	"gloam/internal/colour"
	"gloam/internal/fault"
	"gloam/internal/meter"
	"gloam/internal/pipeline"
	"gloam/internal/plan"
)

// printColours prints the whites of sources as they leave the head, then of the mixtures at the points.
func (t *terminal) printColours(r *pipeline.Result) {
	l := &r.Levels
	t.heading(pad("Colour", 26) + right("kelvin", 8) + right("Duv", 10) + "  mired from " + pipeline.Balance(r))
	for _, s := range l.Sources {
		t.printWhite(s.Source, &s.White)
	}
	for _, p := range l.Points {
		t.printWhite("at "+p.Name, &p.White)
	}
	for _, note := range l.Notes {
		t.line("  ▲ %s", wrapped(note, lineWidth-4, 4))
	}
}

func (t *terminal) printWhite(name string, w *meter.White) {
	if w.CCT == nil {
		t.line("%s", tail("  "+column(name, 24, 2), "no white"))
		return
	}
	t.line("%s", tail("  "+column(name, 24, 2)+right(fmt.Sprintf("%.0f K", float64(*w.CCT)), 8)+right(colour.DuvText(*w.Duv), 10)+"  ", strings.Replace(mired(w), " mired", "", 1)))
}

// mired prints a distance from the balance in a number and words.
func mired(w *meter.White) string {
	if w.Mired == nil {
		return "no white"
	}
	return w.Mired.Shift() + " " + w.Words
}

// printFlicker prints what the mains does to the picture.
func (t *terminal) printFlicker(f *meter.Flicker) {
	if f == nil {
		return
	}
	t.heading(wrapped(fmt.Sprintf("Flicker, %s mains, of %s", f.Mains, strings.Join(f.Sources, ", ")), lineWidth, 2))
	switch {
	case f.AnyWay:
		t.line("  steady at any shutter: the frame rate divides the pulses of a second")
		return
	case f.Steady:
		t.line("  steady at this shutter")
	default:
		t.line("  %s", wrapped(fmt.Sprintf("frames differ by %.2f stop at %s and beat at %s", float64(*f.Ripple), f.Point, f.Beat), lineWidth-2, 4))
	}
	if len(f.Angles) == 0 {
		t.line("  no shutter is steady at this frame rate")
		return
	}
	var steady []string
	for i, a := range f.Angles {
		steady = append(steady, fmt.Sprintf("%s (1/%.3g s)", a, 1/float64(f.Times[i])))
	}
	t.line("  %s", wrapped("steady at "+strings.Join(steady, ", "), lineWidth-2, 4))
}

// Sizes of a chart in units of 1/96 inch, and pixels of a PNG to each: a page half across, sharp on a dense screen.
const (
	chartWidth, chartHeight = 760, 520
	chartPixels             = 2
)

// saveDrawing writes a chart as SVG or PNG, by the name's ending.
func saveDrawing(option, name string, d chart.Drawing) error {
	var b bytes.Buffer
	var err error
	switch strings.ToLower(filepath.Ext(name)) {
	case ".svg":
		err = d.SVG(&b)
	case ".png":
		err = d.PNG(&b, chartPixels)
	default:
		return noChart(option, name)
	}
	if err != nil {
		return err
	}
	return plan.Save(name, b.Bytes())
}

// checkChart tells a name that is no chart's before anything is worked out.
func checkChart(option, name string) error {
	if ext := strings.ToLower(filepath.Ext(name)); name != "" && ext != ".svg" && ext != ".png" {
		return noChart(option, name)
	}
	return nil
}

func noChart(option, name string) error {
	return fault.Fault{Kind: fault.Call, Path: option, Text: "is no kind of chart file", Read: name, Allowed: "a name that ends in .svg or .png"}
}

func frame(id, title string) chart.Frame {
	return chart.Frame{ID: id, Title: title, Width: chartWidth, Height: chartHeight, Theme: chart.Paper}
}

// check tells charts that cannot be written.
func (call *levelsCall) check() error {
	if err := checkChart("--chromaticity", call.chromaticity); err != nil {
		return err
	}
	return checkChart("--mireds", call.mireds)
}

// draw writes the charts asked for, of one set-up.
func (call *levelsCall) draw(p *plan.Plan, results []*pipeline.Result) error {
	if call.chromaticity == "" && call.mireds == "" {
		return nil
	}
	if len(results) > 1 {
		return fault.Fault{Kind: fault.Call, Path: "--setup", Text: "a chart of colours shows one set-up", Allowed: strings.Join(p.Setups(), ", ")}
	}
	r := results[0]
	title := p.Document.Title
	if len(p.Document.Setups) > 0 {
		title += ", " + r.Setup.Name
	}
	if call.chromaticity != "" {
		if err := saveDrawing("--chromaticity", call.chromaticity, pipeline.Chromaticity(r, frame("chromaticity", title))); err != nil {
			return err
		}
	}
	if call.mireds != "" {
		return saveDrawing("--mireds", call.mireds, pipeline.Mireds(r, frame("mireds", title)))
	}
	return nil
}
