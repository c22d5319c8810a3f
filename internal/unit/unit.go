// Package unit holds the typed quantities of the program: what stands at every exported border.
//
// One inner scale each, SI or the trade's own: metres, lux, candela, kelvin, stops. A person's way of writing
// (`12'6"`, `3,8 m`, `1/2 CTO`, `60 %`, `250 kcd`) is read here and nowhere else, and printed here and nowhere else.
package unit

// Metre is a length in metres.
type Metre float64

// Degree is a plane angle in degrees. A bearing is clockwise from true north.
type Degree float64

// Lux is an illuminance, lm/m².
type Lux float64

// Nit is a luminance, cd/m².
type Nit float64

// Candela is a luminous intensity.
type Candela float64

// Lumen is a luminous flux.
type Lumen float64

// Kelvin is a correlated colour temperature.
type Kelvin float64

// Mired is a reciprocal colour temperature or a shift of one, 10⁶/K.
type Mired float64

// Stop is a base-2 logarithm of a ratio of light.
type Stop float64

// TStop is a lens opening by transmission. Nominal numbers are read as exact powers of √2: T2.8 is √8.
type TStop float64

// Density is an optical density, log10 of the loss. ND 0.3 is Density(0.3).
type Density float64

// Fraction is a share from 0 to 1: a dim level, a reflectance, a transmittance.
type Fraction float64

// EI is an exposure index (ISO arithmetic speed).
type EI float64

// FPS is a frame rate, frames a second.
type FPS float64

// Second is a time in seconds.
type Second float64

// Watt is a power.
type Watt float64

// Kilogram is a mass.
type Kilogram float64

// DecibelA is an A-weighted sound pressure level, dB(A).
type DecibelA float64
