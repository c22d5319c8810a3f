package picture

import (
	"image"
	"math"
	"testing"

	"gloam/internal/colour"
	"gloam/internal/unit"

	"pgregory.net/rapid"
)

// wedge is a picture of vertical stripes at whole stops from the first on.
func wedge(first, n, stripe, height int) *Composite {
	c := &Composite{Width: n * stripe, Height: height}
	grey := 0.18 * float64(testCamera.Key()) / math.Pi
	for range height {
		for x := range c.Width {
			c.Pixels = append(c.Pixels, colour.XYZ{Y: grey * math.Exp2(float64(first+x/stripe))})
		}
	}
	return c
}

func TestStopsShowsWhatTheProbeReads(t *testing.T) {
	c := wedge(-8, 14, 60, 200)
	img := Stops(c, testCamera.Camera, -7, 5)
	k := key{-7, 5}
	for i := range 14 {
		x, y := i*60+5, 20
		class := k.class(c.Probe(x, y, testCamera.Camera).OverGrey)
		if got, want := img.RGBA64At(x, y), at(class, x, y, 1).rgba(); got != want {
			t.Errorf("at %d stops: got %v, want %v", i-8, got, want)
		}
		wantClass := uint8(i - 8 - lowest + 1)
		switch {
		case i-8 <= -7:
			wantClass = noiseClass
		case i-8 >= 5:
			wantClass = clipClass
		}
		if class != wantClass {
			t.Errorf("%d stops is of class %d, want %d", i-8, class, wantClass)
		}
	}
}

// found reports whether an area holds a pixel of an ink.
func found(img *image.RGBA64, area image.Rectangle, i ink) bool {
	for y := area.Min.Y; y < area.Max.Y; y++ {
		for x := area.Min.X; x < area.Max.X; x++ {
			if img.RGBA64At(x, y) == i.rgba() {
				return true
			}
		}
	}
	return false
}

// plain reports whether an area shows nothing but the ground of a class.
func plain(img *image.RGBA64, area image.Rectangle, class uint8) bool {
	for y := area.Min.Y; y < area.Max.Y; y++ {
		for x := area.Min.X; x < area.Max.X; x++ {
			if img.RGBA64At(x, y) != grounds[class].rgba() {
				return false
			}
		}
	}
	return true
}

func TestRegionsAreNumberedWhereThereIsRoom(t *testing.T) {
	c := wedge(-3, 4, 60, 60)
	img := Stops(c, testCamera.Camera, -7, 5)
	for i := range 4 {
		class := uint8(i - 3 - lowest + 1)
		// Around the middle stand the letters; the corner is free of them.
		if plain(img, image.Rect(i*60+20, 20, i*60+40, 40), class) {
			t.Errorf("band %d has no number", i-3)
		}
		if !plain(img, image.Rect(i*60+2, 2, i*60+15, 58), class) {
			t.Errorf("band %d has letters in its corner", i-3)
		}
	}
	narrow := Stops(wedge(-3, 4, 8, 60), testCamera.Camera, -7, 5)
	if !plain(narrow, image.Rect(16, 0, 23, 60), -1-lowest+1) {
		t.Error("a stripe of 8 pixels is written on")
	}
}

func TestLegendIsAlwaysThere(t *testing.T) {
	for _, width := range []int{16, 120, 240, 480, 960, 1920} {
		c := &Composite{width, 9, make([]colour.XYZ, 9*width)}
		img := Stops(c, testCamera.Camera, -7, 5)
		if img.Rect.Dx() != width || img.Rect.Dy() < 9+40 {
			t.Errorf("%d wide: the map is %v", width, img.Rect)
		}
		strip := img.Rect
		strip.Min.Y = 9
		for class := uint8(1); class < clipClass; class++ {
			if band := int(class) + lowest - 1; band < -7 || band > 4 {
				continue
			}
			if !found(img, strip, grounds[class]) {
				t.Errorf("%d wide: class %d is not in the legend", width, class)
			}
		}
		if !found(img, strip, dotInk) || !found(img, strip, hatchInk) {
			t.Errorf("%d wide: the patterns are not in the legend", width)
		}
	}
}

func TestStopsNeedsARange(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("did not panic")
		}
	}()
	Stops(wedge(0, 1, 1, 1), testCamera.Camera, 3, unit.Stop(3))
}

// anyMap draws a small map of a few classes.
func anyMap(t *rapid.T) classMap {
	w, h := rapid.IntRange(1, 12).Draw(t, "width"), rapid.IntRange(1, 12).Draw(t, "height")
	return classMap{w, h, rapid.SliceOfN(rapid.Uint8Range(1, 3), w*h, w*h).Draw(t, "class")}
}

// The depth is the half side of the greatest square around the pixel that holds its class alone.
func TestDepths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMap(t)
		alone := func(x, y, r int) bool {
			for v := y - r; v <= y+r; v++ {
				for u := x - r; u <= x+r; u++ {
					if u < 0 || u >= m.width || v < 0 || v >= m.height || m.class[v*m.width+u] != m.class[y*m.width+x] {
						return false
					}
				}
			}
			return true
		}
		for i, got := range m.depths() {
			want := 1
			for alone(i%m.width, i/m.width, want) {
				want++
			}
			if int(got) != want {
				t.Fatalf("pixel %d of %v is %d deep, want %d", i, m, got, want)
			}
		}
	})
}

// Each region is named once, by its deepest pixel.
func TestWidest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMap(t)
		depth := m.depths()
		region := make([]int, len(m.class)) // the least index that hangs together, found by spreading until nothing changes
		for i := range region {
			region[i] = i
		}
		for changed := true; changed; {
			changed = false
			for i := range region {
				for _, q := range []int{i - 1, i + 1, i - m.width, i + m.width} {
					beside := q >= 0 && q < len(region) && (q/m.width == i/m.width || q%m.width == i%m.width)
					if beside && m.class[q] == m.class[i] && region[q] < region[i] {
						region[i], changed = region[q], true
					}
				}
			}
		}
		best := map[int]int{}
		for i, r := range region {
			if b, ok := best[r]; !ok || depth[i] > depth[b] {
				best[r] = i
			}
		}
		got := m.widest(depth)
		if len(got) != len(best) {
			t.Fatalf("%v has %d regions, found %d", m, len(best), len(got))
		}
		for _, p := range got {
			if best[region[p]] != p {
				t.Fatalf("%v: pixel %d is named, want %d", m, p, best[region[p]])
			}
		}
	})
}
