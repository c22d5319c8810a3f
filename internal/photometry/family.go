package photometry

import (
	"fmt"
	"math"
	"sort"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// Setting is one measured setting of a spot-to-flood lamp.
type Setting struct {
	Beam unit.Degree // full angle at 50 %
	Peak unit.Candela
}

// Family is a spot-to-flood lamp: a bell beam whose ln I0 is linear in ln β between its settings and whose flux is
// never above the engine's (invented interpolation; common practice, no source).
type Family struct {
	settings []Setting // by beam, ascending
	engine   unit.Lumen
}

// engineSlack lets settings exceed the engine by what rounding of data sheets explains; the beam itself is then held
// to the engine's flux.
const engineSlack = 1.02

// NewFamily returns the family of two or more settings over an engine of the given flux, in any order. The error, a
// fault.List, names every setting that is impossible or asks for more than 1.02 of the engine.
func NewFamily(settings []Setting, engine unit.Lumen) (*Family, error) {
	var faults fault.List
	refuse := func(text, read, allowed string) {
		faults = append(faults, fault.Fault{Text: text, Read: read, Allowed: allowed})
	}
	if !(engine > 0) || math.IsInf(float64(engine), 0) {
		refuse("the engine's flux is not possible", fmt.Sprintf("%g lm", engine), "above 0")
	}
	if len(settings) < 2 {
		refuse("a spot-to-flood lamp needs two settings or more", fmt.Sprint(len(settings)), "")
	}
	sorted := append([]Setting(nil), settings...)
	sort.SliceStable(sorted, func(i, j int) bool { return sorted[i].Beam < sorted[j].Beam })
	for i, s := range sorted {
		switch {
		case !(s.Beam > 0 && s.Beam <= 180):
			refuse("a setting's beam is not possible", fmt.Sprintf("%g°", s.Beam), "above 0 to 180°")
		case !(s.Peak > 0) || math.IsInf(float64(s.Peak), 0):
			refuse(fmt.Sprintf("the peak at %g° is not possible", s.Beam), fmt.Sprintf("%g cd", s.Peak), "above 0")
		case i > 0 && s.Beam == sorted[i-1].Beam:
			refuse("two settings have the same beam", fmt.Sprintf("%g°", s.Beam), "")
		case Bell(s.Peak, s.Beam).Flux() > engineSlack*engine:
			refuse(fmt.Sprintf("the setting at %g° asks for more light than the engine gives", s.Beam),
				fmt.Sprintf("%.0f lm", Bell(s.Peak, s.Beam).Flux()), fmt.Sprintf("up to %.0f lm", engine))
		}
	}
	if err := faults.Err(); err != nil {
		return nil, err
	}
	return &Family{sorted, engine}, nil
}

// Range returns the narrowest and the widest beam.
func (f *Family) Range() (spot, flood unit.Degree) {
	return f.settings[0].Beam, f.settings[len(f.settings)-1].Beam
}

// At returns the distribution at a beam (full angle at 50 %). A beam outside the lamp's range is a fault.Fault.
func (f *Family) At(beam unit.Degree) (Distribution, error) {
	spot, flood := f.Range()
	if !(beam >= spot && beam <= flood) {
		return nil, fault.Fault{Text: "the beam is outside what the lamp can do", Read: fmt.Sprintf("%g°", beam),
			Allowed: fmt.Sprintf("%g° to %g°", spot, flood)}
	}
	i := 1
	for f.settings[i].Beam < beam {
		i++
	}
	a, b := f.settings[i-1], f.settings[i]
	share := math.Log(float64(beam/a.Beam)) / math.Log(float64(b.Beam/a.Beam))
	peak := a.Peak * unit.Candela(math.Pow(float64(b.Peak/a.Peak), share))
	d := Bell(peak, beam)
	if out := d.Flux(); out > f.engine {
		d = Bell(peak*unit.Candela(f.engine/out), beam)
	}
	return d, nil
}
