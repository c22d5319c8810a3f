// Command picture measures pictures: the study room as a camera sees it, traced and with the grain taken off, against a
// long reference. It prints Markdown; docs/performance.md holds one run.
//
//	go run ./bench/picture
//	go run ./bench/picture -width 960 -most 4 -reference 32
package main

import (
	"context"
	"flag"
	"fmt"
	"math"
	"runtime"

	"gloam/bench/study"
	"gloam/internal/geometry"
	"gloam/internal/picture"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
	"gloam/internal/transport"
)

func main() {
	width := flag.Int("width", 480, "pixels across; the height is 9/16 of it")
	most := flag.Int("most", 16, "most paths a pixel")
	reference := flag.Int("reference", 64, "paths a pixel in each half of the reference")
	flag.Parse()
	s := study.Room()
	unit := study.PlainRays(s)
	fmt.Printf("%s, %d cores, %s; 10^6 rays with the plain kernel: %.3f CPU s\n\n", runtime.Version(), runtime.NumCPU(), study.Processor(), unit)

	w := weights(s)
	a, spent := trace(s, *width, *reference, 101)
	b, _ := trace(s, *width, *reference, 202)
	halves := [2][]float64{luminances(a, w), luminances(b, w)}
	truth := make([]float64, len(halves[0]))
	for i := range truth {
		truth[i] = (halves[0][i] + halves[1][i]) / 2
	}
	floor := mean(truth) / 256
	noise := apart(halves[0], halves[1], floor) / 2 // of the mean of the two
	fmt.Printf("%d × %d, %d layers; two references of %d paths a pixel, %.0f CPU s each; %.3f stop rms is their mean's own noise, taken off below\n\n",
		a.Width, a.Height, len(a.Layers), *reference, spent, noise)
	inside := inner(truth, a.Width)
	still := apart(picked(halves[0], inside), picked(halves[1], inside), floor) / 2
	fmt.Printf("%.1f %% of the pixels are outlines: there a neighbour is more than %d times as bright\n\n", 100-100*float64(len(inside))/float64(len(truth)), steep)
	fmt.Println("| paths a pixel | CPU s tracing | denoising | together, in 10^6 rays | stop rms raw | denoised | without outlines | mean, stop |\n|---|---|---|---|---|---|---|---|")
	for n := 1; n <= *most; n *= 2 {
		raw, tracing := trace(s, *width, n, 1)
		clean, denoising := denoise(raw)
		before, after := luminances(raw, w), luminances(clean, w)
		fmt.Printf("| %d | %.2f | %.2f | %.1f | %.3f | %.3f | %.3f | %+.4f |\n", n, tracing, denoising, (tracing+denoising)/unit,
			less(apart(before, truth, floor), noise), less(apart(after, truth, floor), noise),
			less(apart(picked(after, inside), picked(truth, inside), floor), still), math.Log2(mean(after)/mean(before)))
	}
}

// view looks from a corner of the room across muslin, lamps and shade to the window and what stands outside.
func view() *scene.View {
	at := geometry.Vector{X: 1.6, Y: 0.3, Z: 1.6}
	way := geometry.Vector{X: 3.9, Y: 4.6, Z: 1.35}.Sub(at).Unit()
	right := way.Cross(geometry.Up).Unit()
	return &scene.View{At: at, Basis: geometry.Basis{X: right, Y: way.Cross(right), Z: way}, Focal: 0.018, Width: 0.0249, Height: 0.0249 * 9 / 16}
}

// trace returns the picture as traced, and the processor time.
func trace(s *scene.Scene, width, samples int, seed uint32) (*transport.Image, float64) {
	start := study.CPU()
	img, err := transport.TraceImage(context.Background(), s, transport.ImageRequest{Seed: seed, View: view(), Width: width, Height: width * 9 / 16, Samples: samples})
	if err != nil {
		panic(err)
	}
	return img, study.CPU() - start
}

func denoise(raw *transport.Image) (*transport.Image, float64) {
	start := study.CPU()
	clean, err := picture.Denoise(context.Background(), raw)
	if err != nil {
		panic(err)
	}
	return clean, study.CPU() - start
}

// weights dims the sources to what a set-up would have.
func weights(s *scene.Scene) picture.Weights {
	w := make([]spectrum.Band, s.Columns())
	for e := range s.Emitters {
		for _, c := range s.ColumnsOf(e) {
			for b := range w[c] {
				w[c][b] = study.Levels[s.Emitters[e].Source] / spectrum.Bands
			}
		}
	}
	return picture.Weights{X: w, Y: w, Z: w}
}

// luminances returns the total luminance of each pixel, cd/m².
func luminances(img *transport.Image, w picture.Weights) []float64 {
	c := picture.Compose(img, w)
	out := make([]float64, len(c.Pixels))
	for i := range out {
		out[i] = c.Pixels[i].Y
	}
	return out
}

// apart returns the root mean square of the stops between two pictures; far below the floor all is as good as black.
func apart(a, b []float64, floor float64) float64 {
	sum := 0.0
	for i := range a {
		d := math.Log2((a[i] + floor) / (b[i] + floor))
		sum += d * d
	}
	return math.Sqrt(sum / float64(len(a)))
}

// steep is how many times a neighbour's luminance makes an outline.
const steep = 8

// inner returns the pixels that are no outlines and not on the border.
func inner(truth []float64, width int) (inside []int) {
	for i := width + 1; i < len(truth)-width-1; i++ {
		if x := i % width; x == 0 || x == width-1 {
			continue
		}
		low, high := truth[i], truth[i]
		for _, q := range [...]int{i - width - 1, i - width, i - width + 1, i - 1, i + 1, i + width - 1, i + width, i + width + 1} {
			low, high = min(low, truth[q]), max(high, truth[q])
		}
		if high <= steep*low {
			inside = append(inside, i)
		}
	}
	return inside
}

func picked(values []float64, places []int) []float64 {
	out := make([]float64, len(places))
	for k, i := range places {
		out[k] = values[i]
	}
	return out
}

// less takes independent noise off a root mean square.
func less(rms, noise float64) float64 { return math.Sqrt(math.Max(0, rms*rms-noise*noise)) }

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}
