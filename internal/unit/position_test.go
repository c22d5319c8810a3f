package unit

import "testing"

func TestAngle(t *testing.T) {
	reads(t, func() quantity { return new(Degree) }, map[string][]float64{
		"26 deg": {26}, "26°": {26}, "26º": {26}, "26": {26}, "172,8 deg": {172.8}, "-12 degrees": {-12},
	})
	refuses(t, func() quantity { return new(Degree) }, map[string]string{
		"400 deg": "400° is above 360°", "5 m": "is a length, an angle is wanted",
	})
	reads(t, func() quantity { return new(Bearing) }, map[string][]float64{
		"170 deg": {170}, "170": {170}, "-90": {270}, "360": {0}, "N": {0}, "nne": {22.5}, "NE": {45}, "E": {90}, "S": {180},
		"SW": {225}, "NNW": {337.5}, "north": {0}, "south-west": {225}, "South West": {225}, "west-north-west": {292.5},
	})
	refuses(t, func() quantity { return new(Bearing) }, map[string]string{
		"window": "is not a bearing", "400": "400° is above 360°", "": "is empty", "NNN": "is not a bearing",
	})
	prints(t, map[string]Degree{"26°": 26, "172.8°": 172.8, "−0.8°": -0.833})
	prints(t, map[string]Bearing{"170°": 170, "22.5°": 22.5})
}

func TestPosition(t *testing.T) {
	fresh := func() quantity { return new(Position) }
	reads(t, fresh, map[string][]float64{
		"55.95 N, 3.19 W": {55.95, -3.19}, "55.95 -3.19": {55.95, -3.19}, "55.95, -3.19": {55.95, -3.19}, "55.95,-3.19": {55.95, -3.19},
		"55,95 N 3,19 W": {55.95, -3.19}, "55,95; -3,19": {55.95, -3.19}, "55.95° N, 3.19° W": {55.95, -3.19}, "N55.95 W3.19": {55.95, -3.19},
		"3.19 W 55.95 N": {55.95, -3.19}, "41°09'N 8°37'W": {41.15, -8.616666666666667}, "41°09′00″N 8°37′12″W": {41.15, -8.62},
		"S 33° 52' E 151° 12'": {-33.86666666666667, 151.2}, "57,700 N 11,600 E": {57.7, 11.6}, "0 0": {0, 0}, "-90 180": {-90, 180},
	})
	refuses(t, fresh, map[string]string{
		"55.95":           "is not a position",
		"55.95-3.19":      "is not a position",
		"55.95 N 3.19":    "is not a latitude and a longitude; N or S stands with one, E or W with the other",
		"55.95 N 3.19 N":  "is not a latitude and a longitude; N or S stands with one, E or W with the other",
		"-55.95 S 3.19 W": "has a sign and a letter for it; write one of them",
		"100 3":           "100° of latitude is above 90° of latitude",
		"10 200":          "200° of longitude is above 180° of longitude",
		"41°99'N 8°37'W":  "is not a position",
		"Porto":           "is not a position",
		"1 2 3":           "is not a position",
	})
	prints(t, map[string]Position{"55.95° N, 3.19° W": {55.95, -3.19}, "33.8667° S, 151.2° E": {-33.86666666, 151.2}})
}

func TestDateAndClock(t *testing.T) {
	reads(t, func() quantity { return new(Date) }, map[string][]float64{
		"2027-03-03": {2027, 3, 3}, "2027-3-3": {2027, 3, 3}, "2028-02-29": {2028, 2, 29}, "2027–12–31": {2027, 12, 31},
	})
	refuses(t, func() quantity { return new(Date) }, map[string]string{
		"2027-02-29":  "is not a day of the calendar",
		"2027-13-01":  "is not a day of the calendar",
		"2027-00-10":  "is not a day of the calendar",
		"03-03-2027":  "is not between 1900 and 2100; the year stands first",
		"2027":        "is not a date",
		"2027-03":     "is not a date",
		"tomorrow":    "is not a date",
		"2027-03-03Z": "is not a date",
		"18:35":       "is not a date",
	})
	reads(t, func() quantity { return new(Clock) }, map[string][]float64{
		"18:35": {1115}, "18:35:30": {1115}, "6:35 pm": {1115}, "6:35PM": {1115}, "12:00 am": {0}, "12:00 pm": {720}, "0:00": {0}, "23:59:59": {1439},
	})
	refuses(t, func() quantity { return new(Clock) }, map[string]string{
		"24:00":       "is not a time of day; they run from 0:00 to 23:59",
		"18:60":       "is not a time of day; they run from 0:00 to 23:59",
		"13:00 pm":    "has am or pm and an hour that is not from 1 to 12",
		"18.35":       "is not a time of day",
		"18":          "is not a time of day",
		"6:35 am pm":  "is not a time of day",
		"18:35:30:10": "is not a time of day",
	})
	prints(t, map[string]Date{"2027-03-03": {2027, 3, 3}})
	prints(t, map[string]Clock{"18:35": 1115, "00:00": 0})
}
