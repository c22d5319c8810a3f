package unit

import "testing"

func TestLength(t *testing.T) {
	fresh := func() quantity { return new(Metre) }
	// One foot is 0.3048 m: international yard and pound agreement, 1959.
	reads(t, fresh, map[string][]float64{
		"3.8 m": {3.8}, "3,8m": {3.8}, "3.8": {3.8}, "380 cm": {3.8}, "25 mm": {0.025}, "1.2 km": {1200}, "1/2 m": {0.5},
		"12 ft": {3.6576}, "12.5ft": {3.81}, "8 in": {0.2032}, `6"`: {0.1524}, "12 ft.": {3.6576},
		`12'6"`: {3.81}, `12' 6"`: {3.81}, `12'-6"`: {3.81}, "12'6": {3.81}, "12 ft 6 in": {3.81}, "12′6″": {3.81},
		"12’6”": {3.81}, "12'6''": {3.81}, `12' 6 1/2"`: {3.8227}, "12′6½″": {3.8227}, `-12'6"`: {-3.81}, `-0'6"`: {-0.1524},
		"−2.5 m": {-2.5}, "+2.5": {2.5}, "\u00a03.8\u2009m ": {3.8}, "3.8\u202fm": {3.8}, "1½ m": {1.5}, "1 1/2 m": {1.5},
		"1 200 mm": {1.2}, "2.5e1": {25}, "3.8 METRES": {3.8}, "0": {0}, ".5": {0.5}, "12,500 m": {12.5},
	})
	refuses(t, fresh, map[string]string{
		"":           "is empty",
		"5 kg":       "is a mass, a length is wanted",
		"5 foo":      `is not a length; "foo" is not known as its unit`,
		"tall":       "is not a length",
		"18:35":      "is not a length; a colon stands in a time of day",
		"2027-03-03": `is not a length; "-03-03" is left over`,
		`12'14"`:     `is not a length; "'14\"" is left over`,
		"12' 6":      `is not a length; "' 6" is left over`,
		"5 m 3":      `is not a length; "m 3" is left over`,
		"20 km":      "20000 m is above 10000 m",
		"1e999 m":    "is not a finite number",
		"1/0 m":      "is not a finite number",
		"3,800 mm":   "may mean 3.8 or 3800; write one of these",
	})
	prints(t, map[string]Metre{
		"3.80 m": 3.8, "25 mm": 0.025, "5.2 mm": 0.00524, "0.00 m": 0, "0.10 m": 0.1, "−2.50 m": -2.5, "16.39 m": 16.391,
	})
	prints(t, map[string]Foot{
		"12′6″": 12.5, "8′": 8, "6½″": 6.5 / 12, "−6′6½″": -6.545, "0″": 0, "12′": 11.99, "½″": 0.5 / 12, "1′½″": 12.5 / 12,
	})
	if got := Metre(3.81).WithFeet(); got != "3.81 m (12′6″)" {
		t.Errorf("both systems: %s", got)
	}
}

func TestSize(t *testing.T) {
	reads(t, func() quantity { return new(Size2) }, map[string][]float64{
		"1.6 x 1.2 m": {1.6, 1.2}, "1.6×1.2 m": {1.6, 1.2}, "1,6x1,2": {1.6, 1.2}, "8 x 8 ft": {2.4384, 2.4384},
		`12'6" x 8'`: {3.81, 2.4384}, "24.9 x 14 mm": {0.0249, 0.014}, "160 cm × 1.2 m": {1.6, 1.2}, `2 1/2 x 3 1/2"`: {0.0635, 0.0889},
	})
	reads(t, func() quantity { return new(Size3) }, map[string][]float64{
		"5 x 4 x 2.8 m": {5, 4, 2.8}, "5x4x2,8": {5, 4, 2.8}, `16' x 13' x 9'2"`: {4.8768, 3.9624, 2.794},
	})
	refuses(t, func() quantity { return new(Size2) }, map[string]string{
		"8' x 8":      "has a unit on some numbers only; write it at the end or on each",
		"5":           "has 1 side, 2 are wanted",
		"5 x 4 x 3 m": "has 3 sides, 2 are wanted",
		"0 x 4":       "has a side that is not above 0",
		"-1 x 4":      "has a side that is not above 0",
		"5 x":         "is not a size",
		"5 kg x 4 kg": "is a mass, a length is wanted",
		"5 4":         "is not a size",
	})
	prints(t, map[string]Size2{"1.60 × 1.20 m": {1.6, 1.2}, "24.9 × 14 mm": {0.0249, 0.014}})
	prints(t, map[string]Size3{"5.00 × 4.00 × 2.80 m": {5, 4, 2.8}})
}

func TestPoint(t *testing.T) {
	reads(t, func() quantity { return new(Point2) }, map[string][]float64{
		"2.5 2.0": {2.5, 2}, "2,5 2,0": {2.5, 2}, "2.5, 2.0": {2.5, 2}, "2, 5": {2, 5}, "2,5, 2,0 m": {2.5, 2}, "1; 2": {1, 2},
		"1;2": {1, 2}, "-1 −2 m": {-1, -2}, "2½ 3": {2.5, 3}, "2 ½": {2, 0.5}, "8' 6'6\"": {2.4384, 1.9812}, "100 200 cm": {1, 2},
	})
	reads(t, func() quantity { return new(Point3) }, map[string][]float64{
		"2.5 2.0 1.6 m": {2.5, 2, 1.6}, `8' 3'6" 5'`: {2.4384, 1.0668, 1.524}, "8' -3' 5'": {2.4384, -0.9144, 1.524},
		"0 0 0": {0, 0, 0}, "2.5 m 2 m 160 cm": {2.5, 2, 1.6}, "1 100 200": {1, 100, 200}, `8' 3 1/2" 5' 2'`: {2.52730, 1.524, 0.6096},
	})
	refuses(t, func() quantity { return new(Point2) }, map[string]string{
		"2,5":       "has 1 coordinate, 2 are wanted; blanks separate them",
		"2.5 m 2.0": "has a unit on some numbers only; write it at the end or on each",
		"2.5,2.0":   "is not a place in coordinates",
		"1 2;":      "is not a place in coordinates",
		"1 2 kg":    "is a mass, a length is wanted",
		"door":      "is not a place in coordinates",
	})
	refuses(t, func() quantity { return new(Point3) }, map[string]string{
		"1 2": "has 2 coordinates, 3 are wanted; blanks separate them",
	})
	prints(t, map[string]Point2{"2.50 2.00 m": {2.5, 2}})
	prints(t, map[string]Point3{"0.00 0.00 0.00 m": {}, "2.50 −2.00 1.60 m": {2.5, -2, 1.6}})
}
