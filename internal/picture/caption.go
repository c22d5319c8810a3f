package picture

import (
	"image"
	"image/draw"

	"gloam/internal/unit"
)

// Warning stands on every picture.
const Warning = "level and direction, not beauty"

// Caption says what a picture shows.
type Caption struct {
	Setup string
	Clock string // when, as printed; may be empty
	Key   unit.Lux
}

// Below returns the picture with the caption and the warning on a strip below it.
func (c Caption) Below(img image.Image) *image.RGBA64 {
	size := img.Bounds().Size()
	hand := newLettering(letterSize(size.X))
	margin := hand.height / 2
	phrases := []string{c.Setup}
	if c.Clock != "" {
		phrases = append(phrases, c.Clock)
	}
	lines := hand.wrap(size.X-2*margin, append(phrases, "key "+c.Key.WithFootCandles(), Warning))
	out := image.NewRGBA64(image.Rect(0, 0, size.X, size.Y+len(lines)*hand.height+2*margin))
	draw.Draw(out, img.Bounds().Sub(img.Bounds().Min), img, img.Bounds().Min, draw.Src)
	fill(out, image.Rect(0, size.Y, size.X, out.Rect.Max.Y), stripGround)
	hand.lines(out, margin, size.Y+margin, lines)
	return out
}
