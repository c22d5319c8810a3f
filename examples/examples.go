// Package examples holds the example plans, so that the program can show them wherever it runs.
package examples

import "embed"

// Plans is the examples, each NAME/plan.yaml.
//
//go:embed */plan.yaml
var Plans embed.FS
