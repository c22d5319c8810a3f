package unit

import (
	"flag"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestMain fixes the seed of the property tests, so that a run can be repeated; -rapid.seed on the command line wins.
func TestMain(m *testing.M) {
	for option, value := range map[string]string{"rapid.seed": "1", "rapid.nofailfile": "true"} {
		if err := flag.Set(option, value); err != nil {
			panic("unit: the property tests have no such option")
		}
	}
	os.Exit(m.Run())
}

// ranged is one scalar quantity, a range worth drawing from, and how far its print may be from the value.
type ranged struct {
	name      string
	low, high float64
	tolerance float64 // as near takes it
	of        func(x float64) quantity
}

func pointer[T ~float64, P interface {
	*T
	quantity
}](x float64) quantity {
	value := T(x)
	return P(&value)
}

// scalars leaves out what prints to a third of a stop or to a step of kelvin: those have tests of their own.
var scalars = []ranged{
	{"metre", 0.1, 9000, 0.0051, pointer[Metre]},
	{"millimetre", 1e-4, 0.0999, 0.0000501, pointer[Metre]},
	{"degree", -360, 360, 0.051, pointer[Degree]},
	{"bearing", 0, 359.9, 0.051, pointer[Bearing]},
	{"lux", 0, 9e5, 0.0051, pointer[Lux]},
	{"nit", 0, 9e5, 0.0051, pointer[Nit]},
	{"candela", 0, 9e8, 0.0051, pointer[Candela]},
	{"lumen", 0, 9e6, 0.0051, pointer[Lumen]},
	{"mired", -1000, 1000, 0.51, pointer[Mired]},
	{"density", 0, 10, 0.0051, pointer[Density]},
	{"fraction", 0, 1, 0.0051, pointer[Fraction]},
	{"exposure index", 10, 1e6, 0.51, pointer[EI]},
	{"frame rate", 1, 1000, 0.00051, pointer[FPS]},
	{"short time", 1e-5, 0.49, 0.00051, pointer[Second]},
	{"long time", 0.5, 1e5, 0.0051, pointer[Second]},
	{"watt", 0, 1e5, 0.51, pointer[Watt]},
	{"ampere", 0, 1e4, 0.051, pointer[Ampere]},
	{"volt", 1, 1000, 0.51, pointer[Volt]},
	{"hertz", 1, 1000, 0.0051, pointer[Hertz]},
	{"kilogram", 0, 1e4, 0.0051, pointer[Kilogram]},
	{"decibel", -20, 200, 0.051, pointer[DecibelA]},
	{"lux second", 1, 10000, 0.0051, pointer[LuxSecond]},
}

// again reads what a quantity prints, after spelling has changed the text as another writer would.
func again(t *rapid.T, q quantity, spelling func(string) string) []float64 {
	text := spelling(q.String())
	before := numbers(q)
	if err := q.Parse(text); err != nil {
		t.Fatalf("%T %v prints as %q, which %v", q, before, text, err)
	}
	return numbers(q)
}

var spellings = map[string]func(string) string{
	"as printed":      func(s string) string { return s },
	"narrow blanks":   func(s string) string { return strings.ReplaceAll(s, " ", "\u202f") },
	"capital letters": strings.ToUpper,
	"plain minus":     func(s string) string { return strings.ReplaceAll(s, "−", "-") },
}

func TestScalarsReadWhatTheyPrint(t *testing.T) {
	for _, r := range scalars {
		for spelling, spell := range spellings {
			t.Run(r.name+"/"+spelling, rapid.MakeCheck(func(t *rapid.T) {
				x := rapid.Float64Range(r.low, r.high).Draw(t, "value")
				got := again(t, r.of(x), spell)
				if !near(got, []float64{x}, r.tolerance) {
					t.Fatalf("%v came back as %v", x, got)
				}
			}))
		}
	}
}

// A decimal comma reads like a decimal point wherever it cannot be taken for thousands.
func TestDecimalComma(t *testing.T) {
	for _, q := range quantities() {
		_, isLens := q.(*TStop)
		if len(numbers(q)) > 1 || fmt.Sprintf("%T", q) == "*unit.Clock" || isLens {
			continue
		}
		rapid.Check(t, func(t *rapid.T) {
			whole := rapid.IntRange(1, 999).Draw(t, "whole")
			part := rapid.StringMatching(`[0-9]{1,2}|[0-9]{4,6}`).Draw(t, "part")
			point := q.Parse(fmt.Sprintf("%d.%s", whole, part))
			want := numbers(q)
			comma := q.Parse(fmt.Sprintf("%d,%s", whole, part))
			if fmt.Sprint(point) != fmt.Sprint(comma) || !near(numbers(q), want, 0) {
				t.Fatalf("%T %d.%s: %v with a point, %v with a comma (%v, %v)", q, whole, part, want, numbers(q), point, comma)
			}
		})
	}
}

func TestStopsReadWhatTheyPrint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Stop(rapid.Float64Range(-59, 59).Draw(t, "stops"))
		if got := again(t, &s, spellings["as printed"]); !near(got, []float64{got[0]}, 0) || math.Abs(got[0]*6-math.Round(got[0]*6)) > 1e-9 {
			t.Fatalf("read as %v, neither a third nor a half", got)
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-59, 59).Draw(t, "stops")
		s := Stop(x)
		if got := again(t, &s, spellings["as printed"]); !near(got, []float64{x}, 1./6+1e-9) {
			t.Fatalf("%v came back as %v", x, got)
		}
		if err := s.Parse(Stop(x).Tenths()); err != nil || !near([]float64{float64(s)}, []float64{x}, 0.051) {
			t.Fatalf("%v came back as %v from tenths, %v", x, float64(s), err)
		}
	})
}

func TestOpeningsReadWhatTheyPrint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(0.65, 80).Draw(t, "opening")
		lens, f := TStop(x), FNumber(x)
		for _, q := range []quantity{&lens, &f} {
			got := again(t, q, spellings["as printed"])
			if off := math.Abs(2 * math.Log2(got[0]/x)); off > 1./6+1e-9 {
				t.Fatalf("%v came back as %v, %v stops away", x, got, off)
			}
		}
	})
}

func TestKelvinReadsWhatItPrints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(1000, 99_900).Draw(t, "kelvin")
		k := Kelvin(x)
		if got := again(t, &k, spellings["as printed"]); math.Abs(got[0]-x) > 50 {
			t.Fatalf("%v came back as %v", x, got)
		}
	})
}

func TestPlacesReadWhatTheyPrint(t *testing.T) {
	metre := rapid.Map(rapid.Float64Range(0.1, 9000), func(x float64) Metre { return Metre(x) })
	rapid.Check(t, func(t *rapid.T) {
		x, y, z := metre.Draw(t, "x"), metre.Draw(t, "y"), metre.Draw(t, "z")
		for _, q := range []quantity{&Size2{x, y}, &Size3{x, y, z}, &Point2{-x, y}, &Point3{x, -y, z}, &LuxAt{640, z}} {
			want := numbers(q)
			if got := again(t, q, spellings["as printed"]); !near(got, want, 0.0051) {
				t.Fatalf("%T %v came back as %v", q, want, got)
			}
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		p := Position{
			Degree(rapid.Float64Range(-90, 90).Draw(t, "latitude")), Degree(rapid.Float64Range(-180, 180).Draw(t, "longitude")),
		}
		want := numbers(&p)
		if got := again(t, &p, spellings["as printed"]); !near(got, want, 0.000051) {
			t.Fatalf("%v came back as %v", want, got)
		}
	})
}

func TestFeetReadWhatTheyPrint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Metre(rapid.Float64Range(-1000, 1000).Draw(t, "metres"))
		var got Metre
		if err := got.Parse(m.Feet().String()); err != nil || math.Abs(float64(got-m)) > inch/4+1e-9 {
			t.Fatalf("%v prints as %s, read as %v, %v", float64(m), m.Feet(), float64(got), err)
		}
	})
}

func TestShutterDateClockReadWhatTheyPrint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		turned := &Shutter{Angle: Degree(rapid.Float64Range(1, 360).Draw(t, "angle"))}
		timed := &Shutter{Time: Second(rapid.Float64Range(1e-4, 0.4).Draw(t, "time"))}
		clock := Clock(rapid.IntRange(0, 1439).Draw(t, "minutes"))
		date := &Date{
			rapid.IntRange(1900, 2100).Draw(t, "year"), rapid.IntRange(1, 12).Draw(t, "month"), rapid.IntRange(1, 28).Draw(t, "day"),
		}
		for _, q := range []quantity{turned, timed, &clock, date} {
			want := numbers(q)
			if got := again(t, q, spellings["as printed"]); !near(got, want, 0.051) {
				t.Fatalf("%T %v came back as %v", q, want, got)
			}
		}
	})
}
