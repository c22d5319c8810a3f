package picture

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image"
	"image/color"
	"image/png"
	"math"
	"testing"
)

// ramp is a picture of many values.
func ramp(width, height int) *image.RGBA64 {
	img := image.NewRGBA64(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			v := uint16((x + y*width) * math.MaxUint16 / (width*height - 1))
			img.SetRGBA64(x, y, color.RGBA64{v, math.MaxUint16 - v, v / 3, math.MaxUint16})
		}
	}
	return img
}

func TestPNGOfSixteenBitsIsExact(t *testing.T) {
	img := ramp(40, 25)
	var b bytes.Buffer
	if err := WritePNG(&b, img, 16); err != nil {
		t.Fatal(err)
	}
	got, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	for y := range 25 {
		for x := range 40 {
			if color.RGBA64Model.Convert(got.At(x, y)) != img.RGBA64At(x, y) {
				t.Fatalf("%d, %d: got %v, want %v", x, y, got.At(x, y), img.At(x, y))
			}
		}
	}
}

func TestPNGOfEightBitsIsRounded(t *testing.T) {
	img := ramp(40, 25)
	var b bytes.Buffer
	if err := WritePNG(&b, img, 8); err != nil {
		t.Fatal(err)
	}
	got, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	for y := range 25 {
		for x := range 40 {
			r, _, _, _ := got.At(x, y).RGBA()
			want := math.Round(float64(img.RGBA64At(x, y).R) * 255 / math.MaxUint16)
			if float64(r>>8) != want {
				t.Fatalf("%d, %d: got %d, want %v", x, y, r>>8, want)
			}
		}
	}
}

// chunks returns the names of a PNG's chunks in order, the colour type and the bits a component [PNG], clause 11.2.2.
func chunks(t *testing.T, data []byte) (names []string, bits, kind byte) {
	t.Helper()
	for at := 8; at < len(data); {
		names = append(names, string(data[at+4:at+8]))
		at += 12 + int(binary.BigEndian.Uint32(data[at:]))
	}
	return names, data[24], data[25]
}

// sRGB must come before the palette and the pixels [PNG], clause 5.6; the decoder above checks the chunk's sum.
func TestPNGIsMarkedAsSRGB(t *testing.T) {
	for _, bits := range []int{8, 16} {
		var b bytes.Buffer
		if err := WritePNG(&b, ramp(8, 8), bits); err != nil {
			t.Fatal(err)
		}
		names, depth, kind := chunks(t, b.Bytes())
		if names[0] != "IHDR" || names[1] != "sRGB" || names[2] != "IDAT" {
			t.Errorf("chunks are %v", names)
		}
		if int(depth) != bits || kind != 2 {
			t.Errorf("%d bits of colour type %d, want %d of 2, true colour without alpha", depth, kind, bits)
		}
	}
}

// brokenPipe fails after some bytes.
type brokenPipe int

var errBroken = errors.New("broken")

func (w *brokenPipe) Write(b []byte) (int, error) {
	if *w -= brokenPipe(len(b)); *w < 0 {
		return 0, errBroken
	}
	return len(b), nil
}

func TestWritersErrorsComeBack(t *testing.T) {
	for room := range brokenPipe(60) {
		w := room
		if err := WritePNG(&w, ramp(8, 8), 8); err != errBroken {
			t.Fatalf("PNG after %d bytes: %v", room, err)
		}
	}
	for _, room := range []brokenPipe{0, 10, 2000} {
		if err := WriteEXR(&room, synthetic(16, 9), dials(1, 1, 1, 1, 1), testCamera, ""); err != errBroken {
			t.Fatalf("OpenEXR: %v", err)
		}
	}
}

func TestCaption(t *testing.T) {
	img := ramp(320, 90)
	short := Caption{"A", "", testCamera.Key()}.Below(img)
	long := Caption{"Set-up 3, the long corridor", "18:35", testCamera.Key()}.Below(img)
	if long.Rect.Dx() != 320 || long.Rect.Dy() <= short.Rect.Dy() || short.Rect.Dy() <= 90 {
		t.Errorf("captions make it %v and %v", short.Rect, long.Rect)
	}
	for y := range 90 {
		for x := range 320 {
			if long.At(x, y) != img.At(x, y) {
				t.Fatalf("pixel %d, %d changed", x, y)
			}
		}
	}
	if inked(short, 90) == 0 || inked(long, 90) <= inked(short, 90) {
		t.Errorf("letters cover %d and %d pixels", inked(short, 90), inked(long, 90))
	}
	// 7:1 is what text beside a picture must have; relative luminance and contrast as WCAG 2.1 defines them (from memory).
	if c := contrast(stripGround, stripLetters); c < 7 {
		t.Errorf("letters stand out by %.1f:1", c)
	}
}

// inked counts the pixels below a line that are nearly of the letters' tone.
func inked(img *image.RGBA64, top int) (n int) {
	for y := top; y < img.Rect.Max.Y; y++ {
		for x := range img.Rect.Max.X {
			if img.RGBA64At(x, y).G > 0xa000 {
				n++
			}
		}
	}
	return n
}

func TestWrap(t *testing.T) {
	l := newLettering(12)
	phrases := []string{"kitchen at night", "18:35", Warning}
	for _, width := range []int{1000, 300, 200, 120, 70} {
		lines := l.wrap(width, phrases)
		text := ""
		for _, line := range lines {
			text += line + " "
			if l.width(line) > width {
				t.Errorf("%q is %d wide, not %d", line, l.width(line), width)
			}
		}
		for _, word := range []string{"kitchen", "night", "18:35", "beauty"} {
			if !bytes.Contains([]byte(text), []byte(word)) {
				t.Errorf("%q has lost %q", text, word)
			}
		}
	}
	if got := l.wrap(1000, phrases); len(got) != 1 || got[0] != "kitchen at night · 18:35 · "+Warning {
		t.Errorf("wide enough for one line, got %q", got)
	}
}
