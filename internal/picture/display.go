package picture

import (
	"image"
	"image/color"
	"math"

	"gloam/internal/exposure"
	"gloam/internal/unit"
)

// The display transform, the EETF of [BT2390]. A matt white in light at the key is sent to a screen of displayPeak as that peak; what is
// brighter is rolled off, up to headroom over grey.
const (
	displayPeak           = 100 // cd/m², a reference monitor of standard dynamic range (BT.2035, from memory)
	headroom    unit.Stop = 6   // over grey, where the roll-off reaches white; about what cameras hold (common practice, no source)
)

// rollOff carries the scene's range to the screen's. Its knee stands above grey, so grey and all below it come through
// unchanged, stop for stop; that is why this curve was taken and not one that bends the shadows as film does.
var rollOff = newEETF(displayPeak*float64(exposure.MidGrey)*headroom.Factor(), displayPeak)

// Display returns the picture as an sRGB screen shows it, at 16 bits. A grey card in light at the key gets linear 0.18 (sRGB
// 118 of 255). The curve is [BT2390]'s, applied to the greatest of R, G and B with the other two in proportion (its maxRGB
// variant), so hue and saturation stay and nothing clips; what lies outside the gamut is first mixed with grey of its own
// luminance until it fits; the encoding is [IEC61966]'s.
func Display(c *Composite, cam Camera) *image.RGBA64 {
	out := image.NewRGBA64(image.Rect(0, 0, c.Width, c.Height))
	scene := cam.scene()
	rows(c.Height, func(y int) {
		for x := range c.Width {
			out.SetRGBA64(x, y, shown(scene.ofXYZ(c.Pixels[y*c.Width+x])))
		}
	})
	return out
}

// shown returns what the screen gets for a scene-referred linear sRGB.
func shown(rgb [3]float64) color.RGBA64 {
	rgb = intoGamut(rgb)
	most := max(rgb[0], rgb[1], rgb[2])
	if !(most > 0) {
		return color.RGBA64{A: math.MaxUint16}
	}
	k := rollOff.of(displayPeak*most) / (displayPeak * most)
	return color.RGBA64{sixteen(k * rgb[0]), sixteen(k * rgb[1]), sixteen(k * rgb[2]), math.MaxUint16}
}

// intoGamut mixes a colour with grey of its own luminance, just so much that no component is below 0.
func intoGamut(rgb [3]float64) [3]float64 {
	least := min(rgb[0], rgb[1], rgb[2])
	if least >= 0 {
		return rgb
	}
	grey := xyzFromRGB[1][0]*rgb[0] + xyzFromRGB[1][1]*rgb[1] + xyzFromRGB[1][2]*rgb[2]
	if grey <= 0 {
		return [3]float64{}
	}
	k := grey / (grey - least)
	for i := range rgb {
		rgb[i] = math.Max(0, grey+k*(rgb[i]-grey))
	}
	return rgb
}

// sixteen returns the encoded value of a linear component, in 16 bits.
func sixteen(linear float64) uint16 {
	return uint16(math.Round(math.MaxUint16 * math.Min(1, encodeSRGB(linear))))
}
