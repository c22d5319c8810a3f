package pipeline

import (
	"context"
	"fmt"
	"strings"

	"gloam/internal/fault"
	"gloam/internal/gear"
	"gloam/internal/plan"
	"gloam/internal/unit"
)

// Quick is the two-minute question: one lamp, one distance, one ambient reading. It is asked of the same engine, as a plan
// of one lamp and one point.
type Quick struct {
	Kit      string       // kit item; or Peak
	Peak     unit.Candela // on the axis
	Measured bool         // Peak is from a meter reading, not a sheet
	Beam     *unit.Degree
	Distance unit.Metre  // from lamp to point along the ground; they are level but for a sun
	OffAxis  unit.Degree // the lamp is aimed this far beside the point
	Dim      unit.Fraction
	Colour   *unit.Kelvin
	Cloth    *QuickCloth
	Ambient  unit.Lux
	Receptor string
	Camera   QuickCamera
	Want     *unit.Stop // over key, or over the ambient alone
	Over     string     // key or ambient
	Cover    *QuickCover
	Walk     *QuickWalk
	Sun      *QuickSun
}

// QuickCloth is a frame between lamp and point, square-on.
type QuickCloth struct {
	Kind     string
	Size     unit.Size2
	Distance unit.Metre // from the point
	Assumed  bool       // size and distance are not the caller's
}

// QuickCamera is what sets the key.
type QuickCamera struct {
	EI      unit.EI
	FPS     unit.FPS
	Shutter unit.Shutter
	Stop    unit.TStop
}

// QuickAnswer is the answer, in the fields that `gloam quick --json` prints. ND is what brings the total down to the key.
type QuickAnswer struct {
	Lamp        unit.Lux   `json:"lamp_lux"`
	Ambient     unit.Lux   `json:"ambient_lux"`
	Total       unit.Lux   `json:"total_lux"`
	Key         unit.Lux   `json:"key_lux"`
	OverAmbient *unit.Stop `json:"over_ambient_stops"`
	OverKey     *unit.Stop `json:"over_key_stops"`
	ND          *unit.Stop `json:"nd_stops"`
	Interval    unit.Stop  `json:"interval_stops"`
	Reserve     *unit.Stop `json:"reserve_stops,omitempty"`
	Outcome     string     `json:"-"` // the reserve in a word

	Cover *CoverAnswer `json:"cover,omitempty"`
	Walk  *WalkAnswer  `json:"walk,omitempty"`
	Sun   *SunAnswer   `json:"sun,omitempty"`
}

// Ask answers the question. The Result holds the same set-up as any plan's.
func Ask(ctx context.Context, q *Quick, o Options) (*QuickAnswer, *Result, error) {
	q, chosen := q.zoomed()
	kit := q.kitText()
	p, faults := plan.Read("the question", q.planText(), func(name string) ([]byte, error) { return kit, nil })
	if err := faults.Err(); err != nil {
		return nil, nil, asked(err)
	}
	view, faults := p.Setup(p.Setups()[0])
	if err := faults.Err(); err != nil {
		return nil, nil, asked(err)
	}
	r, err := Run(ctx, view, o)
	if err != nil {
		return nil, nil, asked(err)
	}
	a := q.answer(r)
	q.reach(a, r, chosen)
	return a, r, nil
}

// options names the option behind each path of the question's plan and kit; the first that begins a path holds.
var options = []struct{ path, option string }{
	{"lamps.lamp.colour", "--colour"}, {"lamps.lamp.zoom", "--beam"}, {"lamps.lamp.dim", "--dim"},
	{"lamps.lamp asked about.beams", "--beam"}, {"lamps.lamp", "--lamp"}, {"cloths.cloth", "--cloth"},
	{"camera.shutter", "--angle"}, {"camera.ei", "--ei"}, {"camera.fps", "--fps"}, {"camera.stop", "--stop"},
	{"ambient", "--ambient"}, {"targets", "--want"},
}

// asked turns faults of the question's plan, which the caller never saw, into faults of the options.
func asked(err error) error {
	var list fault.List
	for _, f := range fault.Of(err, fault.Input) {
		if f.Kind == fault.Input {
			f.Kind, f.Place = fault.Call, fault.Place{}
			for _, o := range options {
				if strings.HasPrefix(f.Path, o.path) {
					f.Path = o.option
					break
				}
			}
		}
		list = append(list, f)
	}
	return list.Err()
}

func (q *Quick) answer(r *Result) *QuickAnswer {
	l := &r.Levels
	point := &l.Points[0]
	a := &QuickAnswer{Total: *point.Lux, Key: l.Key, OverKey: point.OverKey, ND: point.OverKey, Interval: point.Interval}
	for _, s := range point.By {
		if s.Source == "lamp" {
			a.Lamp = *s.Lux
		} else {
			a.Ambient = *s.Lux
		}
	}
	if a.Ambient > 0 {
		over := unit.Stops(float64(a.Total / a.Ambient))
		a.OverAmbient = &over
	}
	if q.Want != nil {
		a.Reserve, a.Outcome = l.Lamps[0].Reserve, l.Lamps[0].Outcome
	}
	return a
}

// questionHeight is the height of the point and the lamp, m: nothing else is there, so that any would do.
const questionHeight = 1.6

// planText writes the question as a plan.
func (q *Quick) planText() []byte {
	var b strings.Builder
	say := func(format string, values ...any) { fmt.Fprintf(&b, format+"\n", values...) }
	say("gloam: 1\ntitle: the question")
	if q.Kit == "" {
		say("kit: [question-kit.yaml]")
	}
	c := q.Camera
	shutter := fmt.Sprintf("%v deg", float64(c.Shutter.Angle))
	if c.Shutter.Time > 0 {
		shutter = fmt.Sprintf("%v s", float64(c.Shutter.Time))
	}
	say("camera: {ei: %v, fps: %v, shutter: %s, stop: T%v}", float64(c.EI), float64(c.FPS), shutter, float64(c.Stop))
	say("points:\n  point: {at: 0 0 %v, faces: 0 %v %v, receptor: %s}\n%s", questionHeight, float64(q.way()), questionHeight, q.Receptor, q.reachText())
	say("lamps:\n  lamp:\n    kit: %q\n    at: 0 %v %v\n    aim: %v deg\n    dim: %v", q.kitName(), float64(q.way()), questionHeight,
		180+float64(q.OffAxis), float64(q.Dim))
	if q.Colour != nil {
		say("    colour: %v K", float64(*q.Colour))
	}
	if q.Kit != "" && q.Beam != nil {
		say("    zoom: %v deg", float64(*q.Beam))
	}
	if q.Cloth != nil {
		say("cloths:\n  cloth: {kind: %q, size: %v x %v m, at: 0 %v %v, faces: point}", q.Cloth.Kind,
			float64(q.Cloth.Size.Width), float64(q.Cloth.Size.Height), float64(q.Cloth.Distance), questionHeight)
	}
	if q.Ambient > 0 {
		say("ambient:\n  ambient: {reading: %v lx, shape: everywhere, point: point}", float64(q.Ambient))
	}
	if q.Want != nil {
		say("targets:\n  - {point: point, level: %v, over: %s}", float64(*q.Want), q.Over)
	}
	return []byte(b.String())
}

func (q *Quick) kitName() string {
	if q.Kit != "" {
		return q.Kit
	}
	return "lamp asked about"
}

// narrow is the beam of a lamp that was asked about on its axis alone, where the beam does not matter.
const narrow unit.Degree = 30

// kitText writes a lamp given by its candela as a kit.
func (q *Quick) kitText() []byte {
	quality, beam := "sheet", narrow
	if q.Measured {
		quality = "measured"
	}
	if q.Beam != nil {
		beam = *q.Beam
	}
	return fmt.Appendf(nil, `kit: 1
lamps:
  lamp asked about:
    quality: %s
    beams: [{beam: %v deg, peak: %v cd}]
    opening: disc 0.01 m
    reference: 5600 K
    output: {2000 K: 100 %%, 10000 K: 100 %%}
`, quality, float64(beam), float64(q.Peak))
}

// Check tells what the question lacks, each fault with the option that would give it.
func (q *Quick) Check() fault.List {
	var list fault.List
	add := func(option, text, allowed string) {
		list = append(list, fault.Fault{Kind: fault.Call, Path: option, Text: text, Allowed: allowed})
	}
	if q.Kit == "" && q.Peak == 0 {
		add("--lamp", "the lamp is missing", "--lamp 250kcd, --lamp B12-D26, or --lux 10000lx@5m")
	}
	if q.Distance <= 0 {
		add("--distance", "the distance is missing", "--distance 5m, above 0")
	}
	if q.Beam == nil && q.Kit == "" && (q.OffAxis != 0 || q.Cloth != nil) {
		add("--beam", "off the axis and through cloth the beam counts", "--beam 26 deg, the angle at half intensity")
	}
	if q.Want != nil && q.Over == "ambient" && q.Ambient == 0 {
		add("--ambient", "the ambient is missing, and the level is wanted over it", "--ambient 640lx")
	}
	if q.Cloth != nil && q.Cloth.Distance >= q.way() {
		add("--cloth", "the cloth is not between lamp and point", "a distance from the point below the lamp's")
	}
	if q.Cloth != nil && q.Cloth.Assumed {
		if c, ok := gear.BuiltIn().Cloth(q.Cloth.Kind); ok && c.Kind != gear.Light {
			add("--cloth", "a heavy cloth is a new source: its size and its distance from the point count",
				"full grid 1.2 x 1.2 m at 1.5 m")
		}
	}
	q.checkReach(add)
	return list
}
