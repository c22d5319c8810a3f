package unit

import (
	"math"
	"strconv"
	"strings"
)

// figures returns x with at most n significant figures and six decimals, without exponent or needless zeros, with a
// typographic minus.
func figures(x float64, n int) string {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return places(x, 0)
	}
	text := strconv.FormatFloat(x, 'e', n-1, 64)
	rounded, _ := strconv.ParseFloat(text, 64) // reads what it has just printed
	exponent, _ := strconv.Atoi(text[strings.IndexByte(text, 'e')+1:])
	return places(rounded, min(max(0, n-1-exponent), 6))
}

// places returns x with at most n decimals, without needless zeros, with a typographic minus.
func places(x float64, n int) string {
	text := fixed(x, n)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "−0" {
		return "0"
	}
	return text
}

// fixed returns x with exactly n decimals and a typographic minus.
func fixed(x float64, n int) string {
	switch {
	case math.IsNaN(x):
		return "unknown"
	case math.IsInf(x, 1):
		return "∞"
	case math.IsInf(x, -1):
		return "−∞"
	}
	return strings.Replace(strconv.FormatFloat(x, 'f', n, 64), "-", "−", 1)
}

// signed puts a plus before a text that begins with neither sign.
func signed(text string) string {
	if strings.HasPrefix(text, "−") {
		return text
	}
	return "+" + text
}

// thirds returns x to the nearest third: 1⅓, −⅔, 0. A half, as a person writes it, stays one: 1½.
func thirds(x float64) string {
	size := math.Abs(x)
	if !(size < 1e6) { // nor NaN
		return places(x, 0)
	}
	whole, part := math.Modf(math.Round(size*3) / 3)
	sign := [...]string{"", "⅓", "⅔"}[int(math.Round(part*3))]
	if floor, rest := math.Modf(size); rest == 0.5 {
		whole, sign = floor, "½"
	}
	text := places(whole, 0) + sign
	if whole == 0 && sign != "" {
		text = sign
	}
	if x < 0 && text != "0" {
		text = "−" + text
	}
	return text
}
