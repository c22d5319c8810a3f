package study

import (
	"os"
	"runtime"
	"strings"
	"syscall"
)

// CPU returns the processor time used so far, in seconds.
func CPU() float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err)
	}
	return float64(u.Utime.Sec+u.Stime.Sec) + 1e-6*float64(u.Utime.Usec+u.Stime.Usec)
}

// Processor is the machine's name for itself, where it has one.
func Processor() string {
	text, err := os.ReadFile("/proc/cpuinfo")
	if err != nil {
		return runtime.GOARCH
	}
	if _, after, ok := strings.Cut(string(text), "model name\t: "); ok {
		name, _, _ := strings.Cut(after, "\n")
		return name
	}
	return "unknown processor"
}
