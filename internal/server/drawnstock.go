package server

import (
	"slices"

	"gloam/internal/document"
	"gloam/internal/plan"
)

// Stock is what new things are made of and called.
type Stock struct {
	Lamps  []string      `json:"lamps" doc:"items of the kit"`
	Cloths []string      `json:"cloths"`
	Taken  []string      `json:"taken" doc:"names that a new thing can't have"`
	Base   document.Path `json:"base" doc:"the set-up that new things are written in; empty: the plan itself"`
	Camera bool          `json:"camera" doc:"the plan says what sets the key"`
}

// sections are where things with names are declared.
var sections = []document.Path{"set.rooms", "set.objects", "marks", "walks", "people", "points", "lamps", "practicals", "cloths", "ambient"}

func (d *drawer) stock() Stock {
	s := Stock{Lamps: d.view.Kit.LampNames(), Cloths: d.view.Kit.ClothNames(), Taken: []string{plan.CameraName, plan.SunName}, Base: d.view.Path,
		Camera: d.view.Document.Camera != nil}
	within := []document.Path{""}
	for _, setup := range d.source.Names("setups") {
		within = append(within, document.Path("setups").Join(setup)+".")
	}
	for _, w := range within {
		for _, section := range sections {
			s.Taken = append(s.Taken, d.source.Names(w+section)...)
		}
		for _, room := range d.source.Names(w + "set.rooms") {
			s.Taken = append(s.Taken, d.source.Names((w + "set.rooms").Join(room).Join("openings"))...)
		}
	}
	slices.Sort(s.Taken)
	s.Taken = slices.Compact(s.Taken)
	return s
}
