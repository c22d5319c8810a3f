package main

import (
	"fmt"
	"math"
	"strings"

	"gloam/internal/daylight"
)

// hues tells the kinds apart, for colour-blind eyes too.
var hues = map[daylight.Kind]string{
	daylight.Clear: "#0072b2", daylight.Hazy: "#56b4e9", daylight.PartlyCloudy: "#009e73",
	daylight.Broken: "#e69f00", daylight.BrightOvercast: "#cc79a7", daylight.Overcast: "#555555",
}

const (
	side     = 300.0 // of a panel, pixels
	margin   = 60.0
	low      = 2000.0 // lx
	high     = 150_000.0
	textFont = `font-family="sans-serif" font-size="13"`
)

// place returns the pixels along an axis of a level.
func place(lux float64) float64 { return side * math.Log(lux/low) / math.Log(high/low) }

// draw returns a picture with a panel for each part: the file against the model, with the interval as a bar along the
// modelled axis.
func draw(all []comparison) string {
	var b strings.Builder
	width, height := margin+3*(side+margin), side+2*margin+40
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%.0f" height="%.0f" viewBox="0 0 %.0f %.0f">`+"\n", width, height, width, height)
	fmt.Fprintf(&b, `<rect width="%.0f" height="%.0f" fill="#ffffff"/>`+"\n", width, height)
	for i, part := range parts {
		fmt.Fprintf(&b, `<g transform="translate(%.0f,%.0f)">`+"\n", margin+float64(i)*(side+margin), margin)
		panel(&b, part, filter(all, func(c comparison) bool { return c.part == part }))
		b.WriteString("</g>\n")
	}
	for i, k := range kinds {
		x := margin + float64(i)*150
		fmt.Fprintf(&b, `<circle cx="%.0f" cy="%.0f" r="4" fill="%s"/><text x="%.0f" y="%.0f" %s>%s</text>`+"\n", x, height-20, hues[k], x+10, height-16, textFont, k)
	}
	b.WriteString("</svg>\n")
	return b.String()
}

func panel(b *strings.Builder, part string, some []comparison) {
	fmt.Fprintf(b, `<rect width="%.0f" height="%.0f" fill="none" stroke="#000000"/>`+"\n", side, side)
	fmt.Fprintf(b, `<text x="0" y="-12" %s>%s: %.0f %% of %d inside</text>`+"\n", textFont, part, 100*inside(some), len(some))
	for _, tick := range []float64{2e3, 5e3, 1e4, 2e4, 5e4, 1e5} {
		at := place(tick)
		fmt.Fprintf(b, `<path d="M%.1f 0V%.0f M0 %.1fH%.0f" stroke="#dddddd"/>`+"\n", at, side, side-at, side)
		fmt.Fprintf(b, `<text x="%.1f" y="%.0f" text-anchor="middle" %s>%g</text>`+"\n", at, side+16, textFont, tick/1000)
		fmt.Fprintf(b, `<text x="-6" y="%.1f" text-anchor="end" %s>%g</text>`+"\n", side-at+4, textFont, tick/1000)
	}
	fmt.Fprintf(b, `<path d="M0 %.0fL%.0f 0" stroke="#000000"/>`+"\n", side, side)
	fmt.Fprintf(b, `<text x="%.0f" y="%.0f" text-anchor="middle" %s>modelled, klx, with its interval</text>`+"\n", side/2, side+34, textFont)
	fmt.Fprintf(b, `<text transform="translate(-34,%.0f) rotate(-90)" text-anchor="middle" %s>weather file, klx</text>`+"\n", side/2, textFont)
	for _, c := range some {
		y, reach := side-place(float64(c.measured)), math.Exp2(c.half)
		from, to := place(max(low, float64(c.modelled)/reach)), place(min(high, float64(c.modelled)*reach))
		fmt.Fprintf(b, `<path d="M%.1f %.1fH%.1f" stroke="%s" stroke-opacity="0.5"/>`, from, y, to, hues[c.kind])
		fmt.Fprintf(b, `<circle cx="%.1f" cy="%.1f" r="3.5" fill="%s"/>`+"\n", place(float64(c.modelled)), y, hues[c.kind])
	}
}
