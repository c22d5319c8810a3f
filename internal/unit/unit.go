// Package unit holds the typed quantities of the program: what stands at every exported border.
//
// One inner scale each, SI or the trade's own: metres, lux, candela, kelvin, stops. A person's way of writing
// (`12'6"`, `3,8 m`, `+1⅓`, `60 %`, `250 kcd`) is read here and nowhere else, and printed here and nowhere else.
//
// Every quantity has Parse, which reads what a crew member would write, and Forms, one line with examples of it. A
// failed Parse leaves the value as it was and returns a short clause (`is a mass, a length is wanted`): whoever called
// knows the place and the text. String prints the trade's form, and Parse reads what String prints.
//
// Decimal point and comma are both read. A comma with three digits behind it could be either, so it is refused unless
// only one meaning lies inside the quantity's range.
package unit
