package picture

import (
	"cmp"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"gloam/internal/colour"
	"gloam/internal/spectrum"
	"gloam/internal/transport"
)

// WriteEXR writes the picture for a compositor as OpenEXR [OpenEXR]: R, G, B hold all light together, `NAME.R` and so on
// each layer after its own dial, `albedo.R` … the reflectance of the first matt surface in D65, N.X, N.Y, N.Z its normal
// in the scene's axes, Z the depth in metres. Colours are linear, of BT.709 primaries and balanced to D65, 1 being a matt
// white in light at the key (a grey card 0.18); whiteLuminance says how many cd/m² that is. They are not brought into the
// gamut, so that the layers add up. Half is used where it holds the layer to ten stops below its brightest pixel.
// Comments go into the header. The error is the writer's.
func WriteEXR(w io.Writer, img *transport.Image, weights Weights, cam Camera, comments string) error {
	check(img)
	scene := cam.scene()
	groups := []exrGroup{light("", img, img.Layers, weights, &scene)}
	names := names{"albedo": true, "N": true}
	for i := range img.Layers {
		prefix := names.unique(img.Layers[i].Name) + "."
		groups = append(groups, light(prefix, img, img.Layers[i:i+1], weights, &scene))
	}
	groups = append(groups, albedo(img), normal(img), depth(img))
	white := d65
	f := exrFile{width: img.Width, height: img.Height, attributes: []exrAttribute{
		{"chromaticities", "chromaticities", []float32{float32(red.X), float32(red.Y), float32(green.X), float32(green.Y),
			float32(blue.X), float32(blue.Y), float32(white.X), float32(white.Y)}},
		{"comments", "string", []byte(comments)},
		{"whiteLuminance", "float", float32(cam.whiteLuminance())},
	}}
	f.gather(groups)
	return f.write(w)
}

// exrGroup is up to three channels that are worked out together.
type exrGroup struct {
	names []string
	float bool
	row   func(y int, into [3][]float32)
}

// gather sorts the channels of all groups by name, and makes the file's row of theirs.
func (f *exrFile) gather(groups []exrGroup) {
	type place struct{ group, member int }
	var places []place
	for g := range groups {
		for m := range groups[g].names {
			places = append(places, place{g, m})
		}
	}
	name := func(p place) string { return groups[p.group].names[p.member] }
	slices.SortFunc(places, func(a, b place) int { return cmp.Compare(name(a), name(b)) })
	channelOf := make([][3]int, len(groups))
	for i, p := range places {
		f.channels = append(f.channels, exrChannel{name(p), groups[p.group].float})
		channelOf[p.group][p.member] = i
	}
	f.row = func(y int, into [][]float32) {
		for g := range groups {
			var planes [3][]float32
			for m := range groups[g].names {
				planes[m] = into[channelOf[g][m]]
			}
			groups[g].row(y, planes)
		}
	}
}

// light is the sum of some layers under their dials.
func light(prefix string, img *transport.Image, layers []transport.ImageLayer, weights Weights, scene *matrix) exrGroup {
	row := lightRow(img, layers, weights, scene)
	return exrGroup{rgbNames(prefix), !fitsHalf(img, row), row}
}

// lightRow returns what writes a row of some layers as linear RGB.
func lightRow(img *transport.Image, layers []transport.ImageLayer, weights Weights, scene *matrix) func(y int, into [3][]float32) {
	rgb := weights.through(scene)
	return func(y int, into [3][]float32) {
		sum := make([]colour.XYZ, img.Width) // of R, G and B
		compose(img, sum, y, layers, rgb)
		r, g, b := into[0], into[1], into[2]
		for x, c := range sum {
			r[x], g[x], b[x] = float32(c.X), float32(c.Y), float32(c.Z)
		}
	}
}

func rgbNames(prefix string) []string { return []string{prefix + "R", prefix + "G", prefix + "B"} }

// fitsHalf reports whether half precision does for a group: nothing too large, and the brightest so far up that ten stops
// below it nothing is lost.
func fitsHalf(img *transport.Image, row func(y int, into [3][]float32)) bool {
	each := make([]float64, img.Height)
	rows(img.Height, func(y int) {
		var planes [3][]float32
		for k := range planes {
			planes[k] = make([]float32, img.Width)
		}
		row(y, planes)
		for _, plane := range planes {
			for _, v := range plane {
				each[y] = max(each[y], math.Abs(float64(v)))
			}
		}
	})
	most := slices.Max(each)
	return most <= mostHalf && (most == 0 || most >= 1024*leastFullHalf)
}

// albedo is the reflectance, as the colour of the surface in D65 with a perfect white at 1.
func albedo(img *transport.Image) exrGroup {
	power, _ := spectrum.Illuminant("D65")
	d := spectrum.LightOf(power)
	rgb := rgbFromXYZ.times(cat16(colour.Of(d, spectrum.Band{1, 1, 1, 1, 1, 1, 1, 1}), d65.XYZ(1)))
	return exrGroup{rgbNames("albedo."), false, func(y int, into [3][]float32) {
		for x, p := range img.Albedo[y*img.Width : (y+1)*img.Width] {
			var band spectrum.Band
			for b, v := range p {
				band[b] = float64(v)
			}
			for k, v := range rgb.ofXYZ(colour.Of(d, band)) {
				into[k][x] = float32(v)
			}
		}
	}}
}

func normal(img *transport.Image) exrGroup {
	return exrGroup{[]string{"N.X", "N.Y", "N.Z"}, false, func(y int, into [3][]float32) {
		for x, n := range img.Normal[y*img.Width : (y+1)*img.Width] {
			for k, v := range n {
				into[k][x] = v
			}
		}
	}}
}

func depth(img *transport.Image) exrGroup {
	return exrGroup{[]string{"Z"}, true, func(y int, into [3][]float32) {
		copy(into[0], img.Depth[y*img.Width:(y+1)*img.Width])
	}}
}

// names holds the layer names given out.
type names map[string]bool

// longest is how many bytes of a layer's name are kept, so that what is added to it still fits.
const longest = exrLongName - 16

// unique returns the name as a layer's: a dot would split it in two, and no two may be the same.
func (n names) unique(name string) string {
	name = strings.ReplaceAll(strings.ReplaceAll(name, ".", "_"), "\x00", "_")
	if len(name) > longest {
		name = strings.ToValidUTF8(name[:longest], "")
	}
	given := name
	for i := 2; n[given]; i++ {
		given = name + " " + strconv.Itoa(i)
	}
	n[given] = true
	return given
}
