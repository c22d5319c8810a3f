package server

import "gloam/internal/document"

func (d *drawer) block() {
	doc := &d.view.Document
	add := func(name string, path document.Path, value string) {
		d.out.Block = append(d.out.Block, d.field(name, path, value))
	}
	for _, f := range [][2]string{{"Scene", "title"}, {"Place", "place"}, {"Day", "date"}, {"Hour", "time"}, {"Zone", "zone"}, {"Sky", "sky"}} {
		add(f[0], document.Path(f[1]), d.text(document.Path(f[1])))
	}
	if c := doc.Camera; c != nil {
		add("EI", "camera.ei", c.EI.String())
		add("Frames", "camera.fps", c.FPS.String())
		add("Shutter", "camera.shutter", c.Shutter.String())
		add("Stop", "camera.stop", c.Stop.String())
		add("ND", "camera.nd", c.ND.String())
		add("Balance", "camera.balance", c.Balance.String())
	}
}
