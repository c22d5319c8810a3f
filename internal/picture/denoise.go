package picture

import "gloam/internal/spectrum"

func direct(albedo *[spectrum.Bands]float32) bool {
	for _, v := range albedo {
		if v != 1 {
			return false
		}
	}
	return true
}
