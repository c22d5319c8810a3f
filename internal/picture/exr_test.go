package picture

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gloam/internal/colour"
	"gloam/internal/spectrum"
	"gloam/internal/transport"
)

// exrImage is what the tests' own reader found: a file of scanlines in ZIP blocks, or of one uncompressed tile.
type exrImage struct {
	width, height int
	flags         uint32
	channels      []exrChannel
	attributes    map[string][]byte
	planes        map[string][]float64
}

// text cuts a string that ends in a zero.
func text(data []byte) (string, []byte) {
	i := bytes.IndexByte(data, 0)
	return string(data[:i]), data[i+1:]
}

// readEXR reads by the format's description [OpenEXR] alone. It panics on what it does not understand.
func readEXR(data []byte) *exrImage {
	img := &exrImage{attributes: map[string][]byte{}, planes: map[string][]float64{}}
	if binary.LittleEndian.Uint32(data) != 20000630 || data[4] != 2 {
		panic("not an OpenEXR file")
	}
	img.flags = binary.LittleEndian.Uint32(data[4:]) >> 8
	at := data[8:]
	for at[0] != 0 {
		var name string
		name, at = text(at)
		_, at = text(at)
		size := binary.LittleEndian.Uint32(at)
		img.attributes[name], at = at[4:4+size], at[4+size:]
	}
	at = at[1:]
	window := img.attributes["dataWindow"]
	img.width = int(binary.LittleEndian.Uint32(window[8:])) + 1
	img.height = int(binary.LittleEndian.Uint32(window[12:])) + 1
	for list := img.attributes["channels"]; list[0] != 0; {
		var c exrChannel
		c.name, list = text(list)
		c.float = binary.LittleEndian.Uint32(list) == 2
		img.channels, list = append(img.channels, c), list[16:]
	}
	lines, skip := 16, 4 // a block starts with its line; a tile with its place and level
	if img.flags&2 != 0 {
		lines, skip = img.height, 16
	}
	for y := 0; y < img.height; y += lines {
		offset := binary.LittleEndian.Uint64(at[8*(y/lines):])
		block := data[offset:]
		size := binary.LittleEndian.Uint32(block[skip:])
		img.pixels(block[skip+4:skip+4+int(size)], min(lines, img.height-y))
	}
	return img
}

func (img *exrImage) pixels(data []byte, lines int) {
	line := 0
	for i := range img.channels {
		line += img.width * img.channels[i].size()
	}
	if img.attributes["compression"][0] == 3 && len(data) < line*lines {
		data = inflate(data, line*lines)
	}
	for range lines {
		for _, c := range img.channels {
			for range img.width {
				if c.float {
					img.planes[c.name] = append(img.planes[c.name], float64(math.Float32frombits(binary.LittleEndian.Uint32(data))))
				} else {
					img.planes[c.name] = append(img.planes[c.name], unhalf(binary.LittleEndian.Uint16(data)))
				}
				data = data[c.size():]
			}
		}
	}
}

func inflate(data []byte, size int) []byte {
	z, err := zlib.NewReader(bytes.NewReader(data))
	if err != nil {
		panic(err)
	}
	split, err := io.ReadAll(z)
	if err != nil || len(split) != size {
		panic("block of another size")
	}
	for i := 1; i < size; i++ {
		split[i] += split[i-1] - 128
	}
	raw := make([]byte, size)
	for i := range raw {
		raw[i] = split[i/2+i%2*((size+1)/2)]
	}
	return raw
}

func written(t *testing.T, img *transport.Image, w Weights) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := WriteEXR(&b, img, w, testCamera, "set-up 3\n"+Warning); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestEXRHoldsEveryLayer(t *testing.T) {
	img, w := synthetic(70, 37), dials(1, 0.5, 1, 0, 1) // 37 lines: the last block is short
	file := readEXR(written(t, img, w))
	var names []string
	for _, c := range file.channels {
		names = append(names, c.name)
	}
	want := []string{"B", "G", "N.X", "N.Y", "N.Z", "R", "Z", "albedo.B", "albedo.G", "albedo.R"}
	for _, layer := range []string{"back light", "fill 1_2 m", "key lamp", "practical", "sky (window)"} {
		want = append(want, layer+".B", layer+".G", layer+".R")
	}
	if !slices.Equal(names, want) {
		t.Errorf("channels are %q, want %q", names, want)
	}
	m := testCamera.scene()
	all := Compose(img, w)
	alone := Compose(img, dials(1, 0, 0, 0, 0))
	for i := range all.Pixels {
		sum, key := m.ofXYZ(all.Pixels[i]), m.ofXYZ(alone.Pixels[i])
		for k, name := range []string{"R", "G", "B"} {
			near(t, name, file.planes[name][i], sum[k], 1e-3*math.Abs(sum[k])+1e-6)
			near(t, "key lamp."+name, file.planes["key lamp."+name][i], key[k], 1e-3*math.Abs(key[k])+1e-6)
			near(t, "N", file.planes["N."+"XYZ"[k:k+1]][i], float64(img.Normal[i][k]), 1e-3)
		}
		if z := file.planes["Z"][i]; z != float64(img.Depth[i]) {
			t.Fatalf("depth is %v, want %v", z, img.Depth[i])
		}
		if file.planes["practical.G"][i] != 0 {
			t.Fatal("a lamp at dim 0 sends light")
		}
	}
	// 1 is π⁻¹ · 250 lx, a matt white at the key.
	near(t, "whiteLuminance", float64(math.Float32frombits(binary.LittleEndian.Uint32(file.attributes["whiteLuminance"]))), 250/math.Pi, 1e-4)
	if got := string(file.attributes["comments"]); got != "set-up 3\n"+Warning {
		t.Errorf("comments are %q", got)
	}
}

// In D65 a grey surface has R = G = B = its reflectance, and a light seen directly 1.
func TestEXRAlbedo(t *testing.T) {
	file := readEXR(written(t, flat(4, 4, grey(0.18), grey(1)), dials(1)))
	for _, name := range []string{"albedo.R", "albedo.G", "albedo.B"} {
		near(t, name, file.planes[name][5], 0.18, 1e-4)
	}
	skinned := readEXR(written(t, flat(4, 4, skin, grey(1)), dials(1)))
	day, _ := spectrum.Illuminant("D65")
	y := xyzFromRGB.of(skinned.planes["albedo.R"][0], skinned.planes["albedo.G"][0], skinned.planes["albedo.B"][0])[1]
	near(t, "luminous reflectance", y, colour.Of(spectrum.LightOf(day), skin).Y, 1e-3)
}

func TestEXRTakesFloatWhereHalfIsTooShort(t *testing.T) {
	for name, c := range map[string]struct {
		level float64
		float bool
	}{
		"grey at the key":       {1, false},
		"a lamp seen directly":  {1e4, false},
		"the sun seen directly": {1e7, true},
		"eleven stops down":     {1.0 / 2048 / 16, true},
		"dark":                  {0, false},
	} {
		file := readEXR(written(t, flat(2, 2, grey(0.5), grey(250/math.Pi*c.level)), dials(1)))
		for _, channel := range file.channels {
			if channel.name == "lamp.G" && channel.float != c.float {
				t.Errorf("%s: float is %v, want %v", name, channel.float, c.float)
			}
		}
		near(t, name, file.planes["lamp.G"][0], c.level, 1e-3*c.level)
	}
}

func TestEXRNamesOfLayers(t *testing.T) {
	given := names{"albedo": true, "N": true}
	long := strings.Repeat("é", 200)
	for _, c := range [][2]string{
		{"key lamp", "key lamp"}, {"key lamp", "key lamp 2"}, {"1.2 m", "1_2 m"}, {"albedo", "albedo 2"}, {"N", "N 2"}, {"a\x00b", "a_b"},
		{long, strings.Repeat("é", 119)},
	} {
		if got := given.unique(c[0]); got != c[1] {
			t.Errorf("%q becomes %q, want %q", c[0], got, c[1])
		}
	}
	img := flat(2, 2, grey(0.5), grey(1))
	if readEXR(written(t, img, dials(1))).flags != 0 {
		t.Error("short names raise the flag of long ones")
	}
	img.Layers[0].Name = long
	if file := readEXR(written(t, img, dials(1))); file.flags != 4 || file.planes[strings.Repeat("é", 119)+".R"] == nil {
		t.Error("a long name is not kept or not flagged")
	}
}

// independent returns the path of one of OpenEXR's own programs.
func independent(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skip(name, "is not installed")
	}
	return path
}

func TestEXRIsReadByExrheader(t *testing.T) {
	program := independent(t, "exrheader")
	file := filepath.Join(t.TempDir(), "a.exr")
	if err := os.WriteFile(file, written(t, synthetic(70, 37), dials(1, 1, 1, 1, 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(program, file).CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	for _, want := range []string{"key lamp.R, 16-bit floating-point", "Z, 32-bit floating-point", "white (0.3127 0.329)",
		"(0 0) - (69 36)", "whiteLuminance (type float): 79.5775", "zip, multi-scanline blocks", Warning} {
		if !strings.Contains(string(out), want) {
			t.Errorf("exrheader does not say %q:\n%s", want, out)
		}
	}
}

// OpenEXR's own library unpacks the pixels and writes them as one tile, uncompressed.
func TestEXRPixelsAreReadByExrmaketiled(t *testing.T) {
	program := independent(t, "exrmaketiled")
	folder := t.TempDir()
	in, out := filepath.Join(folder, "a.exr"), filepath.Join(folder, "b.exr")
	data := written(t, noisy(synthetic(70, 37), 4, 1), dials(1, 1, 1, 1, 1))
	if err := os.WriteFile(in, data, 0o600); err != nil {
		t.Fatal(err)
	}
	if text, err := exec.Command(program, "-o", "-z", "none", "-t", "70", "37", in, out).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	tiled, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	got, want := readEXR(tiled), readEXR(data)
	if got.flags&2 == 0 || got.attributes["compression"][0] != 0 {
		t.Fatal("the other program wrote another form")
	}
	for name, plane := range want.planes {
		if !slices.Equal(got.planes[name], plane) {
			t.Errorf("channel %q differs", name)
		}
	}
}
