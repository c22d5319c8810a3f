package chart

// Outcome is how a value stands to its target. The words are those of the readings.
type Outcome string

// The outcomes; the empty one belongs to a value without a target.
const (
	Met    Outcome = "met"
	Maybe  Outcome = "maybe"
	Missed Outcome = "missed"
	Dark   Outcome = "dark"
)

// outcome draws the sign of an outcome: a full disc where all is well or nothing is wanted, a half one for maybe, a square for
// missed, a ring for dark.
func (k *sketch) outcome(name string, at XY, o Outcome) {
	const r = 5.0
	c := k.theme.Ink
	edge := pen{c, 1.6, nil}
	switch o {
	case Missed:
		k.fill("point", name, box{at.X - r, at.Y - r, at.X + r, at.Y + r}.path(), c)
	case Maybe:
		k.outline("point", name, circle(at, r), k.theme.Ground, edge)
		round := circle(at, r)
		k.fill("half", name, Path{{Op: MoveTo, To: round[1].To}, round[2], round[3], {Op: Close}}, c) // the left half
	case Dark:
		k.outline("point", name, circle(at, r), k.theme.Ground, edge)
	default:
		k.fill("point", name, circle(at, r), c)
	}
}

// sign is what tells one line or light from another without colour.
type sign struct {
	dash   []float64
	points []XY // an outline around 0, nil for a disc
	full   bool
	dashed bool // its edge
}

// wanted stands for the circle of what a match allows.
var wanted = sign{dashed: true}

// signs are taken in turn. After them dashes and outlines repeat together, and only the labels tell lines apart.
var signs = []sign{
	{full: true},
	{dash: []float64{9, 4}, points: []XY{{0, -5.5}, {5.5, 4.5}, {-5.5, 4.5}}, full: true},
	{dash: []float64{2.5, 3}, points: []XY{{-4.5, -4.5}, {4.5, -4.5}, {4.5, 4.5}, {-4.5, 4.5}}},
	{dash: []float64{12, 4, 2.5, 4}, points: []XY{{0, -6}, {6, 0}, {0, 6}, {-6, 0}}, full: true},
	{dash: []float64{16, 5}},
	{dash: []float64{6, 3, 2, 3, 2, 3}, points: []XY{{0, 5.5}, {5.5, -4.5}, {-5.5, -4.5}}},
	{dash: []float64{4, 6}, points: []XY{{-4.5, -4.5}, {4.5, -4.5}, {4.5, 4.5}, {-4.5, 4.5}}, full: true},
	{dash: []float64{1.5, 5}, points: []XY{{0, -6}, {6, 0}, {0, 6}, {-6, 0}}},
}

func signOf(n int) sign { return signs[n%len(signs)] }

func (k *sketch) sign(class, name string, at XY, s sign) {
	outline := circle(at, 4.5)
	if s.points != nil {
		moved := make([]XY, len(s.points))
		for i, p := range s.points {
			moved[i] = XY{at.X + p.X, at.Y + p.Y}
		}
		outline = closed(moved...)
	}
	fill := k.theme.Ground
	if s.full {
		fill = k.theme.Ink
	}
	edge := pen{k.theme.Ink, 1.4, nil}
	if s.dashed {
		edge.dash = []float64{3, 2}
	}
	k.outline(class, name, outline, fill, edge)
}
