package picture

import "gloam/internal/colour"

// matrix maps one space of three components to another.
type matrix [3][3]float64

// times returns the map that does n first, then m.
func (m matrix) times(n matrix) (p matrix) {
	for i := range p {
		for j := range p[i] {
			p[i][j] = m[i][0]*n[0][j] + m[i][1]*n[1][j] + m[i][2]*n[2][j]
		}
	}
	return p
}

// of returns the map of a vector.
func (m *matrix) of(x, y, z float64) [3]float64 {
	return [3]float64{
		m[0][0]*x + m[0][1]*y + m[0][2]*z,
		m[1][0]*x + m[1][1]*y + m[1][2]*z,
		m[2][0]*x + m[2][1]*y + m[2][2]*z,
	}
}

// ofXYZ returns the map of a colour.
func (m *matrix) ofXYZ(c colour.XYZ) [3]float64 { return m.of(c.X, c.Y, c.Z) }

func diagonal(d [3]float64) matrix {
	return matrix{{d[0], 0, 0}, {0, d[1], 0}, {0, 0, d[2]}}
}

// inverse returns the map back, by cofactors; the matrices here are far from singular.
func (m matrix) inverse() (p matrix) {
	for i := range p {
		for j := range p[i] {
			a, b, c, d := (j+1)%3, (j+2)%3, (i+1)%3, (i+2)%3
			p[i][j] = m[a][c]*m[b][d] - m[a][d]*m[b][c]
		}
	}
	determinant := m[0][0]*p[0][0] + m[0][1]*p[1][0] + m[0][2]*p[2][0]
	for i := range p {
		for j := range p[i] {
			p[i][j] /= determinant
		}
	}
	return p
}
