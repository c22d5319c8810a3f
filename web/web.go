// Package web holds the page, built: its sources are in src, and gen bundles them into dist.
package web

import (
	"embed"
	"io/fs"
)

//go:generate sh -c "cd gen && go run ."

//go:embed dist
var dist embed.FS

// Page returns the built page: index.html and what it asks for.
func Page() fs.FS {
	page, err := fs.Sub(dist, "dist")
	if err != nil {
		panic("web: the page is not embedded")
	}
	return page
}
