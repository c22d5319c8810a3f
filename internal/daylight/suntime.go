package daylight

import (
	"fmt"
	"time"

	"gloam/internal/fault"
)

// The years of a plan's date. A week more on either side is let in, for zones and for what is nearest to a day.
const (
	firstYear = 1900
	lastYear  = 2100
)

var (
	earliest = time.Date(firstYear, 1, -6, 0, 0, 0, 0, time.UTC)
	latest   = time.Date(lastYear+1, 1, 8, 0, 0, 0, 0, time.UTC)
	j2000    = time.Date(2000, 1, 1, 12, 0, 0, 0, time.UTC)
)

// InRange tells of a time outside the years for which positions hold, 1900 to 2100.
func InRange(t time.Time) error {
	if t.Before(earliest) || !t.Before(latest) {
		return yearFault(t.Format(time.RFC3339))
	}
	return nil
}

func yearFault(read string) error {
	return fault.Fault{Text: "is outside the years for which the sun's place is known", Read: read,
		Allowed: fmt.Sprintf("%d to %d", firstYear, lastYear)}
}

// moment is a time as the formulas count it. UTC is taken for UT1, from which it is held within 0.9 s: 0.004° of turn at most.
type moment struct {
	days      float64 // of universal time since J2000
	centuries float64 // Julian centuries of dynamical time since J2000
}

func momentOf(t time.Time) moment {
	if InRange(t) != nil {
		panic("daylight: a time outside 1900 to 2100")
	}
	// A Duration ends at 292 years, and these are 101.
	days := t.Sub(j2000).Seconds() / 86400
	return moment{days, (days + deltaT(2000+(days-14)/365.2425)/86400) / 36525}
}

// deltaTPieces are polynomials of the years since an epoch, in seconds, each up to a year [EspenakMeeus2006].
var deltaTPieces = []struct {
	before, epoch float64
	coefficients  []float64
}{
	{1900, 1860, []float64{7.62, 0.5737, -0.251754, 0.01680668, -0.0004473624, 1.0 / 233174}},
	{1920, 1900, []float64{-2.79, 1.494119, -0.0598939, 0.0061966, -0.000197}},
	{1941, 1920, []float64{21.20, 0.84493, -0.076100, 0.0020936}},
	{1961, 1950, []float64{29.07, 0.407, -1.0 / 233, 1.0 / 2547}},
	{1986, 1975, []float64{45.45, 1.067, -1.0 / 260, -1.0 / 718}},
	{2005, 2000, []float64{63.86, 0.3345, -0.060374, 0.0017275, 0.000651814, 0.00002373599}},
	{2050, 2000, []float64{62.92, 0.32217, 0.005589}},
	// -20 + 32·((year-1820)/100)² - 0.5628·(2150-year), gathered about 1820.
	{2150, 1820, []float64{-20 - 0.5628*330, 0.5628, 0.0032}},
}

// deltaT returns how far dynamical time is ahead of universal time in a year, s. What it will be is a forecast: a minute of
// error moves the sun by 0.0007°.
func deltaT(year float64) float64 {
	i := 0
	for i < len(deltaTPieces)-1 && year >= deltaTPieces[i].before {
		i++
	}
	piece, seconds := deltaTPieces[i], 0.0
	for j := len(piece.coefficients) - 1; j >= 0; j-- {
		seconds = seconds*(year-piece.epoch) + piece.coefficients[j]
	}
	return seconds
}
