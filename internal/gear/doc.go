// Package gear holds the kit: the lamps and cloths a plan may name, as data with a stated quality.
//
// A kit is a YAML text. One is built in, of invented generic figures; a user's own kit files beside a plan have the same
// format and are laid over it (With). Reading tells every fault at once with its place. What is built here is a
// description only: where a lamp's light goes at full output, what its controls make of it, what it draws and weighs; what a
// cloth passes and throws back. Stands and cables are not in it; gels are spectrum's.
//
// Reading is bounded: as package document bounds it, 100 rows in a list of one lamp, 100 photometric files in a kit.
package gear
