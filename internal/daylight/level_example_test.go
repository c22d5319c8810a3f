package daylight_test

import (
	"fmt"
	"time"

	"gloam/internal/daylight"
)

// 300 + 21 000·sin 30° = 10 800 lx [Krochmann1974]; under the traditional overcast sky the zenith is 9/(7π) of that, 4420 cd/m²
// (its patch is the mean over a cap of 6°).
func ExampleLevelsAt() {
	l := daylight.LevelsAt(30, 80, daylight.Overcast)
	sky := daylight.LuminancesAt(30, 180, l.Diffuse, daylight.Overcast)
	fmt.Println(l.Global, l.Interval.Global.Interval(), sky[daylight.PatchCount-1])
	// Output: 10800 lx ±1 4430 cd/m²
}

// A reading of half the model's level, and what is left of it three hours on: a guard of the law's figures, which are our
// choice.
func ExampleLearn() {
	model := func(time.Time, daylight.Kind) daylight.Levels { return daylight.LevelsAt(30, 80, daylight.Overcast) }
	noon := time.Date(2027, 3, 21, 12, 0, 0, 0, time.UTC)
	day, err := daylight.Learn(model, []daylight.Reading{{At: noon, Kind: daylight.Overcast, Lux: 5400}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, at := range []time.Time{noon, noon.Add(3 * time.Hour)} {
		l := day.LevelsAt(at, daylight.Overcast)
		fmt.Printf("%v ±%.2f\n", l.Global, float64(l.Interval.Global))
	}
	// Output:
	// 5440 lx ±0.10
	// 7430 lx ±0.84
}
