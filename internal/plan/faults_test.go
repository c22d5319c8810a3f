package plan

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"gloam/internal/fault"
)

// plain is a sound plan that a case changes in one place.
const plain = `gloam: 1
title: A test
set: {rooms: {shop: {size: 5 x 4 x 3 m, openings: {window: {wall: far, size: 2 x 1 m}}}}}
marks: {stool: 2 2, bench: 3 2}
people: {maker: {at: stool, faces: bench, key: left}}
points: {sill: {at: 2 3.5 1, faces: near side}, near side: {at: 2 1 1, faces: sill}}
lamps: {lamp: {kit: B12-D60, at: 4 1 2, aim: maker, dim: 50 %, colour: 3200 K}}
cloths: {card: {kind: muslin, size: 1 x 1 m, at: 1 1 1, faces: maker}}
ambient: {sky: {reading: 640 lx, point: maker.front, shape: everywhere}}
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8}
`

// change is one replacement in plain; a whole line is replaced by its first word.
type change struct{ old, new string }

func changed(t *testing.T, changes ...change) string {
	t.Helper()
	text := plain
	for _, c := range changes {
		if strings.Count(text, c.old) != 1 {
			t.Fatalf("%q stands %d times in the plan", c.old, strings.Count(text, c.old))
		}
		text = strings.Replace(text, c.old, c.new, 1)
	}
	return text
}

// marked returns the text without its mark ¶, and the mark's line and column; without a mark, the beginning.
func marked(text string) (plain, place string) {
	before, after, _ := strings.Cut(text, "¶")
	if after == "" {
		return text, "1:1"
	}
	line := strings.Count(before, "\n") + 1
	column := utf8.RuneCountInString(before[strings.LastIndexByte(before, '\n')+1:]) + 1
	return before + after, fmt.Sprintf("%d:%d", line, column)
}

func TestPlainIsSound(t *testing.T) { sound(t, plain) }

const (
	lampLine    = "lamps: {lamp: {kit: B12-D60, at: 4 1 2, aim: maker, dim: 50 %, colour: 3200 K}}\n"
	ambientLine = "ambient: {sky: {reading: 640 lx, point: maker.front, shape: everywhere}}\n"
	cameraLine  = "camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8}\n"
	placeForms  = "a place: 2.5 2.0, 2.5 2.0 1.6 m, bench, 3.2 m from bench bearing 215, 1.2 m from bench toward window"
	towardForms = "a thing or a way: bench, maker.front, camera, sun, 2.5 2.0 1.6, 170 deg, SE, 170 deg 30 deg down, up, down"
)

// TestBadInput asserts the exact words: a cinematographer reads them at 05:30.
func TestBadInput(t *testing.T) {
	cases := []struct {
		name    string
		changes []change
		want    string // with @ for the place that a change marks ¶
	}{
		{"no camera", []change{{cameraLine, ""}},
			`@: there is no camera, so no level to be over or under; add camera: with ei, fps, shutter and stop`},
		{"point inside a wall", []change{{"2 1 1, faces: sill", "¶0.001 1 1, faces: E"}},
			`@: points.near side.at: is in the left wall of "shop"; move it 1 cm or more away`},
		{"point in the ceiling", []change{{"2 1 1, faces: sill", "¶1 1 3, faces: down"}},
			`@: points.near side.at: is in the ceiling of "shop"; move it 1 cm or more away`},
		{"point inside a box", []change{{"set: {", "set: {objects: {crate: {kind: box, size: 1 x 1 x 1 m, at: 2 1, turn: 45 deg}}, "}, {"2 1 1, faces: sill", "¶2.6 1 0.5, faces: E"}},
			`@: points.near side.at: is inside the box "crate"`},
		{"lamp aimed at nothing", []change{{"aim: maker", "aim: ¶makr"}},
			`@: lamps.lamp.aim: nothing is called "makr"; did you mean "maker"?`},
		{"lamp without aim", []change{{"aim: maker, ", ""}, {"lamp:", "¶lamp:"}},
			`@: lamps.lamp.aim: is missing; allowed: ` + towardForms + `; point, mark, person, cloth, opening or bearing`},
		{"lamp aimed at itself", []change{{"aim: maker", "aim: ¶lamp"}},
			`@: lamps.lamp.aim: the lamp is aimed at itself`},
		{"lamp aimed at its own place", []change{{"aim: maker", "aim: ¶4 1 2"}},
			`@: lamps.lamp.aim: this is where it stands itself, so there is no direction; read "4.00 1.00 2.00 m"`},
		{"lamp aimed at a sun that is not there", []change{{"aim: maker", "aim: ¶sun"}},
			`@: lamps.lamp.aim: nothing says where the sun stands; add an ambient of shape sun, with altitude and azimuth, or a sky`},
		{"lamp aimed at a camera without a place", []change{{"aim: maker", "aim: ¶camera"}},
			`@: lamps.lamp.aim: the camera has no place; say where it stands: camera.at`},
		{"lamp aimed at an ambient", []change{{"aim: maker", "aim: ¶sky"}},
			`@: lamps.lamp.aim: "sky" is an ambient and has no place`},
		{"a mark's point", []change{{"aim: maker", "aim: ¶stool.front"}},
			`@: lamps.lamp.aim: "stool" is a mark; only a person has points`},
		{"a person's missing point", []change{{"aim: maker", "aim: ¶maker.keyside"}},
			`@: lamps.lamp.aim: a person has no such point; read "maker.keyside"; allowed: front, key side, shadow side, hair; did you mean "key side"?`},
		{"frame of zero size", []change{{"size: 1 x 1 m", "size: ¶0 x 1 m"}},
			`@: cloths.card.size: has a side that is not above 0; read "0 x 1 m"; allowed: width x height such as 1.6 x 1.2 m, 8 x 8 ft, 12'6" x 8'`},
		{"frame as big as a town", []change{{"size: 1 x 1 m", "size: ¶1 x 300 m"}},
			`@: cloths.card.size: is too big; read "300.00 m"; allowed: 1 mm to 100.00 m`},
		{"room as big as a town", []change{{"5 x 4 x 3 m", "¶5 x 2000 x 3 m"}},
			`@: set.rooms.shop.size: is too big; read "2000.00 m"; allowed: 1 mm to 1000.00 m`},
		{"dim of 140 %", []change{{"50 %", "¶140 %"}},
			`@: lamps.lamp.dim: 140 % is above 100 %; read "140 %"; allowed: a fraction such as 60 %, 0.6, 1/2`},
		{"haze of no thickness", []change{{"set: {", "set: {¶haze: {in: shop}, "}},
			`@: set.haze: haze has an extinction or a visibility, one of them; write haze: 0.05 /m`},
		{"haze in no room", []change{{"set: {", "set: {haze: {extinction: 0.05 /m, in: ¶shed}, "}},
			`@: set.haze.in: nothing is called "shed"; did you mean "shop"?`},
		{"haze in another unit", []change{{"set: {", "set: {haze: ¶0.05 m, "}},
			`@: set.haze: is a length, an extinction is wanted; read "0.05 m"; allowed: an extinction such as 0.05 /m, 0.015 /ft`},
		{"0 K", []change{{"3200 K", "¶0 K"}},
			`@: lamps.lamp.colour: 0 K is below 1000 K; read "0 K"; allowed: a colour temperature such as 3200 K, 5600, 179 mired`},
		{"30,000 K", []change{{"3200 K", "¶30000 K"}},
			`@: lamps.lamp.colour: is above 25,000 K, past which no light is known; read "30000 K"; allowed: 1000 K to 25,000 K`},
		{"colour the lamp does not have", []change{{"3200 K", "¶9000 K"}},
			`@: lamps.lamp.colour: the lamp has no such colour; read "9000 K"; allowed: 2700 K to 6500 K`},
		{"zoom the lamp does not have", []change{{"colour: 3200 K", "zoom: ¶20 deg"}},
			`@: lamps.lamp.zoom: the lamp has no zoom; read "20°"`},
		{"zoom past the family's", []change{{"kit: B12-D60", "kit: B12-F, zoom: ¶60 deg"}},
			`@: lamps.lamp.zoom: the beam is outside what the lamp can do; read "60°"; allowed: 12° to 40°`},
		{"zoom not given", []change{{"B12-D60", "B12-F"}, {"lamp:", "¶lamp:"}},
			`@: lamps.lamp.zoom: B12-F needs a zoom; allowed: 12° to 40°`},
		{"quiet and too bright", []change{{"50 %", "¶68 %, mode: quiet"}},
			`@: lamps.lamp.dim: the quiet mode of B12-D60 ends at 60 %; read "68 %"; dim it further, or take mode: normal`},
		{"quiet where there is no such mode", []change{{"B12-D60", "B3-D55, mode: ¶quiet"}},
			`@: lamps.lamp.mode: B3-D55 has no quiet mode`},
		{"NaN as a place", []change{{"at: 4 1 2", "at: ¶NaN"}},
			`@: lamps.lamp.at: is not a place in coordinates; read "NaN"; allowed: ` + placeForms},
		{"NaN as a level", []change{{"640 lx", "¶NaN"}},
			`@: ambient.sky.reading: is not an illuminance; read "NaN"; allowed: an illuminance such as 640 lx, 59 fc, 1.2 klx`},
		{"wrong unit of a length", []change{{"at: 4 1 2", "at: stool, height: ¶5 kg"}},
			`@: lamps.lamp.height: is a mass, a length is wanted; read "5 kg"; allowed: a length such as 3.8 m, 380 cm, 12'6", 8 ft`},
		{"wrong unit of a place", []change{{"at: 4 1 2", "at: ¶5 kg"}},
			`@: lamps.lamp.at: nothing is called "5 kg"; allowed: ` + placeForms},
		{"wrong unit of a distance", []change{{"at: 4 1 2", "at: ¶5 kg from stool bearing 20"}},
			`@: lamps.lamp.at: the distance is a mass, a length is wanted; read "5 kg from stool bearing 20"; allowed: ` + placeForms},
		{"unknown lamp", []change{{"B12-D60", "¶B12-D62"}},
			`@: lamps.lamp.kit: the kit has no lamp of that name; read "B12-D62"; did you mean "B12-D60"?`},
		{"unknown lamp like no other", []change{{"B12-D60", "¶sungun of my own"}},
			`@: lamps.lamp.kit: the kit has no lamp of that name; read "sungun of my own"; it has 10, such as B12-D26`},
		{"no lamp at all", []change{{"kit: B12-D60, ", ""}, {"lamp:", "¶lamp:"}},
			`@: lamps.lamp: does not say what lamp it is; say kit: or photometry:`},
		{"unknown cloth", []change{{"muslin", "¶muslim"}},
			`@: cloths.card.kind: the kit has no cloth of that name; read "muslim"; did you mean "muslin"?`},
		{"unknown gel", []change{{"colour: 3200 K", "gel: ¶CTX"}},
			`@: lamps.lamp.gel: not a gel; read "CTX"; allowed: 1/2 CTO, full CTB, 1/4 minus green, full plus green, ND 0.6, +109 mired, +109 mired 71 %, 1/2 CTO + ND 0.6`},
		{"a roll that is not there", []change{{"colour: 3200 K", "gel: ¶roll.csv"}},
			`@: lamps.lamp.gel: roll.csv: there is no such file beside the plan`},
		{"unknown light of a practical", []change{{lampLine, lampLine + "practicals: {tube: {kind: globe, at: 1 1 2, diameter: 0.1 m, flux: 100 lm, spectrum: ¶FL22}}\n"}},
			`@: practicals.tube.spectrum: FL22: no light is known by that name; allowed: a CIE illuminant such as FL2, FL11, HP1, LED-B3, A; a CSV of nm,value beside the plan; did you mean "FL2"?`},
		{"a tube turned to half a reading", []change{{"shape: everywhere}}", "shape: everywhere, spectrum: FL2, duv: 0.008}}"}, {"sky: {reading", "¶sky: {reading"}},
			`@: ambient.sky: a spectrum stands as it is, or is turned to a reading of both colour and duv`},
		{"a spectrum and its Duv", []change{{"colour: 3200 K", "spectrum: FL2, duv: ¶0.004"}},
			`@: lamps.lamp.duv: a lamp's measured spectrum holds its green and pink already`},
		{"a ripple of no mains", []change{{"shape: everywhere}}", "shape: everywhere, ripple: ¶35 %}}"}},
			`@: ambient.sky.ripple: the light pulses with the mains, and nothing says how fast that is; add supply: {mains: 50 Hz}, or 60 Hz`},
		{"no camera's response", []change{{"stop: T2.8", "stop: T2.8, response: ¶mine.csv"}},
			`@: camera.response: mine.csv: there is no such file beside the plan`},
		{"unknown glass", []change{{"size: 2 x 1 m", "size: 2 x 1 m, glass: ¶duble"}},
			`@: set.rooms.shop.openings.window.glass: unknown word; read "duble"; allowed: none, single, double; did you mean "double"?`},
		{"unknown material", []change{{"size: 5 x 4 x 3 m", "size: 5 x 4 x 3 m, walls: ¶drak wood"}},
			`@: set.rooms.shop.walls: no material is called "drak wood"; read "drak wood"; allowed: a material: dark wood, snow 0.85, 0.35, 35 %, mirror 0.9, one of your own; did you mean "dark wood"?`},
		{"more than all light", []change{{"size: 5 x 4 x 3 m", "size: 5 x 4 x 3 m, walls: ¶1.2"}},
			`@: set.rooms.shop.walls: the reflectance 1.2 is above 1; write 1.2 % if that is meant; read "1.2"`},
		{"unknown opening", []change{{"shape: everywhere", "shape: everywhere, through: [¶widnow]"}},
			`@: ambient.sky.through[0]: nothing is called "widnow"; did you mean "window"?`},
		{"through something else", []change{{"shape: everywhere", "shape: everywhere, through: [¶card]"}},
			`@: ambient.sky.through[0]: "card" is a cloth, not an opening; allowed: window`},
		{"unknown metering point", []change{{"maker.front", "¶silk"}},
			`@: ambient.sky.point: nothing is called "silk"; did you mean "sill"?`},
		{"a person for a metering point", []change{{"maker.front", "¶maker"}},
			`@: ambient.sky.point: "maker" is a person, not a metering point; say which of their points: maker.front`},
		{"a lamp for a metering point", []change{{"maker.front", "¶lamp"}},
			`@: ambient.sky.point: "lamp" is no metering point but a lamp; add a point there, under points`},
		{"two things with one name", []change{{"lamps: {lamp:", "lamps: {card: "}, {"cloths: {card", "cloths: {¶card"}},
			`@: cloths.card: the name "card" is taken: line 7 has a lamp of that name; call one of them something else`},
		{"one name twice in one list", []change{{"stool: 2 2,", "stool: 2 2, ¶stool: 1 1,"}},
			`@: marks.stool: written twice: first in line 4, column 9`},
		{"a name with a dot", []change{{"cloths: {card:", "cloths: {¶c.ard:"}},
			`@: cloths."c.ard": a name cannot hold a dot, which leads to a person's point; call it something else`},
		{"a name that is a direction", []change{{"cloths: {card:", "cloths: {¶NE:"}},
			`@: cloths.NE: the name "NE" reads as a place or a direction; call it something else`},
		{"a name that is kept", []change{{"cloths: {card:", "cloths: {¶camera:"}},
			`@: cloths.camera: the name "camera" is kept for the camera; call it something else`},
		{"places in a circle", []change{{"stool: 2 2, bench: 3 2", "stool: ¶1 m from bench bearing 20, bench: 1 m from stool toward window"}},
			`@: marks.stool: the places go in a circle: stool hangs on bench, bench hangs on stool; give one of them a place of its own`},
		{"a place that hangs on itself", []change{{"bench: 3 2", "bench: ¶1 m from bench bearing 20"}},
			`@: marks.bench: the places go in a circle: bench hangs on bench; give one of them a place of its own`},
		{"a circle through what a person faces", []change{{"at: 4 1 2", "at: 1 m from maker.front bearing 20"}, {"faces: bench, key: left", "faces: lamp, key: left"}, {"maker:", "¶maker:"}},
			`@: people.maker: the places go in a circle: maker hangs on lamp, lamp hangs on maker; give one of them a place of its own`},
		{"a walk of one mark", []change{{"lamps:", "walks: {in: {¶marks: [stool]}}\nlamps:"}},
			`@: walks.in.marks: a walk leads from one mark to another: it needs two or more; read "stool"`},
		{"a walk of no length", []change{{"lamps:", "walks: {in: {¶marks: [stool, 2 2]}}\nlamps:"}},
			`@: walks.in.marks: the walk has no length: its marks are all in one place`},
		{"a walk of a million points", []change{{"lamps:", "walks: {in: {marks: [stool, bench], every: ¶0.1 mm}}\nlamps:"}},
			`@: walks.in.every: the walk is 1.00 m long: that makes too many points; read "0.1 mm"; allowed: 1 cm or more, and up to 1000 points`},
		{"no key side", []change{{", key: left", ""}, {"maker:", "¶maker:"}},
			`@: people.maker: nothing says which is the key side; say key: left or key: right here, or key: true at one lamp`},
		{"two key lamps", []change{{", key: left", ""}, {"lamps: {lamp: {", "lamps: {two: {kit: B3-D55, at: 1 3 2, aim: maker, key: true}, lamp: {key: true, "}, {"maker:", "¶maker:"}},
			`@: people.maker: several lamps are marked key, so the key side is open; read "two, lamp"; say key: left or key: right here`},
		{"a giant", []change{{"key: left", "key: left, height: ¶5 m"}},
			`@: people.maker.height: is too big; read "5.00 m"; allowed: 0.40 m to 2.60 m`},
		{"a face above the crown", []change{{"key: left", "key: left, face: ¶1.8 m"}},
			`@: people.maker.face: the face is above the floor and below the crown; read "1.80 m"; allowed: 0.10 m to 1.72 m`},
		{"a flat point that faces nothing", []change{{"2 3.5 1, faces: near side", "2 3.5 1"}, {"sill:", "¶sill:"}},
			`@: points.sill: does not say what the meter faces; allowed: ` + towardForms},
		{"a spot without the camera's place", []change{{"2 3.5 1, faces: near side", "2 3.5 1, receptor: spot"}, {"sill:", "¶sill:"}},
			`@: points.sill: a spot looks from the camera, which has no place; say where it stands: camera.at`},
		{"an opening larger than its wall", []change{{"size: 2 x 1 m", "size: 6 x 1 m"}, {"window:", "¶window:"}},
			`@: set.rooms.shop.openings.window: does not fit into the far wall; read "from −0.50 m to 5.50 m, 0.90 m to 1.90 m up"; allowed: 5.00 × 3.00 m`},
		{"openings that overlap", []change{{"window: {", "door: {wall: far, size: 1 x 2.1 m, sill: 0}, ¶window: {"}},
			`@: set.rooms.shop.openings.window: overlaps "door" in the same wall`},
		{"an opening in no wall", []change{{"wall: far", "wall: ¶fra"}},
			`@: set.rooms.shop.openings.window.wall: there is no such wall; read "fra"; allowed: left, right, near, far, ceiling, north, north-east, east …; did you mean "far"?`},
		{"an ambient read nowhere", []change{{"point: maker.front, shape: everywhere", "shape: dome"}, {"sky:", "¶sky:"}},
			`@: ambient.sky: does not say where it was read; say point: a metering point, or at: and faces:`},
		{"a sun nowhere", []change{{"everywhere", "sun"}, {"sky:", "¶sky:"}},
			`@: ambient.sky: does not say where the sun stands; say altitude: and azimuth:`},
		{"a sun below the horizon", []change{{"everywhere", "sun, altitude: ¶-3 deg, azimuth: 200"}},
			`@: ambient.sky.altitude: the sun lights nothing from below the horizon; read "−3°"; allowed: above 0° to 90°`},
		{"a target of no point", []change{{"camera:", "targets: [{point: ¶maker.nose, level: 0}]\ncamera:"}},
			`@: targets[0].point: a person has no such point; read "maker.nose"; allowed: front, key side, shadow side, hair`},
		{"a target of nothing", []change{{"camera:", "targets: [¶{point: maker.front}]\ncamera:"}},
			`@: targets[0]: a target is one wish; allowed: point with level, point with mired, walk with swing, or across with swing`},
		{"a target of level and colour", []change{{"camera:", "targets: [¶{point: maker.front, level: 0, mired: 10}]\ncamera:"}},
			`@: targets[0]: a target is one wish; allowed: point with level, point with mired, walk with swing, or across with swing`},
		{"one point that is even", []change{{"camera:", "targets: [{¶across: [maker.front], swing: 1}]\ncamera:"}},
			`@: targets[0].across: one point is always even; allowed: two points or more`},
		{"even over no point", []change{{"camera:", "targets: [{across: [maker.front, ¶maker.nose], swing: 1}]\ncamera:"}},
			`@: targets[0].across[1]: a person has no such point; read "maker.nose"; allowed: front, key side, shadow side, hair`},
		{"a colour at most", []change{{"camera:", "targets: [{point: maker.front, mired: 10, bound: ¶at most}]\ncamera:"}},
			`@: targets[0].bound: only a level may lie above or below; read "at most"`},
		{"a colour within less than nothing", []change{{"camera:", "targets: [{point: maker.front, mired: 10, within: ¶-5}]\ncamera:"}},
			`@: targets[0].within: a tolerance is not below 0; read "−5 mired"`},
		{"a truck with what no kit has", []change{{"camera:", "truck: {B12-D62: ¶1}\ncamera:"}},
			`@: truck.B12-D62: the kit has no lamp of that name; read "B12-D62"; did you mean "B12-D60"?`},
		{"a truck with half a lamp", []change{{"camera:", "truck: {B12-D26: ¶0.5}\ncamera:"}},
			`@: truck.B12-D26: is no number of lamps from 1 to 1000; read "0.5"; allowed: a number: 2`},
		{"an underlay that is no picture", []change{{"set: {", "set: {underlay: {file: ¶floor.pdf}, "}},
			`@: set.underlay.file: is no picture; read "floor.pdf"; allowed: .png, .jpg, .jpeg`},
		{"an underlay of no width", []change{{"set: {", "set: {underlay: {file: floor.png, width: ¶0 m}, "}},
			`@: set.underlay.width: is too small; read "0.00 m"; allowed: 1 mm to 1000.00 m`},
		{"a tone of no material", []change{{"camera:", "tones: {snow: ¶snwo in maker.front}\ncamera:"}},
			`@: tones.snow.material: no material is called "snwo"; read "snwo"; allowed: a material: dark wood, snow 0.85, 0.35, 35 %, mirror 0.9, one of your own; did you mean "snow"?`},
		{"a zone that is none", []change{{"title: A test", "title: A test\nzone: ¶Europe/Lisbn"}},
			`@: zone: there is no such time zone; read "Europe/Lisbn"; allowed: an IANA name such as Europe/Lisbon, or UTC+2, UTC-7, UTC+5:30; did you mean "Europe/Lisbon"?`},
		{"a date that is none", []change{{"title: A test", "title: A test\ndate: ¶2027-02-30"}},
			`@: date: is not a day of the calendar; read "2027-02-30"; allowed: a date such as 2027-03-31`},
		{"a time the clocks leap over", []change{{"title: A test", "title: A test\ndate: 2027-03-28\ntime: ¶02:30\nzone: Europe/Berlin"}},
			`@: time: there is no such time on 2027-03-28 in Europe/Berlin: the clocks are put forward over it; read "02:30"`},
		{"a newer plan", []change{{"gloam: 1", "gloam: ¶7"}},
			`@: gloam: the plan is of a newer version than this program reads; read "7"; allowed: up to 1`},
		{"a mesh file that is not there", []change{{"set: {", "set: {objects: {grille: {kind: mesh, at: 1 1, file: ¶grille.obj}}, "}},
			`@: set.objects.grille.file: grille.obj: there is no such file beside the plan`},
		{"a photometric file that is not there", []change{{"kit: B12-D60", "photometry: ¶lamp.ies"}},
			`@: lamps.lamp.photometry: lamp.ies: there is no such file beside the plan`},
		{"a kit file that is not there", []change{{"title: A test", "title: A test\nkit: ¶mine.yaml"}},
			`@: kit[0]: there is no such file beside the plan; read "mine.yaml"`},
		{"a set-up that uses what is not there", []change{{"camera:", "setups: {night: {uses: [¶lam]}}\ncamera:"}},
			`@: setups.night.uses[0]: there is no lamp, cloth, practical, person, ambient or object called "lam"; did you mean "lamp"?`},
		{"a set-up that uses a mark", []change{{"camera:", "setups: {night: {uses: [lamp, maker, ¶stool]}}\ncamera:"}},
			`@: setups.night.uses[2]: "stool" is a mark, which is always there`},
		{"a set-up that leaves out what is aimed at", []change{{"aim: maker", "aim: ¶card"}, {"camera:", "setups: {night: {uses: [lamp]}}\ncamera:"}},
			`@: lamps.lamp.aim: set-up "night" does not use "card"; add it to uses`},
		{"a set-up with a kit of its own", []change{{"camera:", "setups: {night: {¶kit: mine.yaml}}\ncamera:"}},
			`@: setups.night.kit: belongs to the whole plan and not to a set-up`},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			text, place := marked(changed(t, c.changes...))
			want := "plan.yaml:" + place + strings.TrimPrefix(c.want, "@")
			p, faults := readText(text)
			if got := lines(faults); !slices.Equal(got, []string{want}) || p != nil {
				t.Errorf("got\n\t%s\nwant\n\t%s", strings.Join(got, "\n\t"), want)
			}
			if fault.Code(faults) != 1 {
				t.Errorf("exit code %d, want 1", fault.Code(faults))
			}
		})
	}
}

// TestBadFiles gives files that would fill the memory or the screen: one fault each, at the line that names them.
func TestBadFiles(t *testing.T) {
	var million strings.Builder
	million.WriteString("v 1 1 1\n")
	for range 1_000_000 {
		million.WriteString("f 1 1 1\n")
	}
	var broken strings.Builder
	broken.WriteString("v 1 1 1\n")
	for range 1000 {
		broken.WriteString("f 1 2 3\n")
	}
	mesh := change{"set: {", "set: {objects: {grille: {kind: mesh, at: 1 1, file: ¶f}}, "}
	lamp := change{"kit: B12-D60", "photometry: ¶f"}
	cases := []struct {
		name, text string
		change     change
		want       string
	}{
		{"a million triangles without area", million.String(), mesh,
			`plan.yaml:@: set.objects.grille.file: f: all 1000000 triangles have no area; allowed: faces (f) of three or more corners that are not in one line`},
		{"a mesh of faults", broken.String(), mesh,
			`plan.yaml:@: set.objects.grille.file: f:2: a corner names a vertex that is not there, and 20 more faults; read "2"; allowed: 1 to 1, or −1 to −1`},
		{"1e18 angles", "IESNA:LM-63-2002\nTILT=NONE\n1 1000 1 1000000000000000000 1 1 2 0 0 0\n1 1 100\n", lamp,
			`plan.yaml:@: lamps.lamp.photometry: f:3:10: the file declares too many intensities; read "1e+18 × 1"; allowed: up to 1048576`},
		{"no photometric file", "hello", lamp,
			`plan.yaml:@: lamps.lamp.photometry: f: neither an LM-63 nor a EULUMDAT file; an LM-63 file has a line TILT=; in a EULUMDAT file lines 2 to 7 are numbers`},
		{"a kit with a fault", "kit: 1\nlamps: {mine: {lik: B12-D60}}\n", change{"title: A test", "title: A test\nkit: f"},
			`f:2:16: lamps.mine: no such field "lik"; did you mean "like"?`},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			begin := time.Now()
			text, place := marked(changed(t, c.change))
			_, faults := Read("plan.yaml", []byte(text), shelf(map[string]string{"f": c.text}))
			if got, want := lines(faults), strings.Replace(c.want, "@", place, 1); !slices.Equal(got, []string{want}) {
				t.Errorf("got\n\t%s\nwant\n\t%s", strings.Join(got, "\n\t"), want)
			}
			if took := time.Since(begin); took > 20*time.Second {
				t.Errorf("took %v", took)
			}
		})
	}
}

// TestYAMLBombs gives short texts that would unfold to fill the memory.
func TestYAMLBombs(t *testing.T) {
	laughs := "a: &a [x, x, x, x, x, x, x, x, x]\n"
	for c := 'b'; c <= 'i'; c++ {
		p := string(c - 1)
		laughs += string(c) + ": &" + string(c) + " [" + strings.TrimSuffix(strings.Repeat("*"+p+", ", 9), ", ") + "]\n"
	}
	cases := []struct{ name, text, want string }{
		{"a billion laughs", laughs, "plan.yaml:6:7: more than 200000 values when the aliases are unfolded"},
		{"an alias in its own anchor", "a: &a [*a]\n", "plan.yaml:1:8: the alias stands inside its own anchor, without end; read \"*a\""},
		{"a deep well", strings.Repeat("[", 100_000), "plan.yaml:1:65: more than 64 levels of fields inside fields"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, faults := readText(c.text)
			if len(faults) == 0 || faults[0].Error() != c.want {
				t.Errorf("got %v, want %s", faults, c.want)
			}
		})
	}
}

// TestAllFaultsAtOnce reads a plan with some seventy faults: each is told once, in the order of the file. The text is a guard:
// it was read when it was written.
func TestAllFaultsAtOnce(t *testing.T) {
	path := filepath.Join("testdata", "faults.yaml")
	_, faults := Read("faults.yaml", []byte(mustRead(t, path)), Beside(path))
	golden := filepath.Join("testdata", "faults.txt")
	got := faults.Error() + "\n"
	if *update {
		if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if want := mustRead(t, golden); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	for i := 1; i < len(faults); i++ {
		if a, b := faults[i-1].Place, faults[i].Place; a.Line > b.Line || a.Line == b.Line && a.Column > b.Column {
			t.Errorf("%v is told before %v", a, b)
		}
	}
}
