package plan

import (
	"reflect"
	"strconv"

	"gloam/internal/document"
)

// setDefaults puts into every field that is absent the value of its default tag. Absent is nil where the field is a
// pointer, and the zero value where it is not: there the tag stands only where zero means nothing.
func setDefaults(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			setDefaults(v.Elem())
		}
	case reflect.Slice:
		for i := range v.Len() {
			setDefaults(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			field := v.Type().Field(i)
			if text, ok := field.Tag.Lookup("default"); ok && v.Field(i).IsZero() {
				setText(v.Field(i), text)
			}
			if field.IsExported() {
				setDefaults(v.Field(i))
			}
		}
	}
}

// setText sets a field to the value a default tag writes.
func setText(v reflect.Value, text string) {
	if v.Kind() == reflect.Pointer {
		v.Set(reflect.New(v.Type().Elem()))
		v = v.Elem()
	}
	var err error
	switch to := v.Addr().Interface().(type) {
	case document.Text:
		err = to.Parse(text)
	case *string:
		*to = text
	case *float64:
		*to, err = strconv.ParseFloat(text, 64)
	default:
		panic("plan: a default for a type that can have none")
	}
	if err != nil {
		panic("plan: a default that cannot be read")
	}
}
