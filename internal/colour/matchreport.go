package colour

import (
	"gloam/internal/fault"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// MatchReport is where a lamp is to be set to match a light: to the eye, and to the camera. Of a light of unknown spectrum
// both are the same.
type MatchReport struct {
	Lamp     string         `json:"lamp"`
	ByEye    *SettingReport `json:"by_eye"`
	ByCamera *SettingReport `json:"by_camera"`
	// Disagree warns that the two settings lie farther apart than is seen side by side.
	Disagree bool `json:"disagree"`
}

// SettingReport is a setting of a lamp and how its light then stands to the one to be matched.
type SettingReport struct {
	Kelvin      unit.Kelvin `json:"kelvin_k"`
	Duv         float64     `json:"duv"`
	Eye         Difference  `json:"eye"`
	Camera      Difference  `json:"camera"`
	EyeMatch    bool        `json:"eye_match"`
	CameraMatch bool        `json:"camera_match"`
}

// ReportAt returns what there is to say of a chromaticity of which no spectrum is known.
func ReportAt(xy Chromaticity, camera Camera) (*Report, fault.List) {
	r := &Report{X: xy.X, Y: xy.Y, Camera: CameraReport{Name: camera.Name}}
	view, err := viewOf(xy.XYZ(1))
	if err != nil {
		return r, notes(err)
	}
	mired := view.Kelvin.Mired()
	r.CCT, r.Duv, r.Mired, r.Tint = &view.Kelvin, &view.Duv, &mired, Tint(view.Duv)
	return r, nil
}

// Matched fills in how a lamp is to be set to match a target. The faults, of kind Note, say why a setting is not known.
func (r *Report) Matched(name string, lamp Dial, target Target, camera Camera) (list fault.List) {
	m := &MatchReport{Lamp: name}
	r.Match = m
	eye, err := MatchByEye(lamp, target, camera, SideBySide)
	if err != nil {
		return notes(err)
	}
	m.ByEye = settingOf(eye)
	seen, err := MatchByCamera(lamp, target, camera, SideBySide)
	if err != nil {
		return notes(err)
	}
	m.ByCamera = settingOf(seen)
	m.Disagree = SideBySide.Of(Difference{Mired: eye.Kelvin.Mired() - seen.Kelvin.Mired(), Duv: eye.Duv - seen.Duv}) > 1
	return nil
}

func settingOf(s Setting) *SettingReport {
	return &SettingReport{s.Kelvin, s.Duv, s.Eye, s.Camera, s.EyeMatch, s.CameraMatch}
}

// FollowReport is a lamp's schedule: the kelvin that keeps it as far from each sky as it was from the first.
type FollowReport struct {
	Lamp  unit.Kelvin  `json:"lamp_k"`
	Apart unit.Mired   `json:"apart_mired"`
	Skies []FollowStep `json:"skies"`
}

// FollowStep is one sky and the lamp beside it.
type FollowStep struct {
	Sky  unit.Kelvin `json:"sky_k"`
	Lamp unit.Kelvin `json:"lamp_k"`
}

// Follows fills in the schedule of a lamp that was set by this light, when it becomes each of the skies. The error is
// FollowSky's.
func (r *Report) Follows(lamp unit.Kelvin, skies []unit.Kelvin) error {
	if r.CCT == nil {
		return fault.Fault{Text: "no lamp can follow a light that is not white"}
	}
	set, err := FollowSky(*r.CCT, lamp, skies)
	if err != nil {
		return err
	}
	r.Follow = &FollowReport{Lamp: lamp, Apart: lamp.Mired() - r.CCT.Mired(), Skies: []FollowStep{}}
	for i := range skies {
		r.Follow.Skies = append(r.Follow.Skies, FollowStep{skies[i], set[i]})
	}
	return nil
}

// SmoothAt returns the smooth light that stands for a chromaticity of which no spectrum is known. The error is CCTDuv's or
// spectrum.White's.
func SmoothAt(xy Chromaticity) (spectrum.Curve, error) {
	v, err := viewOf(xy.XYZ(1))
	if err != nil {
		return spectrum.Curve{}, err
	}
	return spectrum.White(v.Kelvin, v.Duv)
}
