// Command gen bundles the page's sources into dist. It is a module of its own, so that nobody needs its dependency but who
// changes the page: npm ci in web, then go generate ./web.
package main

import (
	"fmt"
	"os"

	"github.com/evanw/esbuild/pkg/api"
)

func main() {
	result := api.Build(api.BuildOptions{
		EntryPoints: []string{"../src/page.tsx", "../src/page.css"},
		Outdir:      "../dist",
		Bundle:      true, Write: true,
		MinifyWhitespace: true, MinifyIdentifiers: true, MinifySyntax: true,
		Target: api.ES2022, Format: api.FormatESModule,
		JSX: api.JSXAutomatic, JSXImportSource: "preact",
		LegalComments: api.LegalCommentsNone,
		LogLevel:      api.LogLevelInfo,
	})
	if len(result.Errors) > 0 {
		os.Exit(1)
	}
	index, err := os.ReadFile("../src/index.html")
	if err == nil {
		err = os.WriteFile("../dist/index.html", index, 0o644)
	}
	if err == nil {
		err = writeSums()
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "gen:", err)
		os.Exit(1)
	}
}
