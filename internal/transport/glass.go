package transport

import "math"

// GlassIndex is the refractive index of window glass.
const GlassIndex = 1.52

// FresnelReflectance returns the shares that one smooth surface reflects of light polarised across (s) and in (p) the
// plane of incidence. cos is the cosine of incidence, 0 to 1; n the index of the medium beyond over the one before.
// Fresnel's equations ([BornWolf] 1.5, eq. 21).
func FresnelReflectance(cos, n float64) (s, p float64) {
	sin2 := (1 - cos*cos) / (n * n)
	if sin2 >= 1 {
		return 1, 1
	}
	inside := math.Sqrt(1 - sin2)
	a := (cos - n*inside) / (cos + n*inside)
	b := (n*cos - inside) / (n*cos + inside)
	return a * a, b * b
}

// Panes returns the transmitted and reflected shares of unpolarised light for a stack of parallel panes, all
// reflections between their surfaces added without interference. clarity is what one pane passes inside itself at
// normal incidence; on a slant the path, and the loss, grow. Stokes' sums: [Stokes1862].
func Panes(cos float64, count int, n, clarity float64) (transmitted, reflected float64) {
	if count == 0 {
		return 1, 0
	}
	cos = math.Min(1, math.Abs(cos))
	inside := math.Sqrt(1 - (1-cos*cos)/(n*n))
	pass := math.Pow(clarity, 1/inside)
	s, p := FresnelReflectance(cos, n)
	for _, r := range [2]float64{s, p} {
		if r == 1 { // edge-on nothing enters, and the sums below lose their meaning
			reflected += 0.5
			continue
		}
		// one pane: two surfaces and the loss between them
		t1 := (1 - r) * (1 - r) * pass / (1 - r*r*pass*pass)
		r1 := r + (1-r)*(1-r)*pass*pass*r/(1-r*r*pass*pass)
		t, f := t1, r1
		for i := 1; i < count; i++ { // one more pane behind the stack
			between := 1 - f*r1
			t, f = t*t1/between, f+t*t*r1/between
		}
		transmitted += t / 2
		reflected += f / 2
	}
	return transmitted, reflected
}

// paneTable holds Panes over the root of the cosine, since shadow rays ask for it millions of times.
type paneTable [2049][2]float64

func newPaneTable(count int, clarity float64) *paneTable {
	var t paneTable
	for i := range t {
		root := float64(i) / float64(len(t)-1)
		t[i][0], t[i][1] = Panes(root*root, count, GlassIndex, clarity)
	}
	return &t
}

// at interpolates. The shares change fast where light grazes, where the root makes the steps small: 2,048 keep 1e-6.
func (t *paneTable) at(cos float64) (transmitted, reflected float64) {
	x := math.Sqrt(math.Min(1, math.Abs(cos))) * float64(len(t)-1)
	i := min(int(x), len(t)-2)
	f := x - float64(i)
	return t[i][0] + f*(t[i+1][0]-t[i][0]), t[i][1] + f*(t[i+1][1]-t[i][1])
}
