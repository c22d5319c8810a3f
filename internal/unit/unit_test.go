package unit

import (
	"math"
	"reflect"
	"strings"
	"testing"
)

// quantity is what every type of the package offers to a reader of documents.
type quantity interface {
	Parse(text string) error
	Forms() string
	String() string
}

// quantities returns one of each type, zero.
func quantities() []quantity {
	return []quantity{
		new(Metre), new(Size2), new(Size3), new(Point2), new(Point3), new(Degree), new(Bearing),
		new(Lux), new(LuxAt), new(Nit), new(Candela), new(Lumen), new(Kelvin), new(Mired),
		new(Stop), new(TStop), new(FNumber), new(Density), new(Fraction),
		new(EI), new(FPS), new(Second), new(Shutter), new(LuxSecond),
		new(Watt), new(Ampere), new(Volt), new(Hertz), new(Kilogram), new(DecibelA), new(Position), new(Date), new(Clock),
	}
}

// numbers returns the numbers a quantity is made of.
func numbers(q quantity) []float64 {
	v := reflect.ValueOf(q).Elem()
	if v.Kind() != reflect.Struct {
		return []float64{scalar(v)}
	}
	var all []float64
	for i := range v.NumField() {
		all = append(all, scalar(v.Field(i)))
	}
	return all
}

func scalar(v reflect.Value) float64 {
	if v.CanInt() {
		return float64(v.Int())
	}
	return v.Float()
}

// near reports whether two sets of numbers agree to the given share, or to that amount below 1.
func near(got, want []float64, tolerance float64) bool {
	for i := range want {
		if !(math.Abs(got[i]-want[i]) <= tolerance*math.Max(1, math.Abs(want[i]))) {
			return false
		}
	}
	return len(got) == len(want)
}

// reads fails unless each text is read as the numbers behind it. The texts are the names of the rows.
func reads(t *testing.T, fresh func() quantity, rows map[string][]float64) {
	t.Helper()
	for text, want := range rows {
		q := fresh()
		if err := q.Parse(text); err != nil {
			t.Errorf("%T %q: %v", q, text, err)
		} else if got := numbers(q); !near(got, want, 1e-12) {
			t.Errorf("%T %q: read as %v, want %v", q, text, got, want)
		}
	}
}

// refuses fails unless each text is refused for the reason behind it and leaves the value as it was.
func refuses(t *testing.T, fresh func() quantity, rows map[string]string) {
	t.Helper()
	for text, want := range rows {
		q := fresh()
		if err := q.Parse(text); err == nil {
			t.Errorf("%T %q: read as %v, want %q", q, text, numbers(q), want)
		} else if err.Error() != want {
			t.Errorf("%T %q: refused with %q, want %q", q, text, err, want)
		}
		if !reflect.DeepEqual(q, fresh()) {
			t.Errorf("%T %q: a refusal changed the value", q, text)
		}
	}
}

// prints fails unless each value prints as the text behind it.
func prints[T interface{ String() string }](t *testing.T, rows map[string]T) {
	t.Helper()
	for want, value := range rows {
		if got := value.String(); got != want {
			t.Errorf("%T: printed %q, want %q", value, got, want)
		}
	}
}

func TestEveryFormIsRead(t *testing.T) {
	for _, q := range quantities() {
		name, examples, _ := strings.Cut(q.Forms(), " such as ")
		separator := ", "
		if _, ok := q.(*Position); ok {
			separator = "; " // a comma stands in a position
		}
		found := strings.Split(examples, separator)
		if name == "" || len(found) < 2 && name != "a date" {
			t.Errorf("%T: forms are %q, want a name and two examples", q, q.Forms())
		}
		for _, example := range found {
			if err := q.Parse(example); err != nil {
				t.Errorf("%T: its own form %q %v", q, example, err)
			}
		}
	}
}

func TestEveryQuantityRefusesWhatIsNone(t *testing.T) {
	texts := []string{
		"", " ", "nan", "NaN", "inf", "+Inf", "1e999", "-1e999", "0x10", "1_000", "--1", "+-1", "1 2 3 4", "1 furlong",
		"lorem", "1e300", "-1e300", "1/0", "0/0", "1/", "/2", ".", ",", "1..2", "1.2.3", "5 m m", "@", "½½", "\xff", "10 \xff",
		strings.Repeat("9", 101), strings.Repeat(" ", 101), "1" + strings.Repeat(" ", 200) + "m",
	}
	for _, q := range quantities() {
		for _, text := range texts {
			if err := q.Parse(text); err == nil {
				t.Errorf("%T %q: read as %v", q, text, numbers(q))
			} else if len(err.Error()) > 160 {
				t.Errorf("%T %q: refused in %d bytes: %q", q, text, len(err.Error()), err)
			}
		}
	}
}

func TestUnitsOfOtherKindsAreRecognised(t *testing.T) {
	rows := []struct{ text, is string }{
		{"5 m", "a length"}, {"26 deg", "an angle"}, {"640 lx", "an illuminance"}, {"5 nt", "a luminance"},
		{"250 kcd", "an intensity"}, {"470 lm", "a flux"}, {"3200 K", "a colour temperature"},
		{"133 mired", "a shift in mired"}, {"2 stops", "a number of stops"}, {"60 %", "a fraction"},
		{"24 fps", "a frame rate"}, {"1/50 s", "a time"}, {"50 Hz", "a frequency"}, {"1350 W", "a power"},
		{"14 kg", "a mass"}, {"32 dB", "a sound level"}, {"250 lx s", "a calibration constant"}, {"T2.8", "a T-stop"},
		{"f/2.8", "an f-number"}, {"ND 0.6", "a neutral density"}, {"ISO 800", "an exposure index"}, {"800 EI", "an exposure index"},
	}
	for _, row := range rows {
		wanted := quantity(new(Kilogram))
		name := "a mass"
		if row.is == name {
			wanted, name = new(Metre), "a length"
		}
		want := "is " + row.is + ", " + name + " is wanted"
		if err := wanted.Parse(row.text); err == nil || err.Error() != want {
			t.Errorf("%q as %s: %v, want %q", row.text, name, err, want)
		}
	}
}

func TestCommaWithThreeDigits(t *testing.T) {
	refuses(t, func() quantity { return new(Lux) }, map[string]string{
		"1,100 lx":   "may mean 1.1 or 1100; write one of these",
		"1,234,567":  `is not an illuminance; ",567" is left over`,
		"1,234.5 lx": `is not an illuminance; ".5 lx" is left over`,
	})
	reads(t, func() quantity { return new(Lux) }, map[string][]float64{
		"1,10 lx": {1.1}, "0,125 lx": {0.125}, "1,1005 lx": {1.1005}, "1 100,125 lx": {1100.125},
	})
	// Only one meaning lies in range.
	reads(t, func() quantity { return new(Kelvin) }, map[string][]float64{"5,600 K": {5600}})
	reads(t, func() quantity { return new(FPS) }, map[string][]float64{"23,976": {23.976}})
	reads(t, func() quantity { return new(EI) }, map[string][]float64{"1,600": {1600}})
	reads(t, func() quantity { return new(Degree) }, map[string][]float64{"172,800": {172.8}})
}
