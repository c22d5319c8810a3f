package solve

import (
	"math"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// Kit is a look and what could make it: at each position one of several alternatives. What does nothing, a white board,
// a black or another hour are alternatives like a lamp.
type Kit struct {
	Problem   // the look, and the light that is there whatever is chosen; without lamps
	Positions []Position
	Budget    Cost        // the most of each that may be used; 0 is no limit
	Stock     []int       // how many of each item there are
	Order     []Criterion // of the ranking, behind the miss; if not given: reserve, current, hands, time, money, softness
	Answers   int         // how many are wanted
}

// Position is a place for one of several things.
type Position struct {
	Name         string
	Alternatives []Alternative
}

// Alternative is what may stand at a position: a lamp, or a thing that changes the light that is there.
type Alternative struct {
	Name     string
	Lamp     Lamp
	By       []unit.Lux   // by point, at full output; nil: it is no lamp
	Adds     [][]unit.Lux // of a thing that is no lamp, by condition and point: added to the ambient, taken below 0
	Cost     Cost
	Item     int         // of the stock, counted from 1; 0: there is no end of it
	Softness unit.Degree // how large the source is as the subject sees it
}

// Cost is what a choice takes, at full output. It adds up, noise by its energy.
type Cost struct {
	Current float64 // A
	Power   unit.Watt
	Hands   float64 // people needed to set and hold it
	Mass    unit.Kilogram
	Time    unit.Second // to rig
	Money   float64     // in whatever currency all are given
	Noise   unit.DecibelA
}

// costs is how many figures a Cost holds.
const costs = 7

// figures returns the cost as numbers that add up; silence is 0.
func (c *Cost) figures() [costs]float64 {
	noise := 0.
	if c.Noise > 0 {
		noise = math.Pow(10, float64(c.Noise)/10)
	}
	return [costs]float64{c.Current, float64(c.Power), c.Hands, float64(c.Mass), float64(c.Time), c.Money, noise}
}

// costOf is the reverse of figures.
func costOf(f [costs]float64) Cost {
	c := Cost{Current: f[0], Power: unit.Watt(f[1]), Hands: f[2], Mass: unit.Kilogram(f[3]), Time: unit.Second(f[4]), Money: f[5]}
	if f[6] > 0 {
		c.Noise = unit.DecibelA(10 * math.Log10(f[6]))
	}
	return c
}

// mostChoices is how many choices of a kit are looked through; a hundred million take a minute and a half.
const mostChoices = 100_000_000

// check returns how many choices there are, or what is wrong with the kit.
func (k *Kit) check() (choices int, err error) {
	if len(k.Lamps) > 0 {
		panic("solve: a kit's lamps stand at its positions")
	}
	if err := k.Problem.check(); err != nil {
		return 0, err
	}
	choices = 1
	var faults fault.List
	for _, c := range k.Order {
		if !c.known() {
			faults = append(faults, fault.Fault{Path: "order", Text: "answers are not ranked by that", Read: string(c)})
		}
	}
	for i := range k.Positions {
		p := &k.Positions[i]
		if len(p.Alternatives) == 0 {
			faults = append(faults, fault.Fault{Path: "positions." + p.Name, Text: "a position needs an alternative, if only nothing"})
			continue
		}
		for j := range p.Alternatives {
			p.Alternatives[j].check(k, "positions."+p.Name+"."+p.Alternatives[j].Name, &faults)
		}
		if choices *= len(p.Alternatives); choices > mostChoices {
			faults = append(faults, fault.Fault{Path: "positions", Text: "more than 100 million choices are too many to look through"})
			break
		}
	}
	return choices, faults.Err()
}

func (a *Alternative) check(k *Kit, path string, faults *fault.List) {
	fail := func(where, text string) { *faults = append(*faults, fault.Fault{Path: where, Text: text}) }
	if a.By != nil && (a.Adds != nil || len(a.By) != len(k.Points)) || a.Adds != nil && len(a.Adds) != len(k.Conditions) {
		panic("solve: an alternative's light does not fit the kit's points and conditions")
	}
	if a.Item < 0 || a.Item > len(k.Stock) {
		panic("solve: an alternative is of an item that the stock does not have")
	}
	if l := &a.Lamp; a.By != nil && !(l.Min >= 0 && l.Min <= l.Max && l.Max <= 1 && l.Step >= 0 && l.Step <= 1) {
		fail(path, "the dim control must go up from 0 to at most 1")
	}
	good := true
	for _, e := range a.By {
		good = good && isLevel(e)
	}
	for _, adds := range a.Adds {
		if len(adds) != len(k.Points) {
			panic("solve: an alternative's light does not fit the kit's points and conditions")
		}
		for _, e := range adds {
			good = good && !math.IsNaN(float64(e)) && !math.IsInf(float64(e), 0)
		}
	}
	for _, f := range a.Cost.figures() {
		good = good && f >= 0 && !math.IsInf(f, 1)
	}
	if !good {
		fail(path, "a level or a cost is not a number, or is below 0")
	}
}

// chosen returns the look with one alternative at each position, and the position of each of its lamps.
func (k *Kit) chosen(choice []int) (p *Problem, at []int) {
	made := k.Problem
	made.Points = make([]Point, len(k.Points))
	for i, q := range k.Points {
		made.Points[i] = Point{Name: q.Name, Fixed: q.Fixed, Ambient: append([]unit.Lux(nil), q.Ambient...)}
	}
	for i, c := range choice {
		a := &k.Positions[i].Alternatives[c]
		if a.By != nil {
			made.Lamps, at = append(made.Lamps, a.Lamp), append(at, i)
		}
		for j := range made.Points {
			if a.By != nil {
				made.Points[j].By = append(made.Points[j].By, a.By[j])
			}
			for c := range a.Adds {
				made.Points[j].Ambient[c] += a.Adds[c][j]
			}
		}
	}
	for i := range made.Points {
		for c, e := range made.Points[i].Ambient {
			made.Points[i].Ambient[c] = max(e, 0) // two blacks can't take more than there is
		}
	}
	return &made, at
}
