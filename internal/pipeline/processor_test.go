//go:build !unix

package pipeline

// processorSeconds is not known here.
func processorSeconds() float64 { return 0 }
