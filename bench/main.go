// Command bench runs the benchmarks of rays, layers and pictures one after another and prints what they print, which is
// Markdown: one run on one machine, to stand beside docs/performance.md.
//
//	go run ./bench
package main

import (
	"fmt"
	"os"
	"os/exec"
)

func main() {
	for _, name := range []string{"ray", "engine", "picture"} {
		fmt.Printf("## %s\n\n", name)
		run := exec.Command("go", "run", "./bench/"+name)
		run.Stdout, run.Stderr = os.Stdout, os.Stderr
		if err := run.Run(); err != nil {
			fmt.Fprintf(os.Stderr, "bench/%s: %v\n", name, err)
			os.Exit(1)
		}
		fmt.Println()
	}
}
