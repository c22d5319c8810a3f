package document

import (
	"reflect"
	"strconv"
	"strings"
)

// field is one field of a struct as its tags describe it.
type field struct {
	index    int
	name     string
	doc      string
	value    string // the default, for the schema
	required bool
	words    []string
	min, max string // "" for no bound
}

// fieldsOf returns the fields of a struct that have a yaml tag, in order, and the index of its Fragment, or -1.
func fieldsOf(t reflect.Type) (fields []field, rest int) {
	rest = -1
	for i := range t.NumField() {
		tag := t.Field(i).Tag
		name := tag.Get("yaml")
		switch {
		case name == "":
			continue
		case name == "*":
			if t.Field(i).Type != reflect.TypeFor[Fragment]() {
				panic("document: the tag yaml:\"*\" is for a Fragment")
			}
			rest = i
			continue
		}
		f := field{
			index: i, name: name, doc: tag.Get("doc"), value: tag.Get("default"), required: tag.Get("required") == "true",
			min: tag.Get("min"), max: tag.Get("max"),
		}
		if words := tag.Get("words"); words != "" {
			f.words = strings.Split(words, "|")
		}
		fields = append(fields, f)
	}
	return fields, rest
}

func fieldNames(fields []field) []string {
	names := make([]string, len(fields))
	for i, f := range fields {
		names[i] = f.name
	}
	return names
}

// bound returns the value of a min or max tag.
func bound(tag string) float64 {
	x, err := strconv.ParseFloat(tag, 64)
	if err != nil {
		panic("document: a bound that is no number")
	}
	return x
}

// form is what a Go type is in the text.
type form int

const (
	textForm form = iota
	namedForm
	listForm
	structForm
	stringForm
	boolForm
	intForm
	floatForm
	optionalForm
)

func formOf(t reflect.Type) form {
	pointer := reflect.PointerTo(t)
	switch {
	case pointer.Implements(reflect.TypeFor[Text]()):
		return textForm
	case pointer.Implements(reflect.TypeFor[named]()):
		return namedForm
	}
	switch t.Kind() {
	case reflect.Pointer:
		return optionalForm
	case reflect.Slice:
		return listForm
	case reflect.Struct:
		return structForm
	case reflect.String:
		return stringForm
	case reflect.Bool:
		return boolForm
	case reflect.Int:
		return intForm
	case reflect.Float64:
		return floatForm
	}
	panic("document: a type that no value in a document can have")
}

var yesNo = []string{"true", "false", "yes", "no"}

// allowed says what may stand for a value of type t, or "".
func (f field) allowed(t reflect.Type) string {
	switch formOf(t) {
	case optionalForm, listForm:
		return f.allowed(t.Elem())
	case textForm, structForm:
		if forms, ok := reflect.New(t).Interface().(interface{ Forms() string }); ok {
			return forms.Forms()
		}
		if t.Kind() == reflect.Struct {
			fields, _ := fieldsOf(t)
			return short(fieldNames(fields))
		}
	case boolForm:
		return short(yesNo)
	case stringForm:
		return short(f.words)
	case intForm:
		return "a whole number" + f.range_()
	case floatForm:
		return "a number" + f.range_()
	}
	return ""
}

// range_ returns the bounds in words.
func (f field) range_() string {
	switch {
	case f.min != "" && f.max != "":
		return " from " + f.min + " to " + f.max
	case f.min != "":
		return " from " + f.min
	case f.max != "":
		return " up to " + f.max
	}
	return ""
}

// few is how many names are few enough to read.
const few = 12

// short returns the names as one text when they are few.
func short(names []string) string {
	if len(names) > few {
		return ""
	}
	return strings.Join(names, ", ")
}
