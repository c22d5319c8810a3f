package chart

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// sky is a part of the day by the sun's altitude.
type sky struct {
	word  string
	above float64 // altitude of the sun's centre, degrees
	apart float64 // of its hatching; 0 for none
}

// skies run from day to night. The sun is up while its centre stands above −50′: 34′ of refraction and 16′ of its radius
// (the almanacs' convention, from memory).
var skies = []sky{
	{"day", -50.0 / 60, 0}, {"civil", -6, 16}, {"nautical", -12, 9}, {"astronomical", -18, 5.5}, {"night", math.Inf(-1), 3.2},
}

// skyOf returns the part of the day of an altitude that is a number.
func skyOf(altitude float64) int {
	return slices.IndexFunc(skies, func(s sky) bool { return altitude > s.above || math.IsInf(s.above, -1) })
}

// stretch is a part of the day from one time to another, in minutes.
type stretch struct {
	from, to float64
	sky      int
}

// stretches cuts the day where the sun passes from one part to the next, straight between samples.
func stretches(sun []SunSample) []stretch {
	var all []stretch
	for i := 1; i < len(sun); i++ {
		a, b := sun[i-1], sun[i]
		from, to := float64(a.At), float64(b.At)
		low, high := float64(a.Altitude), float64(b.Altitude)
		if !finite(low) || !finite(high) || !(to > from) {
			continue
		}
		cuts := []float64{from, to}
		for _, s := range skies[:len(skies)-1] {
			if t := (s.above - low) / (high - low); t > 0 && t < 1 {
				cuts = append(cuts, from+t*(to-from))
			}
		}
		slices.SortFunc(cuts, cmp.Compare)
		for j := 1; j < len(cuts); j++ {
			middle := ((cuts[j-1]+cuts[j])/2 - from) / (to - from)
			next := stretch{cuts[j-1], cuts[j], skyOf(low + middle*(high-low))}
			if n := len(all) - 1; n >= 0 && all[n].sky == next.sky && all[n].to == next.from {
				all[n].to = next.to
			} else {
				all = append(all, next)
			}
		}
	}
	return all
}

// Heights of the sun's strip, and of all that belongs to it.
const (
	sunHeight = 60.0
	sunRoom   = panelHead + sunHeight + line + panelGap
)

// sun draws the sun's altitude below y, with day, twilights and night told by hatching and, where there is room, by word.
func (c *clockwork) sun(sun []SunSample, y float64) {
	var highest span
	for _, at := range sun {
		highest.hold(float64(at.Altitude))
	}
	top := y + panelHead
	high := min(max(10, math.Ceil(highest.high/10)*10), 90)
	s := newScale("sun", "deg", true, [2]float64{top + sunHeight, top}, [2]float64{-18, high})
	c.Scales = append(c.Scales, s)
	area := box{c.left(), top, c.right(), top + sunHeight}
	c.onPattern("axis", "", Text{String: "sun altitude", X: margin, Y: top - 13, Colour: c.theme.Muted})
	for _, part := range stretches(sun) {
		b := box{c.time.within(part.from), area.top, c.time.within(part.to), area.bottom}
		kind := skies[part.sky]
		if kind.apart > 0 && b.right > b.left {
			c.hatch("sky", kind.word, b, kind.apart, pen{c.theme.Rule, 1, nil})
		}
		if c.ruler.width(kind.word, plain, c.theme.Bold)+6 <= b.right-b.left {
			c.onPattern("sky", kind.word, Text{String: kind.word, X: (b.left + b.right) / 2, Y: area.bottom + 14, Align: Middle, Colour: c.theme.Muted})
		}
	}
	c.stroke("horizon", "", open(XY{area.left, s.at(0)}, XY{area.right, s.at(0)}), pen{c.theme.Ink, 1, nil})
	for _, v := range []float64{0, high} {
		c.text("axis", "", Text{String: fmt.Sprintf("%.0f°", v), X: area.left - 8, Y: s.at(v) + 5, Align: Right})
	}
	var points []XY
	for _, at := range sun {
		points = append(points, XY{c.time.at(float64(at.At)), s.at(float64(at.Altitude))})
	}
	c.stroke("sun", "", clip(points, area), pen{c.theme.Ink, 2, nil})
}
