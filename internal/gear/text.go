package gear

import (
	"gloam/internal/document"
	"gloam/internal/photometry"
	"gloam/internal/unit"
)

// Version is the kit version this program reads.
const Version = 1

// kitText is a kit file as written.
type kitText struct {
	Version int                       `yaml:"kit" required:"true" min:"1" max:"1" doc:"version of the kit format"`
	Note    string                    `yaml:"note" doc:"free text: whose gear, from when"`
	Lamps   document.Named[lampText]  `yaml:"lamps" doc:"heads with their attachment, by the name plans use"`
	Cloths  document.Named[clothText] `yaml:"cloths" doc:"bounce, diffusion and black, by the name plans use"`
}

// lampText is a lamp as written. What is not written is taken from the lamp it is like; its light (beams, matt or
// photometry, with quality) as a whole.
type lampText struct {
	Title      string                        `yaml:"title" doc:"what it is, in words; the name if not given"`
	Like       string                        `yaml:"like" doc:"lamp of this kit or the built-in one from which all is taken that is not written here"`
	Source     string                        `yaml:"source" doc:"where the figures come from"`
	Quality    string                        `yaml:"quality" words:"measured|sheet|guess" default:"guess" doc:"how the light is known"`
	Beams      []beamText                    `yaml:"beams" doc:"bell beam; two or more are settings of a spot-to-flood lamp"`
	Matt       *mattText                     `yaml:"matt" doc:"matt opening, even all over: its intensity square-on"`
	Photometry string                        `yaml:"photometry" doc:"LM-63 or EULUMDAT file beside the kit file"`
	Engine     *unit.Lumen                   `yaml:"engine" doc:"flux of the light engine, which no beam exceeds; a spot-to-flood lamp needs it"`
	Opening    *Opening                      `yaml:"opening" doc:"what the light leaves from"`
	Reference  *unit.Kelvin                  `yaml:"reference" doc:"colour temperature at which the light is stated"`
	Output     document.Named[unit.Fraction] `yaml:"output" doc:"full output against colour temperature, from end to end of the range; fixed at the reference if not given"`
	Duv        *float64                      `yaml:"duv" min:"-0.02" max:"0.02" default:"0" doc:"distance from the Planckian locus, above 0 green; of engines what they mix to if not given"`
	Engines    *enginesText                  `yaml:"engines" doc:"the two whites of a bi-colour lamp; white light of the stated Duv if not given"`
	Emitters   string                        `yaml:"emitters" words:"RGB|RGBA|RGBW" doc:"the colours of a colour-mixing lamp: red, green, blue, and amber or white"`
	Dim        document.Named[unit.Fraction] `yaml:"dim" doc:"light against the control, such as 50 %: 30 %; in proportion if not given"`
	Fan        *fanText                      `yaml:"fan" doc:"noise; silent if not given"`
	Power      *powerText                    `yaml:"power" doc:"what it draws"`
	Mass       *massText                     `yaml:"mass" doc:"what it weighs"`
	IP         string                        `yaml:"ip" doc:"ingress protection, such as IP54, or none"`

	file *photometry.File // read from Photometry
}

// beamText is one beam, a bell.
type beamText struct {
	Beam   unit.Degree   `yaml:"beam" required:"true" doc:"full angle at 50 %"`
	Peak   *unit.Candela `yaml:"peak" doc:"intensity on the axis, or a level at a distance"`
	Levels []unit.LuxAt  `yaml:"levels" doc:"instead of peak: levels on the axis at distances from the front"`
	Field  *unit.Degree  `yaml:"field" doc:"full angle at 10 %, for information"`
	Flux   *unit.Lumen   `yaml:"flux" doc:"for information"`

	peak   unit.Candela // on the axis
	offset unit.Metre   // of the apparent source behind the front
}

// mattText is a matt opening. A single value is its peak.
type mattText struct {
	Peak   *unit.Candela `yaml:"peak" doc:"intensity square-on from afar"`
	Levels []unit.LuxAt  `yaml:"levels" doc:"instead of peak: levels square-on at distances from the front"`
	Flux   *unit.Lumen   `yaml:"flux" doc:"for information"`
}

// ParseShort reads the peak.
func (m *mattText) ParseShort(text string) error {
	m.Peak = new(unit.Candela)
	return m.Peak.Parse(text)
}

// Forms says what a single value is.
func (mattText) Forms() string { return unit.Candela(0).Forms() }

type fanText struct {
	Noise *unit.DecibelA `yaml:"noise" required:"true" doc:"at 1 m"`
	Quiet *unit.DecibelA `yaml:"quiet" doc:"at 1 m in the quiet mode, if it has one"`
	Most  *unit.Fraction `yaml:"most" doc:"most light in the quiet mode, of full"`
}

type powerText struct {
	Standby *unit.Watt     `yaml:"standby" default:"0 W" doc:"drawn at dim 0"`
	Full    *unit.Watt     `yaml:"full" required:"true" doc:"drawn at full"`
	Factor  *unit.Fraction `yaml:"factor" required:"true" doc:"power factor"`
	Leakage *Milliampere   `yaml:"leakage" default:"3.5 mA" doc:"earth leakage"`
}

type massText struct {
	Head      *unit.Kilogram `yaml:"head" required:"true" doc:"on the stand, without attachment"`
	Supply    *unit.Kilogram `yaml:"supply" default:"0 kg" doc:"supply or ballast apart from the head"`
	Accessory *unit.Kilogram `yaml:"accessory" default:"0 kg" doc:"attachment on the head"`
}

// clothText is a cloth as written.
type clothText struct {
	Also     []string       `yaml:"also" doc:"further names for it"`
	Source   string         `yaml:"source" doc:"where the figures come from"`
	Quality  string         `yaml:"quality" words:"measured|sheet|guess" default:"guess" doc:"how the figures are known"`
	Kind     string         `yaml:"kind" required:"true" words:"heavy|light|black" doc:"heavy: a new even source; light: part of the light goes straight on"`
	Through  *unit.Fraction `yaml:"through" doc:"heavy: transmittance, either way"`
	Front    *unit.Fraction `yaml:"front" doc:"heavy, black: reflectance of the front"`
	Back     *unit.Fraction `yaml:"back" doc:"heavy, black: reflectance of the back; as the front if not given"`
	Loss     *unit.Stop     `yaml:"loss" doc:"light: loss of the light that goes straight on, in stops"`
	Spread   *unit.Degree   `yaml:"spread" default:"0" doc:"light: full angle at 50 % into which a ray that goes straight on widens"`
	Forward  *unit.Fraction `yaml:"forward" default:"0" doc:"light: share scattered on, matt"`
	Return   *unit.Fraction `yaml:"return" default:"0" doc:"light: share scattered back, matt, from either side"`
	Shift    *unit.Mired    `yaml:"shift" doc:"colour shift of all it passes and throws back, above 0 warmer"`
	Material string         `yaml:"material" doc:"instead of shift: material whose colour it has"`
	Mass     *unit.Kilogram `yaml:"mass" doc:"of one square metre"`
}
