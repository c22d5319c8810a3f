package document

import (
	"errors"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"gloam/internal/fault"
)

// scalar reads a single value.
func (d *decoder) scalar(c cursor, v reflect.Value, form form) bool {
	allowed := c.field.allowed(v.Type())
	var text string
	switch c.node.kind {
	case null:
		text = "no value"
	case mapping:
		text = "fields where one value is wanted"
	case list:
		text = "a list where one value is wanted"
	}
	if text != "" {
		d.tell(c, c.path, c.place, fault.Fault{Text: text, Allowed: allowed})
		return false
	}
	var err error
	switch form {
	case textForm:
		err = v.Addr().Interface().(Text).Parse(c.node.text)
	case boolForm:
		if err = oneOf(c.node.text, yesNo); err == nil {
			v.SetBool(c.node.text == "true" || c.node.text == "yes")
		}
	case stringForm:
		if err = oneOf(c.node.text, c.field.words); err == nil {
			v.SetString(c.node.text)
		}
	default:
		err = c.field.number(c.node.text, v, form)
	}
	return d.parsed(c, v, err)
}

// parsed tells the error with which a value was read, and leaves the value zero.
func (d *decoder) parsed(c cursor, v reflect.Value, err error) bool {
	if err == nil {
		return true
	}
	v.SetZero()
	var f fault.Fault
	if !errors.As(err, &f) {
		f.Text = err.Error()
	}
	f.Kind = fault.Input
	if f.Read == "" {
		f.Read = c.node.text
	}
	if f.Allowed == "" {
		f.Allowed = c.field.allowed(v.Type())
	}
	d.tell(c, c.path, c.place, f)
	return false
}

// oneOf checks a word against those allowed; nil allows all.
func oneOf(text string, words []string) error {
	if words == nil || slices.Contains(words, text) {
		return nil
	}
	return fault.Fault{Text: "unknown word", Hint: fault.Meant(text, words)}
}

// Numbers are digits with a point or a comma; three digits behind a comma might be thousands, so they are refused.
var (
	number    = regexp.MustCompile(`^[-+]?([0-9]+([.,][0-9]*)?|[.,][0-9]+)([eE][-+]?[0-9]+)?$`)
	thousands = regexp.MustCompile(`^[-+]?[1-9][0-9]{0,2},[0-9]{3}$`)
	whole     = regexp.MustCompile(`^[-+]?[0-9]+$`)
)

// number reads an int or a float64 and checks its bounds.
func (f field) number(text string, v reflect.Value, form form) error {
	if form == intForm && !whole.MatchString(text) {
		return errors.New("not a whole number")
	}
	if !number.MatchString(text) {
		return errors.New("not a number")
	}
	if thousands.MatchString(text) {
		return errors.New("the comma may stand for a point or for thousands: write it without")
	}
	x, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	switch {
	case err != nil, form == intForm && (x > 1<<53 || x < -1<<53):
		return errors.New("the number is too big")
	case f.min != "" && x < bound(f.min):
		return errors.New(text + " is below " + f.min)
	case f.max != "" && x > bound(f.max):
		return errors.New(text + " is above " + f.max)
	case form == intForm:
		v.SetInt(int64(x))
	default:
		v.SetFloat(x)
	}
	return nil
}
