//go:build !linux || race

package cli

import "os"

// peakMemory is not known here: the race detector takes memory of its own.
func peakMemory(*os.ProcessState) int64 { return 0 }
