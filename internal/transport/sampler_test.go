package transport

import (
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/numeric"
	"gloam/internal/photometry"
	"gloam/internal/scene"
)

// Samplers against the densities they state.

// grid counts samples in cells over (cos, azimuth) about an axis. bounds of the cosine fall from 1.
type grid struct {
	axis   geometry.Basis
	bounds []float64
}

const azimuths = 12

func (g grid) cell(d vec) int {
	l := g.axis.In(d)
	a := math.Atan2(l.Y, l.X)/(2*math.Pi) + 0.5
	for i := 1; i < len(g.bounds); i++ {
		if l.Z >= g.bounds[i] {
			return (i-1)*azimuths + min(int(a*azimuths), azimuths-1)
		}
	}
	return -1
}

// shares integrates a density over the cells, n × n places in each.
func (g grid) shares(n int, pdf func(vec) float64) []float64 {
	out := make([]float64, (len(g.bounds)-1)*azimuths)
	for i := range out {
		ring := i / azimuths
		high, low := g.bounds[ring], g.bounds[ring+1]
		for k := range n * n {
			cos := low + (high-low)*(float64(k/n)+0.5)/float64(n)
			a := 2 * math.Pi * ((float64(i%azimuths)+(float64(k%n)+0.5)/float64(n))/azimuths - 0.5)
			sin := math.Sqrt(1 - cos*cos)
			out[i] += pdf(g.axis.Out(vec{X: sin * math.Cos(a), Y: sin * math.Sin(a), Z: cos}))
		}
		out[i] *= (high - low) * 2 * math.Pi / azimuths / float64(n*n)
	}
	return out
}

// chiSquare compares counts with expected counts: Pearson's sum, cells of less than 5 expected thrown together, within
// 4 standard deviations of its mean (Wilson and Hilferty's cube root).
func chiSquare(t *testing.T, counts []int, shares []float64, n int) {
	t.Helper()
	var sum, restWant, restGot float64
	cells := 0
	for i, c := range counts {
		want := shares[i] * float64(n)
		if want < 5 {
			restWant, restGot = restWant+want, restGot+float64(c)
			continue
		}
		cells++
		sum += (float64(c) - want) * (float64(c) - want) / want
	}
	if restWant >= 5 {
		cells++
		sum += (restGot - restWant) * (restGot - restWant) / restWant
	} else if restGot > restWant+20 {
		t.Errorf("%v samples where %v are expected", restGot, restWant)
	}
	k := float64(cells - 1)
	if z := (math.Cbrt(sum/k) - (1 - 2/(9*k))) / math.Sqrt(2/(9*k)); z > 4 {
		t.Errorf("chi-square %.1f on %v degrees of freedom (%.1f standard deviations)", sum, k, z)
	}
}

// independent is the stream of one sample that shares nothing with the next.
func independent(i int) numeric.Points { return numeric.Path(uint32(i)+1, 0) }

// evenBounds are cosines at even steps from high to low.
func evenBounds(high, low float64, steps int) []float64 {
	b := make([]float64, steps+1)
	for i := range b {
		b[i] = high + (low-high)*float64(i)/float64(steps)
	}
	return b
}

func TestVertexPicksWhatItStates(t *testing.T) {
	z := vec{X: 0.3, Y: -0.5, Z: 0.7}.Unit()
	all := grid{geometry.About(z), evenBounds(1, -1, 24)}
	// a narrow lobe needs its own cells
	lobe := func(onward vec, spread float64) grid {
		gap := 1 - math.Cos(spread/2)
		return grid{geometry.About(onward), append(evenBounds(1, 1-10*gap, 20), -1)}
	}
	cloth := func(o scene.Optics, cos float64) (vertex, vec) {
		b := geometry.About(z)
		in := b.Out(vec{X: math.Sqrt(1 - cos*cos), Z: -cos})
		v, _ := surfaceOf(&o, vec{}, in, &hit{normal: z, front: true})
		return v, in
	}
	spread := scene.Optics{ReflectFront: grey(0.2), Transmit: grey(0.3), Straight: grey(0.4), Spread: 0.6}
	square, on := cloth(spread, 1)
	slant, onSlant := cloth(spread, 0.3)
	plain, _ := cloth(scene.Optics{ReflectFront: grey(0.5), Transmit: grey(0.2)}, 0.8)
	hair := spread
	hair.Spread = 0.02
	narrow, onNarrow := cloth(hair, 0.6)
	black := spread
	black.ReflectFront = grey(0)
	oneSided, _ := cloth(black, 0.3)
	for _, row := range []struct {
		name string
		v    vertex
		grid grid
	}{
		{"flat receptor", receptorVertex(&scene.Receiver{Kind: scene.Flat, Normal: z}), all},
		{"dome receptor", receptorVertex(&scene.Receiver{Kind: scene.Dome, Normal: z}), all},
		{"matt on both sides", plain, all},
		{"light cloth square-on", square, lobe(on, 0.6)},
		{"light cloth on a slant", slant, lobe(onSlant, 0.6)},
		{"light cloth on a slant, all about", slant, all},
		{"narrow cloth", narrow, lobe(onNarrow, 0.02)},
		{"light cloth that gives nothing back", oneSided, all},
	} {
		t.Run(row.name, func(t *testing.T) {
			const n = 40000
			shares := row.grid.shares(12, func(d vec) float64 { _, pdf := row.v.value(d); return pdf })
			counts := make([]int, len(shares))
			for i := range n {
				points := independent(i)
				d := row.v.pick(&points)
				if math.Abs(d.Length()-1) > 1e-9 {
					t.Fatalf("direction of length %v", d.Length())
				}
				if c := row.grid.cell(d); c >= 0 {
					counts[c]++
				}
			}
			total := 0.0
			for _, s := range shares {
				total += s
			}
			if math.Abs(total-1) > 0.01 {
				t.Errorf("the density sums to %v", total)
			}
			chiSquare(t, counts, shares, n)
		})
	}
}

func TestLampSamplesWhatMeetStates(t *testing.T) {
	turned := geometry.About(vec{X: 0.2, Y: 0.4, Z: -1}.Unit())
	beam := photometry.Bell(1000, 60)
	form := func(f scene.Form, offset float64, beam photometry.Distribution) scene.Emitter {
		return scene.Emitter{Kind: scene.Lamp, Centre: vec{X: 0.1, Y: 0.2, Z: 2}, Basis: turned, Form: f, Offset: offset, Beam: beam, Luminance: 100}
	}
	bar := form(scene.Form{Shape: scene.Tube, Radius: 0.2, Height: 1.2}, 0, nil)
	for _, row := range []struct {
		name string
		lamp scene.Emitter
		from vec
	}{
		{"disc", form(disc(0.8), 0, beam), vec{}},
		{"disc aside", form(disc(0.8), 0, beam), vec{X: 1.5}},
		{"panel", form(panel(1.5, 0.9), 0, beam), vec{X: -0.5}},
		{"panel near", form(panel(1.5, 0.9), 0, cosine(10)), vec{X: 0.2, Y: 0.3, Z: 1.7}},
		{"disc behind its front", form(disc(0.8), 0.5, beam), vec{}},
		{"globe", form(scene.Form{Shape: scene.Globe, Radius: 0.6}, 0, nil), vec{}},
		{"globe near", form(scene.Form{Shape: scene.Globe, Radius: 0.6}, 0, nil), vec{Z: 1.39}},
		{"tube", bar, vec{}},
		{"tube near an end", bar, vec{X: 0.9, Z: 1.6}},
	} {
		t.Run(row.name, func(t *testing.T) {
			const n = 40000
			l := newLamp(0, &row.lamp)
			toward := l.Centre.Sub(row.from).Unit()
			g := grid{geometry.About(toward), evenBounds(1, 1-3*gapOf(&l, row.from), 60)}
			shares := g.shares(40, func(d vec) float64 {
				s, ok := l.meet(row.from, d)
				if !ok {
					return 0
				}
				return s.pdf
			})
			counts := make([]int, len(shares))
			missed := 0
			for i := range n {
				points := independent(i)
				u, v := points.Next()
				s, ok := l.sample(row.from, u, v)
				if !ok { // the back of a tube
					missed++
					continue
				}
				if c := g.cell(s.direction); c >= 0 {
					counts[c]++
				}
				m, met := l.meet(row.from, s.direction)
				if !met { // on the rim by rounding
					missed++
					continue
				}
				if off := math.Abs(m.pdf/s.pdf-1) + math.Abs(m.radiance/s.radiance-1) + math.Abs(m.distance/s.distance-1); off > 1e-5 {
					t.Fatalf("sampled %+v, met %+v", s, m)
				}
			}
			chiSquare(t, counts, shares, n)
			if row.lamp.Form.Shape != scene.Tube && missed > 4 {
				t.Errorf("%d of %d samples are not met", missed, n)
			}
		})
	}
}

// gapOf is 1 − cos of a cone about the lamp's centre that holds about all of it as seen from a place.
func gapOf(l *lamp, from vec) float64 {
	reach := math.Max(l.Form.Radius, math.Hypot(l.Form.Width, l.Form.Height)/2)
	d := l.apparent.Sub(from).Length()
	return math.Min(0.66, 1-math.Cos(math.Atan(reach/d)))
}

// Were a skylight's density another than that of its samples, the sum of samples through the openings and of paths would
// not be the sky. Here every opening is many times larger or nearer than the other, and each of the two ways is the
// better one somewhere.
func TestOpeningDensity(t *testing.T) {
	opening := func(centre, u, v vec) scene.Opening {
		return scene.Opening{Centre: centre, U: u, V: v, Gel: scene.Clear}
	}
	s := scenery(nil, sky(false))
	s.Openings = []scene.Opening{
		opening(vec{Z: 0.3}, vec{X: 0.2}, vec{Y: 0.3}),
		opening(vec{X: 2, Z: 1}, vec{Y: 1}, vec{Z: 0.7}),
		opening(vec{X: -1, Z: 4}, vec{X: 3, Z: 1}, vec{Y: 2}),
	}
	known{name: "openings in the air", scene: s, within: 1e-5, sure: 2e-3,
		ask:  []scene.Receiver{flatAt(vec{}, geometry.Up), flatAt(vec{}, toX), domeAt(vec{X: 0.1}, toX)},
		want: []float64{math.Pi, math.Pi / 2, math.Pi}}.run(t)
}
