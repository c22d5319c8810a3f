package document

import (
	"bytes"
	"encoding/json"
	"reflect"
	"strings"
)

// Schema returns the JSON Schema [JSONSCHEMA2020] of the documents that Decode reads into the type of the struct of,
// for editors that complete and check a text while it is typed. It is looser than Decode where a quantity is concerned:
// it knows no units. The same type gives the same bytes.
func Schema(title string, of any) ([]byte, error) {
	root := reflect.Indirect(reflect.ValueOf(of)).Type()
	if root.Kind() != reflect.Struct {
		panic("document: Schema needs a struct")
	}
	g := generator{root: root, known: map[string]bool{}}
	top := object{{"$schema", "https://json-schema.org/draft/2020-12/schema"}, {"title", title}}
	top = append(top, g.fields(root, false)...)
	top = append(top, member{"$defs", g.definitions})
	var b bytes.Buffer
	encoder := json.NewEncoder(&b)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	err := encoder.Encode(top)
	return b.Bytes(), err
}

// object is a JSON object whose members keep their order.
type object []member

type member struct {
	name  string
	value any
}

func (o object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, m := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		for j, part := range []any{m.name, m.value} {
			if j > 0 {
				b.WriteByte(':')
			}
			encoder := json.NewEncoder(&b)
			encoder.SetEscapeHTML(false)
			if err := encoder.Encode(part); err != nil {
				return nil, err
			}
		}
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// generator gathers the definitions of the structs it meets, in the order met.
type generator struct {
	root        reflect.Type
	known       map[string]bool
	definitions object
}

// value returns the schema of a value of type t. In a fragment of the document nothing is required.
func (g *generator) value(t reflect.Type, f field, fragment bool) object {
	var schema object
	switch formOf(t) {
	case optionalForm:
		return g.value(t.Elem(), f, fragment)
	case listForm:
		item := g.value(t.Elem(), field{words: f.words, min: f.min, max: f.max}, fragment)
		schema = object{{"anyOf", []object{item, {{"type", []string{"array", "null"}}, {"items", item}}}}}
	case namedForm:
		element := reflect.New(t).Interface().(named).element()
		item := g.value(element, field{words: f.words, min: f.min, max: f.max}, fragment)
		schema = object{{"type", []string{"object", "null"}}, {"additionalProperties", item}}
	case structForm:
		schema = g.structure(t, fragment)
	case textForm:
		schema = object{{"type", []string{"string", "number"}}}
	case stringForm:
		schema = object{{"type", []string{"string", "number", "boolean"}}}
		if f.words != nil {
			schema = object{{"enum", f.words}}
		}
	case boolForm:
		schema = object{{"enum", []any{true, false, "yes", "no"}}}
	case intForm:
		schema = append(object{{"type", "integer"}}, f.bounds()...)
	case floatForm:
		schema = append(object{{"type", []string{"number", "string"}}, {"pattern", number.String()}}, f.bounds()...)
	}
	return append(schema, f.notes(t)...)
}

// bounds returns the members that say min and max.
func (f field) bounds() (members object) {
	if f.min != "" {
		members = append(members, member{"minimum", bound(f.min)})
	}
	if f.max != "" {
		members = append(members, member{"maximum", bound(f.max)})
	}
	return members
}

// notes returns the members that tell a person what the value is.
func (f field) notes(t reflect.Type) (members object) {
	said := f.doc
	if forms, ok := reflect.New(t).Interface().(interface{ Forms() string }); ok {
		said = strings.TrimPrefix(said+": "+forms.Forms(), ": ")
	}
	if said != "" {
		members = append(members, member{"description", said})
	}
	if f.value != "" {
		members = append(members, member{"default", defaultOf(t, f.value)})
	}
	return members
}

// defaultOf returns the default as the JSON value that stands in the text.
func defaultOf(t reflect.Type, text string) any {
	switch form := formOf(t); {
	case form == optionalForm:
		return defaultOf(t.Elem(), text)
	case form == boolForm && (text == "true" || text == "false"):
		return text == "true"
	case (form == intForm || form == floatForm) && json.Valid([]byte(text)):
		return json.Number(text)
	}
	return text
}

// structure returns a reference to the definition of a struct, which it makes when it is new.
func (g *generator) structure(t reflect.Type, fragment bool) object {
	if t.Name() == "" {
		return g.fields(t, fragment)
	}
	name := t.String()
	if fragment {
		name += ".fragment"
	}
	if !g.known[name] {
		g.known[name] = true
		at := len(g.definitions)
		g.definitions = append(g.definitions, member{name: name})
		schema := g.fields(t, fragment)
		if reflect.PointerTo(t).Implements(reflect.TypeFor[Short]()) {
			schema = object{{"anyOf", []object{{{"type", []string{"string", "number"}}}, schema}}}
		}
		g.definitions[at].value = schema
	}
	return object{{"$ref", "#/$defs/" + name}}
}

// fields returns the schema of a struct's fields.
func (g *generator) fields(t reflect.Type, fragment bool) object {
	fields, rest := fieldsOf(t)
	properties, required := object{}, []string{}
	for _, f := range fields {
		properties = append(properties, member{f.name, g.value(t.Field(f.index).Type, f, fragment)})
		if f.required && !fragment {
			required = append(required, f.name)
		}
	}
	if rest >= 0 {
		properties = g.overriding(fields, properties)
	}
	schema := object{{"type", []string{"object", "null"}}, {"properties", properties}, {"additionalProperties", false}}
	if len(required) > 0 {
		schema = object{{"type", "object"}, {"properties", properties}, {"additionalProperties", false}, {"required", required}}
	}
	return schema
}

// overriding adds the fields of the document that a fragment may override. The field that holds the fragments is
// known by its names having a Fragment and is left out.
func (g *generator) overriding(own []field, properties object) object {
	fields, _ := fieldsOf(g.root)
	for _, f := range fields {
		t := g.root.Field(f.index).Type
		if indexOf(own, f.name) < 0 && !holdsFragments(t) {
			properties = append(properties, member{f.name, g.value(t, f, true)})
		}
	}
	return properties
}

func holdsFragments(t reflect.Type) bool {
	if formOf(t) != namedForm {
		return false
	}
	element := reflect.New(t).Interface().(named).element()
	if formOf(element) != structForm {
		return false
	}
	_, rest := fieldsOf(element)
	return rest >= 0
}
