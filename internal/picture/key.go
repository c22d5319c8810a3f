package picture

import (
	"fmt"
	"math"

	"gloam/internal/unit"
)

// The key of the stops map: a band for each whole stop over grey, from the lowest to the highest, and two grounds for what
// the camera cannot hold. CIE L* rises from 18 to 94 in even steps, so that a grey print keeps the order and no eye needs
// the hue; the hue is slate below grey (CIELAB 258°), none at 0, ochre to straw above (72° to 87°). The patterns are drawn
// so that the noise floor's area stays darker than the lowest band and the clip's lighter than the highest.
const (
	lowest  = -8
	highest = 6

	classes    = highest - lowest + 3 // the bands, with the noise floor before and the clip after
	noiseClass = 0
	clipClass  = classes - 1
)

// ink is an sRGB colour.
type ink [3]uint8

var (
	black = ink{0, 0, 0}
	white = ink{255, 255, 255}
)

// grounds holds the colour of each class.
var grounds = [classes]ink{
	{0x14, 0x14, 0x14},                                                             // noise floor
	{0x00, 0x2f, 0x48}, {0x01, 0x3c, 0x59}, {0x03, 0x48, 0x6b}, {0x01, 0x56, 0x7e}, // -8 to -5
	{0x28, 0x62, 0x89}, {0x44, 0x6f, 0x91}, {0x5b, 0x7c, 0x98}, {0x70, 0x89, 0xa0}, // -4 to -1
	{0x94, 0x94, 0x94},                                         // 0
	{0xb7, 0x9f, 0x86}, {0xcd, 0xac, 0x86}, {0xe1, 0xba, 0x85}, // 1 to 3
	{0xf4, 0xc9, 0x83}, {0xff, 0xd9, 0x94}, {0xff, 0xec, 0xc8}, // 4 to 6
	{0xff, 0xff, 0xff}, // clip
}

// What the patterns are drawn with.
var (
	dotInk   = ink{0x60, 0x60, 0x60}
	hatchInk = ink{0x70, 0x70, 0x70}
)

// patternPeriod is how far dots and hatch lines are apart, in pixels of a picture up to 960 wide.
const patternPeriod = 8

// key sorts tones of one camera into classes.
type key struct{ noiseFloor, clip unit.Stop }

func newKey(noiseFloor, clip unit.Stop) key {
	if !(noiseFloor < clip) {
		panic("picture: noise floor above the clip")
	}
	return key{noiseFloor, clip}
}

// Pattern is how a band is drawn beside its colour.
type Pattern string

// The patterns of the key.
const (
	Plain Pattern = ""
	Dots  Pattern = "dots"
	Hatch Pattern = "hatch"
)

// Band is a tone of the stops map.
type Band struct {
	Label   string
	From    unit.Stop // over grey, where it begins; −∞ for the first
	Ground  [3]uint8  // sRGB
	Contour [3]uint8  // the line where it meets another below or to the right
	Pattern Pattern
	Ink     [3]uint8 // of its pattern
	White   bool     // letters on it are white; else black
}

// Bands returns the tones of the map from dark to light.
func Bands(noiseFloor, clip unit.Stop) []Band {
	k := newKey(noiseFloor, clip)
	var all []Band
	for _, class := range k.shown() {
		b := Band{Label: k.label(class), Ground: grounds[class], Contour: grounds[class].contour(), White: letters(class) == white}
		switch class {
		case noiseClass:
			b.From, b.Pattern, b.Ink = unit.Stop(math.Inf(-1)), Dots, dotInk
		case clipClass:
			b.From, b.Pattern, b.Ink = clip, Hatch, hatchInk
		default:
			b.From = max(noiseFloor, unit.Stop(int(class)+lowest-1)-0.5)
		}
		all = append(all, b)
	}
	all[1].From = noiseFloor
	return all
}

// class returns the class of a tone over grey. A band holds what is nearest to its whole stop.
func (k key) class(over unit.Stop) uint8 {
	switch {
	case over <= k.noiseFloor:
		return noiseClass
	case over >= k.clip:
		return clipClass
	}
	return uint8(band(over) - lowest + 1)
}

// band returns the whole stop of the band a tone falls in; the end bands take what lies beyond them.
func band(over unit.Stop) int {
	return int(math.Max(lowest, math.Min(highest, math.Floor(float64(over)+0.5))))
}

// shown returns the classes that can occur, from dark to light.
func (k key) shown() (all []uint8) {
	all = append(all, noiseClass)
	just := func(at unit.Stop, toward float64) uint8 {
		return k.class(unit.Stop(math.Nextafter(float64(at), toward)))
	}
	for c := just(k.noiseFloor, math.Inf(1)); c <= just(k.clip, math.Inf(-1)); c++ {
		all = append(all, c)
	}
	return append(all, clipClass)
}

// label returns what is written on a class.
func (k key) label(class uint8) string {
	switch class {
	case noiseClass:
		return "noise"
	case clipClass:
		return "clip"
	}
	n := int(class) + lowest - 1
	text := fmt.Sprintf("%+d", n)
	if n == 0 {
		text = "0"
	} else if n < 0 {
		text = fmt.Sprintf("−%d", -n)
	}
	switch {
	case n == lowest && k.noiseFloor < lowest-0.5:
		return "≤" + text
	case n == highest && k.clip > highest+0.5:
		return "≥" + text
	}
	return text
}

// at returns the colour of a class at a pixel, pattern and all; scale enlarges the pattern.
func at(class uint8, x, y, scale int) ink {
	x, y = x/scale, y/scale
	switch class {
	case noiseClass:
		if half := patternPeriod / 2; (x%patternPeriod < 2 && y%patternPeriod < 2) ||
			((x+half)%patternPeriod < 2 && (y+half)%patternPeriod < 2) {
			return dotInk
		}
	case clipClass:
		if (x+y)%patternPeriod == 0 {
			return hatchInk
		}
	}
	return grounds[class]
}

// contour returns the colour as a line between two classes shows it.
func (i ink) contour() ink { return ink{i[0] / 4 * 3, i[1] / 4 * 3, i[2] / 4 * 3} }

// letters returns black or white, whichever is read better on the class.
func letters(class uint8) ink {
	if class <= -3-lowest+1 { // L* up to 45
		return white
	}
	return black
}
