package meter

import (
	"math"

	"gloam/internal/scene"
	"gloam/internal/unit"
)

// walk reads a walk's points and how far they swing.
func (r *reader) walk(w *scene.WalkUse) Walk {
	out := Walk{Name: w.Name, Points: []WalkPoint{}, By: []WalkSwing{}}
	lights := make([]light, len(w.Receivers))
	for i, receiver := range w.Receivers {
		lights[i] = r.at(receiver)
		name := r.setup.Scene.Receivers[receiver].Name
		out.Points = append(out.Points, WalkPoint{w.Along[i], r.reading(name, receiver, &lights[i])})
	}
	dark, bright := swing(lights, func(l *light) float64 { return l.level })
	out.Swing = stopsBetween(lights[bright].level, lights[dark].level)
	out.Interval = intervalBetween(&lights[bright], &lights[dark])
	for s := range r.setup.Sources {
		of := func(l *light) float64 { return l.source[s].level }
		dark, bright := swing(lights, of)
		out.By = append(out.By, WalkSwing{r.setup.Sources[s].Name, stopsBetween(of(&lights[bright]), of(&lights[dark]))})
	}
	return out
}

// swing finds the darkest and the brightest.
func swing(lights []light, of func(*light) float64) (dark, bright int) {
	for i := range lights {
		if of(&lights[i]) < of(&lights[dark]) {
			dark = i
		}
		if of(&lights[i]) > of(&lights[bright]) {
			bright = i
		}
	}
	return dark, bright
}

// ratios compares the sides of each person.
func (r *reader) ratios(lights []light) []Ratio {
	out := []Ratio{}
	for _, p := range r.setup.People {
		key, shadow := &lights[p.Key], &lights[p.Shadow]
		ratio := Ratio{
			Name: p.Name, Key: r.setup.Points[p.Key].Name, Shadow: r.setup.Points[p.Shadow].Name,
			Stops: stopsBetween(key.level, shadow.level), Interval: intervalBetween(key, shadow),
		}
		if ratio.Stops != nil {
			x := key.level / shadow.level
			ratio.Ratio = &x
		}
		out = append(out, ratio)
	}
	return out
}

// tones places surfaces in the light at a point: L = ρE/π against grey at key.
func (r *reader) tones(lights []light) (out []Tone) {
	for _, t := range r.setup.Tones {
		l := &lights[t.Point]
		y := r.reflected(r.setup.Points[t.Point].Receiver, t.Reflectance)
		tone := Tone{Name: t.Name, Material: t.Material, In: r.setup.Points[t.Point].Name, Interval: l.interval()}
		if l.level > 0 {
			tone.Reflectance = unit.Fraction(y / l.level)
			over := r.setup.Camera.OverGrey(unit.Nit(y / math.Pi))
			tone.OverGrey = &over
		}
		out = append(out, tone)
	}
	return out
}
