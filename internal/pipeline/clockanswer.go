package pipeline

import (
	"time"

	"gloam/internal/clock"
	"gloam/internal/daylight"
	"gloam/internal/unit"
)

// Clock is the light clock of some set-ups of a plan. Times are RFC 3339 on the zone's clock; a null is a time that does not
// come.
type Clock struct {
	Sun      ClockSun      `json:"sun"`
	Windows  []ClockWindow `json:"windows"`
	Order    []ClockSlot   `json:"order"`
	LeftOut  []string      `json:"left_out"`
	Cautions []ClockTimes  `json:"cautions"`
	Openings []ClockTimes  `json:"openings"` // when a clear sun can come in by each
	Constant []string      `json:"constant"` // ambients taken as read all day: without a clock, or a state of the sky

	Days []ClockDay `json:"-"` // for charts, by set-up
}

// ClockSun is the sun's day.
type ClockSun struct {
	Date    string  `json:"date"`
	Zone    string  `json:"zone"`
	Rise    *string `json:"rise"`
	Set     *string `json:"set"`
	Dawn    *string `json:"dawn"`
	Dusk    *string `json:"dusk"`
	Transit *string `json:"transit"`
}

// ClockWindow is when a target of a set-up holds: the window that holds at the set-up's own time, or comes nearest to it, and
// the others of its day. With mode `fixed` the lamps stay as planned, with `following` they keep the target as far as they
// can. Sure are the times at which all of the interval is inside the tolerance, maybe those at which any of it is.
type ClockWindow struct {
	Setup   string       `json:"setup"`
	Target  string       `json:"target"`
	Mode    string       `json:"mode"`
	Opens   *string      `json:"opens"`
	Best    *string      `json:"best"`
	Closes  *string      `json:"closes"`
	Minutes float64      `json:"minutes"`
	Slack   *unit.Minute `json:"slack_minutes"` // how much later shooting may begin and still end inside
	RigBy   *string      `json:"rig_by"`        // the last start of rigging; null where the target holds from the day's begin
	Rig     unit.Minute  `json:"rig_minutes"`
	Shoot   unit.Minute  `json:"shoot_minutes"`
	Opening float64      `json:"opening_stops_per_minute"`
	Closing float64      `json:"closing_stops_per_minute"`
	Others  []ClockSpan  `json:"others"`
	Sure    []ClockSpan  `json:"sure"`
	Maybe   []ClockSpan  `json:"maybe"`
	Half    *ClockSpan   `json:"half_the_sky"` // the nearest window, were the model's sky half as bright; null: none
	Double  *ClockSpan   `json:"double_the_sky"`
	Remeter *string      `json:"remeter_from"`
	Follow  []ClockStep  `json:"follow"`
}

// ClockSpan is a time from when to when.
type ClockSpan struct {
	Opens  string `json:"opens"`
	Closes string `json:"closes"`
}

// ClockStep is what lamps that follow are set to at a time.
type ClockStep struct {
	At    string     `json:"at"`
	Lamps []ClockSet `json:"lamps"`
}

// ClockSet is one lamp's setting: its control, and the colour that keeps its distance in mired from the sky, null where
// the lamp can't or the sky's is not known.
type ClockSet struct {
	Lamp   string        `json:"lamp"`
	Dim    unit.Fraction `json:"dim"`
	Colour *unit.Kelvin  `json:"colour_k"`
}

// ClockSlot is a set-up's place in the order of the day.
type ClockSlot struct {
	Setup string      `json:"setup"`
	Rig   string      `json:"rig_from"`
	Roll  string      `json:"roll"`
	Done  string      `json:"done"`
	Slack unit.Minute `json:"slack_minutes"`
}

// ClockTimes is a caution and the times at which it applies.
type ClockTimes struct {
	Setup string      `json:"setup"`
	About string      `json:"about"`
	Text  string      `json:"text"`
	Times []ClockSpan `json:"times"`
}

// ClockDay is a set-up's day as a chart draws it.
type ClockDay struct {
	Setup   string
	At      time.Time // the set-up's own time
	Grid    clock.Grid
	Suns    []daylight.Sun
	Place   unit.Position
	Targets []ClockTarget
	Points  []ClockTarget // every point over the key; nothing is wanted
	North   unit.Bearing  // azimuth of the plan's +y
	Rig     unit.Minute
	Shoot   unit.Minute
	All     []clock.Window // in which every target holds with lamps as planned; the one nearest to the set-up's own time
}

// ClockTarget is a target through a day with lamps as planned.
type ClockTarget struct {
	Name      string
	Target    clock.Target
	Curve     clock.Curve
	Following *clock.Curve
}
