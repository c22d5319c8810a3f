package colour

import (
	"errors"
	"fmt"

	"gloam/internal/fault"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// Report is all that is told of one spectrum. What cannot be told of it is nil.
type Report struct {
	X     float64      `json:"x"`
	Y     float64      `json:"y"`
	CCT   *unit.Kelvin `json:"cct_k"`
	Duv   *float64     `json:"duv"`
	Mired *unit.Mired  `json:"mired"`
	Tint  string       `json:"tint,omitempty"`

	Camera  CameraReport   `json:"camera"`
	Balance *BalanceReport `json:"balance,omitempty"`

	Ra  *float64 `json:"ra"`
	R1  *float64 `json:"r1"`
	R2  *float64 `json:"r2"`
	R3  *float64 `json:"r3"`
	R4  *float64 `json:"r4"`
	R5  *float64 `json:"r5"`
	R6  *float64 `json:"r6"`
	R7  *float64 `json:"r7"`
	R8  *float64 `json:"r8"`
	R9  *float64 `json:"r9"`
	R10 *float64 `json:"r10"`
	R11 *float64 `json:"r11"`
	R12 *float64 `json:"r12"`
	R13 *float64 `json:"r13"`
	R14 *float64 `json:"r14"`

	Rf           *float64 `json:"rf"`
	Rg           *float64 `json:"rg"`
	SSI          *float64 `json:"ssi"`
	SSIReference string   `json:"ssi_reference,omitempty"`
	TLCI         *float64 `json:"tlci"`

	Against *AgainstReport `json:"against,omitempty"`
	Match   *MatchReport   `json:"match,omitempty"`
	Follow  *FollowReport  `json:"follow,omitempty"`
}

// CameraReport is the light as a camera sees it, which is also what a lamp of smooth spectrum must be set to, to look the
// same to that camera.
type CameraReport struct {
	Name string       `json:"name"`
	CCT  *unit.Kelvin `json:"cct_k"`
	Duv  *float64     `json:"duv"`
}

// BalanceReport is how a light stands to a camera's balance: to the eye, and as the camera records it.
type BalanceReport struct {
	Balance unit.Kelvin `json:"balance_k"`
	Eye     *unit.Mired `json:"mired_from_balance"`
	Camera  *unit.Mired `json:"camera_mired_from_balance"`
}

// AgainstReport is how a light stands to another, and which gels over it would bring it nearest.
type AgainstReport struct {
	Name     string      `json:"name"`
	Eye      *Difference `json:"eye"`
	Camera   *Difference `json:"camera"`
	EyeMatch *bool       `json:"eye_match"`
	Match    *bool       `json:"camera_match"`
	Disagree bool        `json:"disagree"`
	SSI      *float64    `json:"ssi"` // null where one of the two spectra is not known
	Gels     []GelReport `json:"gels"`
}

// GelReport is a pack of gels before the light: what it takes, and how far it leaves the light from the other.
type GelReport struct {
	Gels   []string   `json:"gels"`
	Loss   unit.Stop  `json:"loss_stops"`
	Eye    Difference `json:"eye"`
	Camera Difference `json:"camera"`
}

// Specials returns R1 to R14, all nil where they are unknown.
func (r *Report) Specials() [14]**float64 {
	return [14]**float64{&r.R1, &r.R2, &r.R3, &r.R4, &r.R5, &r.R6, &r.R7, &r.R8, &r.R9, &r.R10, &r.R11, &r.R12, &r.R13, &r.R14}
}

// ReportOf returns what there is to say of a spectrum. The faults, of kind Note, say why something is unknown.
func ReportOf(light spectrum.Curve, camera Camera) (*Report, fault.List) {
	c := lightXYZ(spectrum.LightOf(light))
	xy := c.Chromaticity()
	r := &Report{X: xy.X, Y: xy.Y, Camera: CameraReport{Name: camera.Name}}
	view, err := viewOf(c)
	if err != nil {
		return r, notes(err)
	}
	mired := view.Kelvin.Mired()
	r.CCT, r.Duv, r.Mired, r.Tint = &view.Kelvin, &view.Duv, &mired, Tint(view.Duv)
	list := r.judge(light)
	seen, err := camera.View(light)
	if err != nil {
		return r, append(list, notes(err)...)
	}
	r.Camera.CCT, r.Camera.Duv = &seen.Kelvin, &seen.Duv
	return r, list
}

// To fills in how the light stands to a camera's balance.
func (r *Report) To(balance unit.Kelvin) {
	from := func(k *unit.Kelvin) *unit.Mired {
		if k == nil {
			return nil
		}
		m := MiredFromBalance(*k, balance)
		return &m
	}
	r.Balance = &BalanceReport{balance, from(r.CCT), from(r.Camera.CCT)}
}

// judge fills in the indices.
func (r *Report) judge(light spectrum.Curve) fault.List {
	reference, err := SSIReference(*r.CCT)
	if err != nil {
		return notes(err) // nor has any other method a reference then
	}
	ssi := SSI(light, reference)
	r.SSI, r.SSIReference = &ssi, fmt.Sprintf("black body of %.0f K", float64(*r.CCT))
	if *r.CCT >= 4000 {
		r.SSIReference = fmt.Sprintf("daylight of %.0f K", float64(*r.CCT))
	}
	cri, err1 := CIE13(light)
	rf, rg, err2 := CIE224(light)
	tlci, err3 := TLCI(light)
	if err := errors.Join(err1, err2, err3); err != nil {
		return notes(err)
	}
	r.Ra, r.Rf, r.Rg, r.TLCI = &cri.Ra, &rf, &rg, &tlci
	for i, p := range r.Specials() {
		*p = &cri.R[i]
	}
	return nil
}

// mostPacks is how many packs of gels a report names.
const mostPacks = 3

// Beside fills in how the light stands to another, and which of the gels bring it nearest.
func (r *Report) Beside(name string, light spectrum.Curve, target Target, gels []spectrum.Gel, camera Camera) fault.List {
	a := &AgainstReport{Name: name, Gels: []GelReport{}}
	r.Against = a
	v, err := target.Judge(light, camera, SideBySide)
	if err != nil {
		return notes(err)
	}
	a.Eye, a.Camera, a.EyeMatch, a.Match, a.Disagree = &v.Eye, &v.Camera, &v.EyeMatch, &v.CameraMatch, v.Disagree
	packs, err := MatchGels(light, gels, target, camera, SideBySide)
	if err != nil {
		return notes(err)
	}
	for _, p := range packs[:min(mostPacks, len(packs))] {
		g := GelReport{Gels: []string{}, Loss: unit.Stops(1 / float64(p.Transmittance)), Eye: p.Eye, Camera: p.Camera}
		for _, gel := range p.Gels {
			g.Gels = append(g.Gels, gel.Name)
		}
		a.Gels = append(a.Gels, g)
	}
	return nil
}

// notes turns what keeps a number from being known into notes: the rest of the answer stands.
func notes(err error) fault.List {
	list := fault.Of(err, fault.Note)
	for i := range list {
		list[i].Kind = fault.Note
	}
	return list
}
