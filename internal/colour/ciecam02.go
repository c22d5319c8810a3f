package colour

import "math"

// matrix3 is a 3×3 matrix by rows.
type matrix3 [3][3]float64

func (m matrix3) of(v [3]float64) [3]float64 {
	var out [3]float64
	for r := range m {
		for c := range v {
			out[r] += m[r][c] * v[c]
		}
	}
	return out
}

var (
	// cat02 takes XYZ to the sharpened responses of CIECAM02 [CIE159], equation 7.
	cat02 = matrix3{{0.7328, 0.4296, -0.1624}, {-0.7036, 1.6975, 0.0061}, {0.0030, 0.0136, 0.9834}}
	// hpeFromCAT02 takes those to Hunt-Pointer-Estevez cones: the matrix of [CIE159], equation 12, times the inverse of cat02.
	hpeFromCAT02 = matrix3{
		{0.7409792, 0.2180250, 0.0410058}, {0.2853532, 0.6242014, 0.0904454}, {-0.0096280, -0.0056980, 1.0153260},
	}
)

// The viewing conditions of CIE 224: adapting luminance 100 cd/m², background 20, average surround, full adaptation.
const (
	adaptingLuminance = 100.0
	backgroundY       = 20.0
	surroundC         = 0.69
)

// ciecam02 holds what depends on the white alone.
type ciecam02 struct {
	white           [3]float64 // sharpened responses
	fl, nbb, ncb, z float64
	n, aw           float64
}

func newCIECAM02(white XYZ) ciecam02 {
	k := 1 / (5*adaptingLuminance + 1)
	k4 := k * k * k * k
	m := ciecam02{white: cat02.of([3]float64{white.X, white.Y, white.Z})}
	m.fl = 0.2*k4*5*adaptingLuminance + 0.1*(1-k4)*(1-k4)*math.Cbrt(5*adaptingLuminance)
	m.n = backgroundY / white.Y
	m.nbb = 0.725 * math.Pow(1/m.n, 0.2)
	m.ncb, m.z = m.nbb, 1.48+math.Sqrt(m.n)
	m.aw = m.achromatic(m.compressed(white))
	return m
}

// compressed returns the post-adaptation responses of a colour [CIE159], equations 8 to 15.
func (m ciecam02) compressed(c XYZ) [3]float64 {
	rgb := cat02.of([3]float64{c.X, c.Y, c.Z})
	for i := range rgb {
		rgb[i] *= 100 / m.white[i]
	}
	rgb = hpeFromCAT02.of(rgb)
	for i, v := range rgb {
		p := math.Pow(m.fl*math.Abs(v)/100, 0.42)
		rgb[i] = math.Copysign(400*p/(p+27.13), v) + 0.1
	}
	return rgb
}

func (m ciecam02) achromatic(rgb [3]float64) float64 {
	return (2*rgb[0] + rgb[1] + rgb[2]/20 - 0.305) * m.nbb
}

// ucs returns J', a', b' of a colour in CAM02-UCS: lightness and colourfulness of CIECAM02 [CIE159], equations 16 to 27, on the
// scales of [CIE224], equations 3 to 6.
func (m ciecam02) ucs(c XYZ) [3]float64 {
	rgb := m.compressed(c)
	a := rgb[0] - 12*rgb[1]/11 + rgb[2]/11
	b := (rgb[0] + rgb[1] - 2*rgb[2]) / 9
	h := math.Atan2(b, a)
	eccentricity := (math.Cos(h+2) + 3.8) / 4
	t := 50000 / 13.0 * m.ncb * eccentricity * math.Hypot(a, b) / (rgb[0] + rgb[1] + 21*rgb[2]/20)
	j := 100 * math.Pow(max(0, m.achromatic(rgb)/m.aw), surroundC*m.z)
	colourfulness := math.Pow(t, 0.9) * math.Sqrt(j/100) * math.Pow(1.64-math.Pow(0.29, m.n), 0.73) * math.Pow(m.fl, 0.25)
	chroma := math.Log1p(0.0228*colourfulness) / 0.0228
	return [3]float64{1.7 * j / (1 + 0.007*j), chroma * math.Cos(h), chroma * math.Sin(h)}
}
