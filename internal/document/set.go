package document

import (
	"fmt"
	"reflect"

	"gloam/internal/fault"
)

// Set puts a value into the struct that into points to, as if text had been written at path; a name that is not there is
// added, and item n of a list of n. Lists and pointers on the way are copied first, so that another struct that shares
// them stays as it was. Nothing is checked but the value itself. The error is a fault.
func Set(into any, path Path, text string) error {
	v := reflect.ValueOf(into)
	if v.Kind() != reflect.Pointer || v.IsNil() || v.Elem().Kind() != reflect.Struct {
		panic("document: Set needs a pointer to a struct")
	}
	steps, err := path.steps()
	if err != nil {
		return fault.Fault{Path: string(path), Text: err.Error()}
	}
	return setter{path, text}.set(v.Elem(), steps, field{})
}

type setter struct {
	path Path
	text string
}

func (s setter) set(v reflect.Value, steps []step, f field) error {
	form := formOf(v.Type())
	switch {
	case form == optionalForm:
		to := reflect.New(v.Type().Elem())
		if !v.IsNil() {
			to.Elem().Set(v.Elem())
		}
		if err := s.set(to.Elem(), steps, f); err != nil {
			return err
		}
		v.Set(to)
		return nil
	case len(steps) == 0:
		return s.put(v, f)
	case form == namedForm && steps[0].item < 0:
		v.Set(copied(v))
		return s.set(valueOf(v, steps[0].name), steps[1:], f)
	case form == listForm && steps[0].item >= 0 && steps[0].item <= v.Len():
		v.Set(copied(v))
		if steps[0].item == v.Len() {
			v.Set(reflect.Append(v, reflect.Zero(v.Type().Elem())))
		}
		return s.set(v.Index(steps[0].item), steps[1:], f)
	case form == structForm && steps[0].item < 0:
		fields, _ := fieldsOf(v.Type())
		if i := indexOf(fields, steps[0].name); i >= 0 {
			return s.set(v.Field(fields[i].index), steps[1:], fields[i])
		}
	}
	return fault.Fault{Path: string(s.path), Text: fmt.Sprintf("nothing can stand at %q", string(s.path))}
}

// put reads the text as the decoder does.
func (s setter) put(v reflect.Value, f field) error {
	read := reflect.New(v.Type()).Elem()
	d := (&Source{}).newDecoder()
	d.value(cursor{node: &node{kind: scalar, text: s.text}, path: s.path, field: f}, read)
	if len(d.faults) > 0 {
		told := d.faults[0]
		told.Place = fault.Place{} // it stands in no text
		return told
	}
	v.Set(read)
	return nil
}

// copied returns a slice that shares nothing with v.
func copied(v reflect.Value) reflect.Value {
	return reflect.AppendSlice(reflect.MakeSlice(v.Type(), 0, v.Len()+1), v)
}

// valueOf returns the value of a name in a Named, added if it is not there.
func valueOf(v reflect.Value, name string) reflect.Value {
	for i := range v.Len() {
		if entry := v.Index(i); entry.Field(0).String() == name {
			return entry.Field(1)
		}
	}
	return v.Addr().Interface().(named).add(name)
}

// TextAt returns how a single value stands at a path of a struct that was decoded, as its String method or Go prints it; ""
// for what is absent or holds more than one value.
func TextAt(from any, path Path) string {
	steps, err := path.steps()
	if err != nil {
		return ""
	}
	v := reflect.ValueOf(from).Elem()
	for {
		form := formOf(v.Type())
		switch {
		case form == optionalForm:
			if v.IsNil() {
				return ""
			}
			v = v.Elem()
			continue
		case len(steps) == 0:
			return textOf(v, form)
		case form == namedForm:
			i := 0
			for i < v.Len() && v.Index(i).Field(0).String() != steps[0].name {
				i++
			}
			if i == v.Len() {
				return ""
			}
			v = v.Index(i).Field(1)
		case form == listForm && steps[0].item >= 0 && steps[0].item < v.Len():
			v = v.Index(steps[0].item)
		case form == structForm:
			fields, _ := fieldsOf(v.Type())
			i := indexOf(fields, steps[0].name)
			if i < 0 {
				return ""
			}
			v = v.Field(fields[i].index)
		default:
			return ""
		}
		steps = steps[1:]
	}
}

func textOf(v reflect.Value, form form) string {
	switch form {
	case namedForm, listForm, structForm:
		return ""
	}
	if s, ok := v.Addr().Interface().(fmt.Stringer); ok {
		return s.String()
	}
	return fmt.Sprint(v.Interface())
}
