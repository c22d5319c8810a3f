package gear

import (
	"fmt"
	"strings"
	"testing"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// badKits are kits with faults; each wants every one of them once, as line: path: text.
var badKits = []struct {
	name, text string
	want       []string
}{
	{"no version", "lamps:\n", []string{"1: kit: is missing"}},
	{"another version", "kit: 2\n", []string{"1: kit: 2 is above 1"}},
	{"an unknown field", "kit: 1\nlamp:\n", []string{`2: : no such field "lamp"`}},
	{"no YAML", "kit: [1\n", []string{"1: "}},
	{"no text", "", []string{"1: kit: is missing"}},
	{"a lamp that is one value", "kit: 1\nlamps:\n  a: 250 kcd\n", []string{"3: lamps.a: one value where fields are wanted"}},
	{"a beam that is one value", "kit: 1\nlamps:\n  a: {beams: 26 deg, " + rest + "}\n  b: {beams: [26 deg, {peak: x}], matt: [], " + rest + "}\n", []string{
		"3: lamps.a.beams: one value where fields are wanted", "4: lamps.b.beams[0]: one value where fields are wanted",
		"4: lamps.b.beams[1].peak: is not an intensity", "4: lamps.b.beams[1].beam: is missing", "4: lamps.b.matt: a list where fields are wanted"}},
	{"an empty lamp", "kit: 1\nlamps:\n  a:\n", []string{
		"3: lamps.a.reference: is missing", "3: lamps.a: its light is missing", "3: lamps.a.opening: is missing"}},
	{"wrong units", "kit: 1\nlamps:\n  a: {beams: {beam: 26 K, peak: 5 kg}, opening: disc 2 lx, reference: 5 m}\n", []string{
		"3: lamps.a.beams.beam: is a colour temperature, an angle is wanted", "3: lamps.a.beams.peak: is a mass, an intensity is wanted",
		"3: lamps.a.opening: is an illuminance, a length is wanted", "3: lamps.a.reference: is a length, a colour temperature is wanted"}},
	{"a light in two ways", "kit: 1\nlamps:\n  a: {beams: {beam: 26 deg, peak: 1 kcd}, matt: 1 kcd, " + rest + "}\n", []string{
		"3: lamps.a: the light is written in more than one way"}},
	{"an impossible beam", "kit: 1\nlamps:\n  a: {beams: {beam: 200 deg, peak: 0}, " + rest + "}\n", []string{
		"3: lamps.a.beams.beam: is not possible", "3: lamps.a.beams.peak: is not above 0"}},
	{"a beam without strength", "kit: 1\nlamps:\n  a: {beams: {beam: 26 deg}, " + rest + "}\n", []string{"3: lamps.a.beams: how strong it is is missing"}},
	{"a beam strong in two ways", "kit: 1\nlamps:\n  a: {beams: {beam: 26 deg, peak: 1 cd, levels: 1 lx @ 1 m}, " + rest + "}\n", []string{
		"3: lamps.a.beams: how strong it is is written twice"}},
	{"levels that do not fall off", "kit: 1\nlamps:\n  a: {beams: {beam: 26 deg, levels: [100 lx @ 2 m, 200 lx @ 4 m]}, " + rest + "}\n", []string{
		"3: lamps.a.beams.levels: the levels do not fall off"}},
	{"levels of no law", "kit: 1\nlamps:\n  a: {beams: {beam: 26 deg, levels: [9000 lx @ 2 m, 900 lx @ 4 m, 1800 lx @ 6 m, 100 lx @ 8 m]}, " + rest + "}\n", []string{
		"3: lamps.a.beams.levels: the levels do not lie on one curve"}},
	{"levels of no matt opening", "kit: 1\nlamps:\n  a: {matt: {levels: [900 lx @ 2 m, 20 lx @ 4 m]}, " + rest + "}\n", []string{
		"3: lamps.a.matt.levels: the levels do not lie on the curve of a matt opening"}},
	{"a zoom without engine", "kit: 1\nlamps:\n  a: {beams: [{beam: 10 deg, peak: 9 kcd}, {beam: 20 deg, peak: 3 kcd}], " + rest + "}\n", []string{
		"3: lamps.a.engine: is missing"}},
	{"a zoom over its engine", "kit: 1\nlamps:\n  a: {engine: 1 klm, beams: [{beam: 10 deg, peak: 90 kcd}, {beam: 20 deg, peak: 3 kcd}], " + rest + "}\n", []string{
		"3: lamps.a.beams: the setting at 10° asks for more light than the engine gives"}},
	{"a beam over its engine", "kit: 1\nlamps:\n  a: {engine: 50 klm, beams: {beam: 26 deg, peak: 250 kcd}, " + rest + "}\n", []string{
		"3: lamps.a: the light is more than the engine gives"}},
	{"a tube with a beam", "kit: 1\nlamps:\n  a: {beams: {beam: 26 deg, peak: 1 kcd}, opening: tube 1 x 0.1 m, reference: 5600 K}\n", []string{
		"3: lamps.a.opening: a tube is matt"}},
	{"colour", "kit: 1\nlamps:\n  a: {matt: 1 cd, opening: disc 1 m, reference: 5600 K, output: {2700 K: 0, 3000: 50 %, 3000 K: 60 %, 6 kg: 1}, duv: 0.1}\n", []string{
		"3: lamps.a.output.2700 K: is not above 0", "3: lamps.a.output.6 kg: is a mass", "3: lamps.a.duv: 0.1 is above 0.02"}},
	{"a colour twice", "kit: 1\nlamps:\n  a: {matt: 1 cd, opening: disc 1 m, reference: 5600 K, output: {5600 K: 0.5, 5600: 0.6}}\n", []string{
		"3: lamps.a.output: a colour temperature stands twice"}},
	{"a reference out of range", "kit: 1\nlamps:\n  a: {matt: 1 cd, opening: disc 1 m, reference: 5600 K, output: {2700 K: 1, 3200 K: 1}}\n", []string{
		"3: lamps.a.reference: lies outside the output table"}},
	{"not white", "kit: 1\nlamps:\n  a: {matt: 1 cd, opening: disc 1 m, reference: 1200 K}\n", []string{"3: lamps.a.reference: is not white"}},
	{"a dim curve that falls", "kit: 1\nlamps:\n  a: {like: P20, dim: {50 %: 60 %, 60 %: 30 %, 0 %: 5 %}}\n", []string{
		"3: lamps.a.dim: does not run from no light", "3: lamps.a.dim: the light falls from 50 % to 60 %"}},
	{"a level twice", "kit: 1\nlamps:\n  a: {like: P20, dim: {50 %: 60 %, 0.5: 30 %, 140 %: 1}}\n", []string{"3: lamps.a.dim.140 %: 140 % is above 100 %"}},
	{"a level twice and no other fault", "kit: 1\nlamps:\n  a: {like: P20, dim: {50 %: 60 %, 0.5: 30 %}}\n", []string{"3: lamps.a.dim: a level stands twice"}},
	{"half a quiet mode", "kit: 1\nlamps:\n  a: {like: P20, fan: {noise: 30 dB, quiet: 20 dB}}\n", []string{"3: lamps.a.fan: a quiet mode needs both"}},
	{"a dark quiet mode", "kit: 1\nlamps:\n  a: {like: P20, fan: {noise: 30 dB, quiet: 20 dB, most: 0 %}}\n", []string{"3: lamps.a.fan.most: is not above 0"}},
	{"power", "kit: 1\nlamps:\n  a: {like: P20, power: {standby: 50 W, full: 40 W, factor: 0, leakage: 2 V}}\n", []string{
		"3: lamps.a.power.full: is not above 0 and the standby", "3: lamps.a.power.factor: is not above 0", "3: lamps.a.power.leakage: is not a current"}},
	{"protection", "kit: 1\nlamps:\n  a: {like: P20, ip: 54, engine: 0 lm}\n", []string{"3: lamps.a.ip: is no ingress protection", "3: lamps.a.engine: is not above 0"}},
	{"an unknown lamp", "kit: 1\nlamps:\n  a: {like: B12-D62, ip: x}\n", []string{"3: lamps.a.like: no lamp of that name", "3: lamps.a.ip: is no"}},
	{"like itself", "kit: 1\nlamps:\n  a: {like: a}\n", []string{"3: lamps.a.like: no lamp of that name"}},
	{"a circle", "kit: 1\nlamps:\n  a: {like: b}\n  b: {like: c}\n  c: {like: a}\n  d: {like: b}\n", []string{
		"5: lamps.c.like: the lamps are like one another in a circle"}},
	{"like a faulty lamp", "kit: 1\nlamps:\n  a: {matt: 1 cd, reference: 5600 K}\n  b: {like: a}\n  c: {like: b, ip: x}\n", []string{
		"3: lamps.a.opening: is missing", "5: lamps.c.ip: is no"}},
	{"no such photometric file", "kit: 1\nlamps:\n  a: {photometry: none.ies, " + rest + "}\n", []string{"3: lamps.a.photometry: there is no such file"}},
	{"too many rows", "kit: 1\nlamps:\n  a: {matt: {levels: [" + strings.Repeat("1 lx @ 1 m, ", 101) + "]}, " + rest + "}\n", []string{
		"3: lamps.a.matt.levels: has too many rows"}},
	{"too many photometric files", "kit: 1\nlamps:\n" + panels(102), []string{
		"103: lamps.p100.photometry: the kit names more than 100", "104: lamps.p101.photometry: the kit names more than 100"}},
	{"a name taken", "kit: 1\nlamps:\n  Lamp 1: {like: P20}\n  lamp  1: {like: T1}\n", []string{`4: lamps.lamp  1: the name "lamp  1" is taken by "Lamp 1"`}},
	{"a cloth's name taken", "kit: 1\ncloths:\n  a: {also: [b, A], kind: black, front: 3 %}\n  B: {kind: black, front: 2 %}\n", []string{
		`3: cloths.a.also[1]: the name "A" is taken by "a"`, `4: cloths.B: the name "B" is taken by "b"`}},
	{"too much light", "kit: 1\ncloths:\n  a: {kind: heavy, through: 50 %, front: 60 %}\n  b: {kind: heavy, through: 50 %, front: 20 %, back: 60 %}\n" +
		"  c: {kind: light, loss: 1/2 stop, forward: 20 %, return: 20 %}\n", []string{
		"3: cloths.a: more light leaves it than falls on its front", "4: cloths.b: more light leaves it than falls on its back",
		"5: cloths.c: more light leaves it than falls on its front"}},
	{"fields of another kind of cloth", "kit: 1\ncloths:\n  a: {kind: heavy, loss: 1, spread: 3}\n  b: {kind: light, through: 20 %, front: 5 %, back: 5 %}\n" +
		"  c: {kind: black, through: 1 %, forward: 1 %, return: 1 %}\n", []string{
		"3: cloths.a.loss: does not belong to a heavy cloth", "3: cloths.a.spread: does not belong", "3: cloths.a.through: is missing",
		"3: cloths.a.front: is missing", "4: cloths.b.through: does not", "4: cloths.b.front: does not", "4: cloths.b.back: does not",
		"4: cloths.b.loss: is missing", "5: cloths.c.through: does not", "5: cloths.c.forward: does not", "5: cloths.c.return: does not",
		"5: cloths.c.front: is missing"}},
	{"figures of a cloth", "kit: 1\ncloths:\n  a: {kind: light, loss: -1/2 stop, spread: 100 deg, shift: 10 mired, material: grss}\n", []string{
		"3: cloths.a.loss: is below 0", "3: cloths.a.spread: is not possible", "3: cloths.a: the colour is written in two ways",
		"3: cloths.a.material: no material of that name"}},
	{"a colour without loss", "kit: 1\ncloths:\n  a: {kind: heavy, through: 50 %, front: 50 %, shift: 30 mired}\n  b: {kind: heavy, through: 0, front: 90 %, material: grass}\n", []string{
		"3: cloths.a.shift: no filter gives that colour", "4: cloths.b.material: grass cannot reflect that much light"}},
	{"a kind of cloth", "kit: 1\ncloths:\n  a: {kind: thick}\n  b: {front: 2}\n", []string{"3: cloths.a.kind: unknown word", "4: cloths.b.kind: is missing", "4: cloths.b.front: 2 is above 1"}},
}

// panels returns lamps p0, p1 … of which each reads a photometric file.
func panels(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "  p%d: {photometry: matt.ies, %s}\n", i, rest)
	}
	return b.String()
}

func TestBadKits(t *testing.T) {
	for _, c := range badKits {
		t.Run(c.name, func(t *testing.T) {
			k, faults := Read("kit.yaml", []byte(c.text), openTestdata)
			if k != nil || faults.Err() == nil {
				t.Errorf("the kit was read")
			}
			checkFaults(t, faults, c.want)
		})
	}
}

// checkFaults fails unless each wanted text begins exactly one of the faults, and none is left over.
func checkFaults(t *testing.T, faults fault.List, want []string) {
	t.Helper()
	left := map[string]int{}
	for _, w := range want {
		left[w]++
	}
next:
	for _, f := range faults {
		line := fmt.Sprintf("%d: %s: %s", f.Place.Line, f.Path, f.Text)
		for w, n := range left {
			if n > 0 && strings.HasPrefix(line, w) {
				left[w]--
				continue next
			}
		}
		t.Errorf("not wanted, or told twice: %s", line)
	}
	for w, n := range left {
		if n > 0 {
			t.Errorf("not told: %s", w)
		}
	}
}

// All the bad lamps and cloths of the table in one kit are told at once, in the order of the text.
func TestAllFaultsAtOnce(t *testing.T) {
	text := "kit: 1\nlamps:\n" +
		"  a: {beams: {beam: 200 deg, peak: 1 kcd}, reference: 5600 K}\n" +
		"  b: {like: nobody}\n" +
		"cloths:\n" +
		"  c: {kind: heavy, through: 50 %, front: 60 %}\n" +
		"  d: {kind: heavy, trough: 50 %, front: 60 %}\n"
	_, faults := Read("kit.yaml", []byte(text), nil)
	checkFaults(t, faults, []string{
		"3: lamps.a.beams.beam: is not possible", "3: lamps.a.opening: is missing", "4: lamps.b.like: no lamp of that name",
		"6: cloths.c: more light leaves it", "7: cloths.d: no such field", "7: cloths.d.through: is missing",
	})
	for i := 1; i < len(faults); i++ {
		if faults[i].Place.Line < faults[i-1].Place.Line {
			t.Errorf("%v stands after %v", faults[i], faults[i-1])
		}
	}
	for _, f := range faults {
		if f.Place.File != "kit.yaml" || f.Place.Line == 0 || f.Place.Column == 0 {
			t.Errorf("no place: %v", f)
		}
	}
}

// A photometric file's faults have places in that file.
func TestBadPhotometricFile(t *testing.T) {
	open := func(string) ([]byte, error) { return []byte("TILT=NONE\n1 2 three\n"), nil }
	k, faults := Read("kit.yaml", []byte("kit: 1\nlamps:\n  a: {photometry: bad.ies, "+rest+"}\n"), open)
	if k != nil || len(faults) == 0 || faults[0].Place.File != "bad.ies" {
		t.Errorf("faults %v, want one in bad.ies", faults)
	}
	if _, faults := Read("kit.yaml", []byte("kit: 1\nlamps:\n  a: {photometry: x.ies, "+rest+"}\n"), nil); len(faults) != 1 {
		t.Errorf("faults %v, want one: no file can be opened", faults)
	}
}

// FuzzRead looks for a kit that makes the reader panic, or that is read and then breaks a promise of the package.
func FuzzRead(f *testing.F) {
	for _, c := range badKits {
		f.Add(c.text)
	}
	f.Add(string(builtInText))
	f.Fuzz(func(t *testing.T, text string) {
		k, faults := Read("kit.yaml", []byte(text), func(string) ([]byte, error) { return []byte(text), nil })
		if (k == nil) != (faults.Err() != nil) {
			t.Fatalf("kit %v with faults %v", k, faults)
		}
		if k == nil {
			return
		}
		for _, l := range BuiltIn().With(k).lamps {
			checkLamp(t, l)
		}
		for _, c := range k.cloths {
			checkEnergy(t, c)
		}
	})
}

// checkLamp fails where a lamp breaks what the package promises of all.
func checkLamp(t *testing.T, l *Lamp) {
	t.Helper()
	if spot, _, ok := l.Zoom(); ok {
		beamOf(t, l, spot)
	} else if d, _ := beamOf(t, l, 0); !(d.Peak() >= 0 && d.Flux() >= 0) {
		t.Errorf("%s: peak %v, flux %v", l.Name, d.Peak(), d.Flux())
	}
	if share, err := l.Output(l.Reference); err != nil || share < 1-1e-9 || share > 1+1e-9 {
		t.Errorf("%s: output at the reference %g, %v", l.Name, share, err)
	}
	last := 0.0
	for i := range 11 {
		share := l.AtLevel(unit.Fraction(i) / 10)
		if !(share >= last && share <= 1) {
			t.Errorf("%s: light %g at %d0 %% after %g", l.Name, share, i, last)
		}
		last = share
	}
	if m := l.MaxDim(Quiet); !(m >= 0 && m <= 1) {
		t.Errorf("%s: quiet mode to %v", l.Name, m)
	}
}
