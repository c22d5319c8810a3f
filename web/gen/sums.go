package main

import (
	"crypto/sha256"
	"fmt"
	"io/fs"
	"os"
	"strings"
)

// writeSums writes a line for each file that the bundle is made of and each it is made to, by which a test sees that
// they belong together.
func writeSums() error {
	var b strings.Builder
	root := os.DirFS("..")
	for _, from := range []string{"gen", "src", "package-lock.json", "dist"} {
		err := fs.WalkDir(root, from, func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || name == "dist/sums.txt" {
				return err
			}
			text, err := fs.ReadFile(root, name)
			fmt.Fprintf(&b, "%x  %s\n", sha256.Sum256(text), name)
			return err
		})
		if err != nil {
			return err
		}
	}
	return os.WriteFile("../dist/sums.txt", []byte(b.String()), 0o644)
}
