package picture

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/png"
	"io"
	"math"
)

// afterHeader is where PNG's first chunk, the header, ends: signature 8, length 4, name 4, content 13, check 4 [PNG],
// clauses 5 and 11.2.1.
const afterHeader = 8 + 4 + 4 + 13 + 4

// WritePNG writes an opaque picture as PNG of 8 or 16 bits a component, marked as sRGB [PNG], clause 11.3.2.5. The error is
// the writer's. It panics on another number of bits.
func WritePNG(w io.Writer, img image.Image, bits int) error {
	switch bits {
	case 8:
		img = eight(img)
	case 16:
	default:
		panic("picture: PNG of neither 8 nor 16 bits")
	}
	var b bytes.Buffer
	encoder := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := encoder.Encode(&b, img); err != nil {
		return err
	}
	for _, part := range [][]byte{b.Bytes()[:afterHeader], srgbChunk(), b.Bytes()[afterHeader:]} {
		if _, err := w.Write(part); err != nil {
			return err
		}
	}
	return nil
}

// srgbChunk says that the pixels are sRGB, of perceptual intent.
func srgbChunk() []byte {
	chunk := append(binary.BigEndian.AppendUint32(nil, 1), "sRGB\x00"...)
	return binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
}

// eight returns the picture at 8 bits, rounded; the standard library's conversion rounds down.
func eight(img image.Image) *image.RGBA {
	bounds := img.Bounds()
	out := image.NewRGBA(bounds)
	rows(bounds.Dy(), func(y int) {
		for x := range bounds.Dx() {
			r, g, b, _ := img.At(bounds.Min.X+x, bounds.Min.Y+y).RGBA()
			i := out.PixOffset(bounds.Min.X+x, bounds.Min.Y+y)
			for k, v := range [4]uint32{r, g, b, math.MaxUint16} {
				out.Pix[i+k] = uint8((v*255 + math.MaxUint16/2) / math.MaxUint16)
			}
		}
	})
	return out
}
