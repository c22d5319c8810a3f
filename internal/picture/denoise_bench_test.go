package picture

import "testing"

// BenchmarkDenoise takes the grain off five layers of 480x270 pixels.
func BenchmarkDenoise(b *testing.B) {
	img := noisy(synthetic(480, 270), 4, 1)
	for b.Loop() {
		if _, err := Denoise(b.Context(), img); err != nil {
			b.Fatal(err)
		}
	}
}
