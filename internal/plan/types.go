// Package plan holds the document a cinematographer writes: what is meant, never what follows from it.
//
// Things are declared once, by name; a set-up is a fragment of the same document laid over it. Names are unique among
// all things light can be aimed at or measured from (marks, people, points, lamps, cloths, practicals, openings,
// objects, walks, ambient). Coordinates are metres, x and y from the room's inner corner, z up; `north` is the azimuth
// of +y. The package reads, checks, edits and saves; it knows no physics.
package plan

import (
	"gloam/internal/daylight"
	"gloam/internal/document"
	"gloam/internal/unit"
)

// Version is the plan version this program writes and reads without migration.
const Version = 1

// Document is one plan as written.
type Document struct {
	Version int            `yaml:"gloam" required:"true" min:"1" doc:"version of the plan format"`
	Title   string         `yaml:"title" required:"true" doc:"what the scene is called"`
	Note    string         `yaml:"note" doc:"free text for the crew"`
	Place   *unit.Position `yaml:"place" doc:"latitude and longitude"`
	Date    *unit.Date     `yaml:"date" doc:"shooting day"`
	Time    *unit.Clock    `yaml:"time" doc:"local clock of the set-up"`
	Zone    string         `yaml:"zone" doc:"time zone: an IANA name or UTC+2"`
	Sky     *daylight.Kind `yaml:"sky" doc:"state of the sky: sun and sky are the model's for place, date and time"`
	Skyline *Skyline       `yaml:"skyline" doc:"what stands before sun and sky all round, with a model sky"`
	Rig     *unit.Minute   `yaml:"rig" default:"45 min" doc:"how long rigging takes"`
	Shoot   *unit.Minute   `yaml:"shoot" default:"15 min" doc:"how long the set-up takes to shoot once it is rigged"`
	Kit     []string       `yaml:"kit" doc:"own kit files beside the plan"`

	Set       Set                      `yaml:"set" doc:"what is there before the crew comes"`
	Materials document.Named[Material] `yaml:"materials" doc:"own surfaces"`
	Marks     document.Named[Mark]     `yaml:"marks" doc:"named places on the floor"`
	Walks     document.Named[Walk]     `yaml:"walks" doc:"lines of marks someone moves along"`
	People    document.Named[Person]   `yaml:"people" doc:"who is lit; each brings front, key side, shadow side and hair"`
	Points    document.Named[Point]    `yaml:"points" doc:"further metering points"`

	Lamps      document.Named[Lamp]      `yaml:"lamps" doc:"heads with their attachment"`
	Practicals document.Named[Practical] `yaml:"practicals" doc:"lights that are part of the set"`
	Cloths     document.Named[Cloth]     `yaml:"cloths" doc:"bounce, diffusion and black on frames"`
	Ambient    document.Named[Ambient]   `yaml:"ambient" doc:"light that was there and was metered"`

	Supply  Supply                `yaml:"supply" doc:"the mains"`
	Truck   document.Named[Stock] `yaml:"truck" doc:"kit items there are to choose from, and how many of each"`
	Limits  Limits                `yaml:"limits" doc:"the most that a proposal may take"`
	Camera  *Camera               `yaml:"camera" doc:"what sets the key, and where it looks from"`
	Targets []Target              `yaml:"targets" doc:"the look in stops"`
	Tones   document.Named[Tone]  `yaml:"tones" doc:"where surfaces fall in the light at a point"`
	Setups  document.Named[Setup] `yaml:"setups" doc:"fragments laid over the plan, one for each set-up"`
}

// Set is the place itself: rooms, ground, what stands in it.
type Set struct {
	North    unit.Bearing           `yaml:"north" default:"0" doc:"azimuth of +y, from true north"`
	Rooms    document.Named[Room]   `yaml:"rooms" doc:"rooms by inner size"`
	Ground   *Ground                `yaml:"ground" doc:"what lies outside"`
	Objects  document.Named[Object] `yaml:"objects" doc:"boxes, tables, slopes, mirrors, meshes"`
	Haze     *Haze                  `yaml:"haze" doc:"what hangs in the air"`
	Underlay *Underlay              `yaml:"underlay" doc:"a photograph or a plan to draw over"`
}

// Underlay is a photograph or a plan that a set is drawn over. No light comes of it.
type Underlay struct {
	File  string         `yaml:"file" required:"true" doc:"a PNG or JPEG beside the plan"`
	At    unit.Point2    `yaml:"at" doc:"its lower left corner; 0 0 if not given"`
	Width *unit.Metre    `yaml:"width" default:"5 m" doc:"how wide what it shows is"`
	Turn  unit.Degree    `yaml:"turn" doc:"turned clockwise about that corner"`
	Fade  *unit.Fraction `yaml:"fade" default:"50 %" doc:"how far it is faded"`
}

// Skyline is what stands before sun and sky all round, far off and straight between its points.
type Skyline struct {
	Points      []SkylinePoint `yaml:"points" required:"true" doc:"bearing and height above level, clockwise: 140 deg 12 deg"`
	Bearings    string         `yaml:"bearings" words:"true|magnetic" default:"true" doc:"from true north, or as a compass shows them"`
	Declination *unit.Degree   `yaml:"declination" doc:"how far east of true north a compass points; with magnetic bearings"`
	Material    string         `yaml:"material" default:"0.1" doc:"its surface"`
}

// Haze hangs evenly in the air. A scalar is its extinction.
type Haze struct {
	Extinction *unit.Extinction `yaml:"extinction" doc:"share of light lost on a short way, per metre"`
	Visibility *unit.Metre      `yaml:"visibility" doc:"instead: how far off a black thing is just made out"`
	In         string           `yaml:"in" doc:"the room it fills; everywhere if not given"`
	Forward    float64          `yaml:"forward" default:"0.7" min:"-0.95" max:"0.95" doc:"mean cosine of the angle by which it turns light"`
	Scattered  unit.Fraction    `yaml:"scattered" default:"100 %" doc:"share of the lost light that is turned and not swallowed"`
	Doubt      unit.Fraction    `yaml:"doubt" default:"50 %" doc:"how far the extinction may be off, either way"`
}

// Room is a box seen from inside. A scalar is its size.
type Room struct {
	Size     unit.Size3              `yaml:"size" required:"true" doc:"inner width (x), depth (y), height"`
	Corner   *Where                  `yaml:"corner" default:"0 0 0" doc:"inner corner at the least x, y and z"`
	Walls    string                  `yaml:"walls" default:"0.5" doc:"material of the walls"`
	Floor    string                  `yaml:"floor" default:"0.2" doc:"material of the floor"`
	Ceiling  string                  `yaml:"ceiling" default:"0.7" doc:"material of the ceiling"`
	Vault    unit.Metre              `yaml:"vault" doc:"rise of a barrel vault above the wall height, along y"`
	Openings document.Named[Opening] `yaml:"openings" doc:"windows, doors, roof lights"`
}

// Opening is a hole in a wall or ceiling, with or without glass.
type Opening struct {
	Wall  string      `yaml:"wall" required:"true" doc:"north, east … by compass; left, right, near, far by plan; ceiling"`
	Size  unit.Size2  `yaml:"size" required:"true" doc:"width and height"`
	At    *unit.Metre `yaml:"at" doc:"left edge from the wall's left corner seen from inside; centred if not given"`
	Sill  *unit.Metre `yaml:"sill" doc:"height above the floor, 0.9 m if not given; for the ceiling: near edge from the near wall, centred if not given"`
	Glass string      `yaml:"glass" words:"none|single|double" default:"single" doc:"clear panes"`
	Gel   string      `yaml:"gel" doc:"gel on the panes: ND 0.9, 1/2 CTO, 1/2 CTO + ND 0.6, or a measured roll, a CSV of nm,share beside the plan"`
}

// Ground is the plane outside. A scalar is its material.
type Ground struct {
	Material string     `yaml:"material" required:"true" doc:"snow, grass, asphalt, 0.3"`
	Level    unit.Metre `yaml:"level" default:"0" doc:"height of the plane"`
}

// Object is a thing that stands on the set.
type Object struct {
	Kind     string      `yaml:"kind" required:"true" words:"box|table|slope|mirror|mesh" doc:"its form"`
	Size     Extent      `yaml:"size" doc:"width, depth, height; a slope or mirror has two"`
	At       Where       `yaml:"at" required:"true" doc:"middle of its foot; a mirror: its centre"`
	Turn     unit.Degree `yaml:"turn" doc:"turned clockwise seen from above"`
	Rise     unit.Degree `yaml:"rise" doc:"a slope's angle above level"`
	Faces    *Toward     `yaml:"faces" doc:"a mirror's facing, a slope's downhill bearing"`
	Material string      `yaml:"material" default:"0.5" doc:"its surface"`
	File     string      `yaml:"file" doc:"a mesh's OBJ file beside the plan"`
	Scale    float64     `yaml:"scale" default:"1" min:"0.000001" max:"1000000" doc:"metres for one unit of the mesh"`
}

// Material is a surface of one's own: like a trade word, of a stated reflectance, or from a pair of readings. A scalar
// is the first two: 0.35, dark wood, snow 0.8.
type Material struct {
	Like        string         `yaml:"like" doc:"trade word whose colour it has"`
	Reflectance *unit.Fraction `yaml:"reflectance" doc:"luminous reflectance"`
	Luminance   *unit.Nit      `yaml:"luminance" doc:"spot reading of it, with level"`
	Level       *unit.Lux      `yaml:"level" doc:"incident reading on it, with luminance"`
}

// Mark is a place on the floor. A scalar is the place.
type Mark struct {
	At Where `yaml:"at" required:"true" doc:"x y, and z where the floor is not at 0"`
}

// Walk is a line of marks. The receptor rides at face height; the walker's own body is left out.
type Walk struct {
	Marks    []Where     `yaml:"marks" required:"true" doc:"two places or more"`
	Height   *unit.Metre `yaml:"height" default:"1.6 m" doc:"of the receptor above the floor"`
	Faces    *Toward     `yaml:"faces" doc:"what the receptor faces; the way of travel if not given"`
	Every    *unit.Metre `yaml:"every" default:"1 m" doc:"spacing of the points"`
	Receptor string      `yaml:"receptor" words:"flat|dome" default:"flat" doc:"the meter's receptor"`
	Who      string      `yaml:"who" doc:"the person who walks: left out of the set"`
}

// Person stands on a mark and brings four points.
type Person struct {
	At     Where       `yaml:"at" required:"true" doc:"mark or place they stand on"`
	Faces  Toward      `yaml:"faces" required:"true" doc:"where they look"`
	Key    string      `yaml:"key" words:"left|right" doc:"key side, by the person's own left and right"`
	Height *unit.Metre `yaml:"height" default:"1.72 m" doc:"standing height"`
	Face   *unit.Metre `yaml:"face" doc:"height of the face above the floor, if seated, kneeling or known"`
	Skin   string      `yaml:"skin" default:"medium skin" doc:"material of the skin"`
	Wears  string      `yaml:"wears" default:"0.1" doc:"material of the clothes"`
}

// Point is a metering point of one's own.
type Point struct {
	At       Where      `yaml:"at" required:"true" doc:"place, mark or thing; for a spot: what it is aimed at"`
	Height   unit.Metre `yaml:"height" doc:"above a named place or the floor"`
	Faces    *Toward    `yaml:"faces" doc:"bearing, mark, person, lamp, up, down; not for a spot"`
	Receptor string     `yaml:"receptor" words:"flat|dome|spot" default:"flat" doc:"the meter's receptor; a spot looks from the camera"`
}

// Lamp is a head with its attachment.
type Lamp struct {
	Kit        string         `yaml:"kit" doc:"kit item"`
	Photometry string         `yaml:"photometry" doc:"LM-63 or EULUMDAT file beside the plan that stands in for the kit's beam"`
	At         Where          `yaml:"at" required:"true" doc:"where it stands"`
	Height     unit.Metre     `yaml:"height" doc:"of the head above a named place or the floor"`
	Aim        Toward         `yaml:"aim" required:"true" doc:"point, mark, person, cloth, opening or bearing"`
	Roll       unit.Degree    `yaml:"roll" doc:"turned about its axis, clockwise from behind"`
	Dim        *unit.Fraction `yaml:"dim" default:"100 %" doc:"level of the control"`
	Colour     *unit.Kelvin   `yaml:"colour" doc:"colour temperature set; the kit's own if not given, 5600 K without a kit item"`
	Duv        *float64       `yaml:"duv" min:"-0.02" max:"0.02" doc:"distance from the Planckian locus as set or as read, above 0 green; the kit's own if not given"`
	Spectrum   string         `yaml:"spectrum" doc:"its light as measured: a CIE illuminant, or a CSV of nm,value beside the plan; colour then sets the output alone"`
	Ripple     unit.Fraction  `yaml:"ripple" doc:"share by which the light swings twice a cycle of the mains, (most − least) / (most + least); about 35 % of a tube on a magnetic ballast, common practice"`
	Zoom       *unit.Degree   `yaml:"zoom" doc:"beam angle of a spot-to-flood head"`
	Mode       string         `yaml:"mode" words:"normal|quiet" default:"normal" doc:"fan mode"`
	Gel        string         `yaml:"gel" doc:"gel on the head: 1/2 CTO, 1/4 minus green, 1/2 CTO + ND 0.3, or a measured roll, a CSV of nm,share beside the plan"`
	Key        bool           `yaml:"key" doc:"this lamp makes the key side"`
}

// Practical is a light that is part of the set.
type Practical struct {
	Kind      string         `yaml:"kind" required:"true" words:"globe|shade|tube|panel|candle" doc:"its form"`
	At        Where          `yaml:"at" required:"true" doc:"its centre"`
	Height    unit.Metre     `yaml:"height" doc:"above a named place or the floor"`
	Diameter  *unit.Metre    `yaml:"diameter" doc:"of a globe, tube or shade; 15 mm of a candle if not given"`
	Length    *unit.Metre    `yaml:"length" doc:"of a tube or a shade"`
	Size      *unit.Size2    `yaml:"size" doc:"of a panel"`
	Faces     *Toward        `yaml:"faces" doc:"a panel's facing, a tube's axis"`
	Flux      *unit.Lumen    `yaml:"flux" doc:"of the bare source; 13 lm of a candle if not given"`
	Luminance *unit.Nit      `yaml:"luminance" doc:"spot reading of it at full, instead of flux"`
	Colour    *unit.Kelvin   `yaml:"colour" doc:"colour temperature; 2700 K if not given, 1900 K of a candle, none beside a spectrum"`
	Duv       *float64       `yaml:"duv" min:"-0.02" max:"0.02" doc:"distance from the Planckian locus, above 0 green; 0 if not given"`
	Spectrum  string         `yaml:"spectrum" doc:"kind of its light: a CIE illuminant such as FL2, or a CSV of nm,value beside the plan; turned to colour and duv where these are given"`
	Gel       string         `yaml:"gel" doc:"gel or sleeve over it: 1/4 minus green, or a measured roll, a CSV of nm,share beside the plan"`
	Ripple    unit.Fraction  `yaml:"ripple" doc:"share by which the light swings twice a cycle of the mains, (most − least) / (most + least); about 35 % of a tube on a magnetic ballast, common practice"`
	Dim       *unit.Fraction `yaml:"dim" default:"100 %" doc:"level of the control"`
	Shade     string         `yaml:"shade" default:"full white diffusion" doc:"cloth kind of a shade"`
	Quality   string         `yaml:"quality" words:"measured|sheet|guess" default:"guess" doc:"how the flux is known"`
}

// Cloth is bounce, diffusion or black on a frame.
type Cloth struct {
	Kind   string      `yaml:"kind" required:"true" doc:"kit cloth: full grid, muslin, black"`
	Size   unit.Size2  `yaml:"size" required:"true" doc:"width and height"`
	At     Where       `yaml:"at" required:"true" doc:"centre of the frame"`
	Height unit.Metre  `yaml:"height" doc:"of the centre above a named place or the floor"`
	Faces  Toward      `yaml:"faces" required:"true" doc:"what its front faces"`
	Tilt   unit.Degree `yaml:"tilt" doc:"leaned back: front turned up by so much"`
	Roll   unit.Degree `yaml:"roll" doc:"turned in its own plane, clockwise seen from the front"`
}

// Ambient is light that was there and was metered: a source of stated shape whose strength makes its layer equal the
// reading at that place, facing and receptor.
type Ambient struct {
	Reading   unit.Lux      `yaml:"reading" required:"true" doc:"what the meter showed"`
	Point     string        `yaml:"point" doc:"metering point where it was read"`
	At        *Where        `yaml:"at" doc:"place where it was read, if not at a point"`
	Height    unit.Metre    `yaml:"height" doc:"of the meter above a named place or the floor"`
	Faces     *Toward       `yaml:"faces" doc:"what the receptor faced; sun: square-on to it"`
	Receptor  string        `yaml:"receptor" words:"flat|dome" doc:"the meter's receptor; the point's own, or flat, if not given"`
	Clock     *unit.Clock   `yaml:"clock" doc:"when it was read"`
	Date      *unit.Date    `yaml:"date" doc:"day it was read, with shape daylight; the plan's own if not given"`
	Sky       string        `yaml:"sky" doc:"state of the sky, in words; with shape daylight as the plan's sky is written, which it is if not given"`
	Colour    *unit.Kelvin  `yaml:"colour" doc:"colour temperature read; 6500 K if not given, none beside a spectrum"`
	Duv       *float64      `yaml:"duv" min:"-0.02" max:"0.02" doc:"distance from the Planckian locus as read, above 0 green; that of daylight if not given"`
	Spectrum  string        `yaml:"spectrum" doc:"kind of its light: a CIE illuminant such as FL2, or a CSV of nm,value beside the plan; turned to colour and duv where these are given"`
	Ripple    unit.Fraction `yaml:"ripple" doc:"share by which the light swings twice a cycle of the mains, (most − least) / (most + least); about 35 % of a tube on a magnetic ballast, common practice"`
	Shape     string        `yaml:"shape" required:"true" words:"everywhere|dome|overcast|sun|daylight" doc:"where it comes from; daylight: no source of its own, it corrects the model's"`
	Of        string        `yaml:"of" words:"open|sky|sun" default:"open" doc:"with shape daylight, read out of doors: sun and sky on level ground; the sky alone, the meter shaded; the sun alone, square-on"`
	Outside   *unit.Lux     `yaml:"outside" doc:"with shape daylight: the sky on open level ground while the reading was taken indoors, so that the pair is a daylight factor"`
	Through   []string      `yaml:"through" doc:"openings it comes in by: alone for a sky, and whose gel cuts it"`
	Luminance *unit.Nit     `yaml:"luminance" doc:"spot reading of the sky in the opening, bare"`
	Altitude  *unit.Degree  `yaml:"altitude" doc:"of the sun"`
	Azimuth   *unit.Bearing `yaml:"azimuth" doc:"of the sun, from true north"`
	Doubt     *unit.Stop    `yaml:"doubt" default:"1/3" doc:"how far the day may differ from the reading; with shape daylight of the reading itself, 0.1 if not given"`
}

// Supply is the mains.
type Supply struct {
	Mains   *unit.Hertz `yaml:"mains" doc:"frequency: 50 Hz, 60 Hz; light with a ripple pulses twice a cycle"`
	Voltage *unit.Volt  `yaml:"voltage" default:"230 V" doc:"of the mains"`
}

// Stock is how many of a kit item there are. A scalar is the number.
type Stock struct {
	Count int     `yaml:"count" required:"true" min:"1" max:"1000" doc:"how many there are"`
	Hire  float64 `yaml:"hire" min:"0" max:"1000000000" doc:"what one costs, in any currency that is kept to"`
}

// Limits are the most that a proposal may take of each; what is absent is not limited.
type Limits struct {
	Current *unit.Ampere   `yaml:"current" doc:"drawn by all lamps at full output"`
	Power   *unit.Watt     `yaml:"power" doc:"drawn by all lamps at full output"`
	Hands   *float64       `yaml:"hands" min:"0" max:"1000" doc:"people to set and hold it"`
	Mass    *unit.Kilogram `yaml:"mass" doc:"of all lamps"`
	Minutes *unit.Minute   `yaml:"minutes" doc:"of one person, to rig it"`
	Noise   *unit.DecibelA `yaml:"noise" doc:"of all lamps together, each at 1 m"`
	Hire    *float64       `yaml:"hire" min:"0" max:"1000000000" doc:"as the truck states it"`
}

// Camera sets the key and looks.
type Camera struct {
	EI       unit.EI        `yaml:"ei" required:"true" doc:"exposure index"`
	FPS      unit.FPS       `yaml:"fps" required:"true" doc:"frames a second"`
	Shutter  unit.Shutter   `yaml:"shutter" required:"true" doc:"180 deg or 1/50 s"`
	Stop     unit.TStop     `yaml:"stop" required:"true" doc:"T-stop wanted"`
	ND       unit.Density   `yaml:"nd" doc:"filter in the camera: ND 0.6 counts as two stops"`
	Balance  *unit.Kelvin   `yaml:"balance" default:"5600 K" doc:"white balance"`
	Tint     float64        `yaml:"tint" min:"-0.02" max:"0.02" doc:"Duv of the light that the balance makes neutral: above 0 takes green out"`
	Response string         `yaml:"response" default:"generic" doc:"measured sensitivities, a CSV of nm,red,green,blue beside the plan, or generic"`
	Constant *float64       `yaml:"constant" default:"250" min:"50" max:"2000" doc:"calibration constant C of the incident meter, lx s"`
	At       *Where         `yaml:"at" doc:"where it stands"`
	Height   unit.Metre     `yaml:"height" doc:"of the lens above a named place or the floor"`
	Aim      *Toward        `yaml:"aim" doc:"what it looks at"`
	Lens     *unit.Metre    `yaml:"lens" default:"35 mm" doc:"focal length"`
	Focus    *unit.Metre    `yaml:"focus" doc:"distance of the sharp plane; what it looks at if not given"`
	Expose   string         `yaml:"expose" doc:"metering point the exposure is made for; the first target over key, or the first point, if not given"`
	Filters  []unit.Density `yaml:"filters" doc:"ND filters there are, for a proposal; ND 0.3 to ND 2.1 by 0.3 if not given"`
	Variable []unit.Density `yaml:"variable" doc:"the least and the most of a stepless ND filter, for a proposal"`
	Widest   *unit.TStop    `yaml:"widest" doc:"stop of the lens wide open, for a proposal; the stop wanted if not given"`
	Closest  *unit.TStop    `yaml:"closest" default:"T16" doc:"smallest opening of the lens, for a proposal"`
	Indices  []unit.EI      `yaml:"indices" doc:"exposure indices that a proposal may take; its own if not given"`
	Sensor   *unit.Size2    `yaml:"sensor" default:"24.9 x 14 mm" doc:"width and height used"`
}

// Target is one wish: a level at a point over the key, over another point or over the ambient alone; a light's distance from
// the balance in colour; or how far a walk or some points may differ.
type Target struct {
	Point     string      `yaml:"point" doc:"metering point"`
	Level     *unit.Stop  `yaml:"level" doc:"wanted, in stops"`
	Bound     string      `yaml:"bound" words:"at|at least|at most" default:"at" doc:"whether the level may also lie above, or below"`
	Over      string      `yaml:"over" default:"key" doc:"key, ambient or another point"`
	Mired     *unit.Mired `yaml:"mired" doc:"instead of a level: the light's distance from the balance, above 0 warm"`
	Within    *unit.Mired `yaml:"within" default:"15" doc:"tolerance of mired, either way"`
	Walk      string      `yaml:"walk" doc:"walk whose swing is limited"`
	Across    []string    `yaml:"across" doc:"metering points that are to be even"`
	Swing     *unit.Stop  `yaml:"swing" doc:"most from the darkest to the brightest place of the walk, or of the points across"`
	Tolerance *unit.Stop  `yaml:"tolerance" default:"1/3" doc:"either way"`
	Weight    float64     `yaml:"weight" default:"1" min:"0.001" max:"1000" doc:"of missing it against others, where not all can be met"`
	By        string      `yaml:"by" doc:"lamp or practical that is to meet it; those that light the point most if not given"`

	item int // in the list as written
}

// Path returns where the target stands in the plan, whatever else a set-up leaves out of the list.
func (t *Target) Path() document.Path { return document.Path("targets").Item(t.item) }

// Tone asks where a surface falls in the light at a point. A scalar is both: snow in maker.front.
type Tone struct {
	Material string `yaml:"material" required:"true" doc:"trade word, own material or reflectance"`
	In       string `yaml:"in" required:"true" doc:"metering point whose light it is in"`
}

// Setup is a fragment of the document laid over it (Plan.Setup), plus which things it uses.
type Setup struct {
	Uses    []string          `yaml:"uses" doc:"lamps, cloths, practicals, people, ambient and objects used; all if not given"`
	Changes document.Fragment `yaml:"*"`
}
