package daylight

import (
	"errors"
	"strings"

	"gloam/internal/unit"
)

// Kind is the state of the sky as a crew names it, by what the sun does to shadows. The zero Kind is a clear sky.
type Kind int

// The kinds of sky, from clear to dark.
const (
	Clear          Kind = iota // hard, deep, blue shadows
	Hazy                       // hard shadows, whitish sky
	PartlyCloudy               // sun in and out, or veiled: about half of it comes through
	Broken                     // mostly cloud, sun now and then: faint shadows
	BrightOvercast             // no shadows, a white sky that dazzles
	Overcast                   // no shadows, a grey sky
	HeavyOvercast              // rain cloud, lamps are lit indoors
	kindCount
)

// sky is what the model knows of a kind. Level ground gets base + slope·sin^power(altitude) klx from the sky [RP21], and the sun
// square-on share·exp(-extinction·air mass) of what it has outside the atmosphere.
type sky struct {
	name               string
	words              []string // that mean it too
	base, slope, power float64  // klx
	extinction, share  float64
	standard           int     // type of [CIES011]
	low                float64 // degrees of altitude from which the figures above hold; below, twilight leads over to them
	direct, diffuse    unit.Stop
	steady             float64 // share of the doubt that lasts for hours, the rest passes in minutes
	colour             skyColour
}

// skies hold the kinds. Clear, the sky under partly cloudy and overcast are those of [RP21] (coefficients from memory; its
// overcast is also that of [Krochmann1974]); hazy is fitted to [Bird1986] at an aerosol depth of 0.3, within 8 % from 10° up.
// The rest is our choice: behind cloud the sun is a share of the clear sky's, since it shines for a share of the time (the
// extinction of 0.80 that [RP21] has for partly cloudy skies leaves a third to a twelfth of the sun that such hours of the
// weather file have below 16°); the sky of broken cloud and of bright overcast is that of partly cloudy; heavy overcast is
// half of overcast (common practice, no source). The half-widths, 95 %, are the scatter of hours (docs/daylight.md) widened
// for other climates; overcast's is a stop (common practice).
var skies = [kindCount]sky{
	Clear: {name: "clear", words: []string{"sunny", "blue"},
		base: 0.8, slope: 15.5, power: 0.5, extinction: 0.21, share: 1, standard: 12,
		low: 10, direct: 0.5, diffuse: 0.6, steady: 0.9, colour: clearColour},
	Hazy: {name: "hazy", words: []string{"haze"},
		base: 0.3, slope: 32.5, power: 0.8, extinction: 0.37, share: 1, standard: 11,
		low: 10, direct: 0.6, diffuse: 0.7, steady: 0.9, colour: hazyColour},
	PartlyCloudy: {name: "partly cloudy", words: []string{"partly", "fair"},
		base: 0.3, slope: 45, power: 1, extinction: 0.21, share: 0.45, standard: 11,
		direct: 0.8, diffuse: 0.6, steady: 0.6, colour: partlyColour},
	Broken: {name: "broken", words: []string{"broken cloud", "mostly cloudy"},
		base: 0.3, slope: 45, power: 1, extinction: 0.21, share: 0.18, standard: 11,
		direct: 1.3, diffuse: 0.6, steady: 0.5, colour: brokenColour},
	BrightOvercast: {name: "bright overcast", words: []string{"white overcast"},
		base: 0.3, slope: 45, power: 1, standard: 4,
		diffuse: 0.5, steady: 0.7, colour: overcastColour},
	Overcast: {name: "overcast", words: []string{"cloudy", "grey"},
		base: 0.3, slope: 21, power: 1, standard: traditional,
		diffuse: 1, steady: 0.7, colour: overcastColour},
	HeavyOvercast: {name: "heavy overcast", words: []string{"dark overcast", "rain"},
		base: 0.15, slope: 10.5, power: 1, standard: traditional,
		diffuse: 1.3, steady: 0.7, colour: overcastColour},
}

// Parse reads a kind by its name or a word that means it.
func (k *Kind) Parse(text string) error {
	text = strings.Join(strings.Fields(strings.ToLower(strings.ReplaceAll(text, "-", " "))), " ")
	for i, s := range skies {
		if text == s.name {
			*k = Kind(i)
			return nil
		}
		for _, word := range s.words {
			if text == word {
				*k = Kind(i)
				return nil
			}
		}
	}
	return errors.New("is not a state of the sky")
}

// Forms says how a kind is written.
func (Kind) Forms() string {
	names := make([]string, len(skies))
	for i, s := range skies {
		names[i] = s.name
	}
	return "a state of the sky: " + strings.Join(names, ", ")
}

// String returns the kind's name.
func (k Kind) String() string { return skies[k].name }
