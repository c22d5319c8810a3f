//go:build !race

package cli

import (
	"os"
	"syscall"
)

// peakMemory is the most memory a process held at once, in bytes.
func peakMemory(p *os.ProcessState) int64 {
	return p.SysUsage().(*syscall.Rusage).Maxrss << 10 // Linux counts in KiB
}
