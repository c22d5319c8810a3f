package colour

// Chromaticity is a CIE 1931 x, y.
type Chromaticity struct{ X, Y float64 }

// UV is a point of a uniform chromaticity diagram: CIE 1960 u, v, in which Duv is measured, or CIE 1976 u', v'.
type UV struct{ U, V float64 }

// Chromaticity returns x, y; black gives 0, 0.
func (c XYZ) Chromaticity() Chromaticity {
	sum := c.X + c.Y + c.Z
	if sum == 0 {
		return Chromaticity{}
	}
	return Chromaticity{c.X / sum, c.Y / sum}
}

// UV1960 returns u, v of the CIE 1960 diagram, u = 4X/(X+15Y+3Z), v = 6Y/(X+15Y+3Z) [CIE15], appendix A; black gives 0, 0.
func (c XYZ) UV1960() UV {
	d := c.X + 15*c.Y + 3*c.Z
	if d == 0 {
		return UV{}
	}
	return UV{4 * c.X / d, 6 * c.Y / d}
}

// UV1976 returns u', v' of the CIE 1976 diagram, u' = u, v' = 1.5 v [CIE15], clause 8.1; black gives 0, 0.
func (c XYZ) UV1976() UV {
	uv := c.UV1960()
	return UV{uv.U, 1.5 * uv.V}
}

// XYZ returns the colour of a chromaticity at a level, y above 0.
func (c Chromaticity) XYZ(level float64) XYZ {
	return XYZ{level * c.X / c.Y, level, level * (1 - c.X - c.Y) / c.Y}
}
