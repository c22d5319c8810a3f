package scene

import (
	"gloam/internal/plan"
	"gloam/internal/spectrum"
)

// reflectance returns what a named surface reflects, by band, and whether as a mirror.
func reflectance(d *plan.Document, name string) (rho spectrum.Band, mirror bool, err error) {
	f, err := d.Finish(name)
	if err != nil {
		return rho, false, err
	}
	if f.Word == "" {
		return spectrum.Grey(*f.Reflectance).Band(), f.Mirror, nil
	}
	r, _ := spectrum.Material(f.Word)
	if f.Reflectance != nil {
		if r, err = r.Scaled(*f.Reflectance); err != nil {
			return rho, false, err
		}
	}
	return r.Band(), false, nil
}

func surfaceOptics(d *plan.Document, name string) (Optics, error) {
	rho, mirror, err := reflectance(d, name)
	if mirror {
		return Optics{Mirror: rho}, err
	}
	return Matt(rho), err
}
