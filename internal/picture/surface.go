package picture

import (
	"math"

	"gloam/internal/transport"
)

// How far two pixels may differ and still be one surface.
const (
	depthSlack  = 0.005 // of the depth, beside what its slope explains
	albedoSlack = 0.07  // of the sum of two albedos
	darkAlbedo  = 0.05  // added to that sum, so that two blacks are alike
	leastCosine = 0.87  // between normals; its 128th power is nothing
)

// surface is what a pixel shows, as far as it tells edges.
type surface struct {
	normal         [3]float32
	depth          float32    // m
	slopeX, slopeY float32    // of the depth, m a pixel
	albedo         [3]float32 // of short, middle and long waves
	shines         bool       // a light, the sky or nothing
	outline        bool       // of what shines: the pixel may show both
}

// surfaces returns what each pixel of the image shows.
func surfaces(img *transport.Image) []surface {
	all := make([]surface, len(img.Albedo))
	rows(img.Height, func(y int) {
		for x := range img.Width {
			i := y*img.Width + x
			a := &img.Albedo[i]
			all[i] = surface{
				normal: img.Normal[i],
				depth:  img.Depth[i],
				slopeX: slope(img.Depth, i, 1, x > 0, x+1 < img.Width),
				slopeY: slope(img.Depth, i, img.Width, y > 0, y+1 < img.Height),
				albedo: [3]float32{(a[0] + a[1] + a[2]) / 3, (a[3] + a[4]) / 2, (a[5] + a[6] + a[7]) / 3},
				shines: direct(a) || math.IsInf(float64(img.Depth[i]), 0),
			}
		}
	})
	rows(img.Height, func(y int) {
		for x := range img.Width {
			i := y*img.Width + x
			around(x, y, img.Width, img.Height, func(dx, dy int) {
				if all[i].shines != all[i+dy*img.Width+dx].shines {
					all[i].outline = true
				}
			})
		}
	})
	return all
}

// slope returns how much the depth changes to the next pixel: the lesser of the changes before and behind, for the greater
// may be an edge. Beside nothing it is 0.
func slope(depth []float32, i, step int, before, behind bool) float32 {
	s := float32(math.Inf(1))
	if before {
		s = depth[i] - depth[i-step]
	}
	if behind {
		if d := depth[i+step] - depth[i]; d*d < s*s {
			s = d
		}
	}
	if !(s*s <= math.MaxFloat32) {
		return 0
	}
	return s
}

// apart returns how surely a pixel dx, dy away is another surface, as minus the logarithm of a weight, and that part of the
// weight which its normal decides; 0 there settles it. What shines has no surface to tell it apart. The depth is judged by equation 3 and the normal by equation 4 of
// [Schied2017].
func (s *surface) apart(q *surface, dx, dy float32) (far, facing float32) {
	if s.shines || q.shines {
		if s.shines && q.shines && !s.outline && !q.outline {
			return 0, 1
		}
		return 0, 0
	}
	cosine := s.normal[0]*q.normal[0] + s.normal[1]*q.normal[1] + s.normal[2]*q.normal[2]
	if cosine < leastCosine {
		return 0, 0
	}
	facing = cosine
	for range 7 { // to the power of 128
		facing *= facing
	}
	far = abs(s.depth-q.depth) / (abs(s.slopeX*dx+s.slopeY*dy) + depthSlack*s.depth)
	for k, a := range s.albedo {
		d := (a - q.albedo[k]) / (albedoSlack * (a + q.albedo[k] + darkAlbedo))
		far += d * d
	}
	return far, facing
}

func abs(x float32) float32 { return math.Float32frombits(math.Float32bits(x) &^ (1 << 31)) }
