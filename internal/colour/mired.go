package colour

import (
	"fmt"
	"math"
	"strings"

	"gloam/internal/unit"
)

// MiredFromBalance returns how far a light stands from the camera's balance, 10⁶/kelvin - 10⁶/balance: positive is seen
// warm, negative cool.
func MiredFromBalance(kelvin, balance unit.Kelvin) unit.Mired {
	return kelvin.Mired() - balance.Mired()
}

// Thresholds of the words for colour. Common practice, no source.
const (
	seenBeside unit.Mired = 5  // the least difference seen side by side
	seenInCut  unit.Mired = 10 // the least seen across a cut
	tinted                = 0.002
	strongTint            = 0.006
)

// Warmth returns the word for a mired difference from the balance: neutral under 5, slightly warm or slightly cool under 10,
// warm or cool from there.
func Warmth(fromBalance unit.Mired) string {
	return word(float64(fromBalance), float64(seenBeside), float64(seenInCut), "warm", "cool")
}

// Tint returns the word for a Duv: neutral up to 0.002, slightly green or slightly pink under 0.006, green or pink from there.
func Tint(duv float64) string {
	return word(duv, math.Nextafter(tinted, 1), strongTint, "green", "pink")
}

func word(value, seen, plain float64, positive, negative string) string {
	size := math.Abs(value)
	if size < seen {
		return "neutral"
	}
	w := positive
	if value < 0 {
		w = negative
	}
	if size < plain {
		w = "slightly " + w
	}
	return w
}

// DuvText returns a Duv as it is printed, with its sign: +0.0040, −0.0012, 0.0000.
func DuvText(duv float64) string {
	text := fmt.Sprintf("%+.4f", duv)
	if text == "-0.0000" || text == "+0.0000" {
		return "0.0000"
	}
	return strings.Replace(text, "-", "−", 1)
}
