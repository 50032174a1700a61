// Package fact says what every room's facts have in common. A fact is a small struct with
// named fields in the room that finds it; its code is the struct's name, its values are
// what the fields hold, and who found it says what it weighs.
package fact

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"unicode"
)

// What a fact weighs, from what was taken for granted to what can hurt.
const (
	Assumed = "assumed"
	Note    = "note"
	Warning = "warning"
	Caution = "caution"
)

// Code is the name of a struct in words: "other-edge" of OtherEdge. A struct whose name
// another one has already ends in Fact.
func Code(is any) string {
	var b strings.Builder
	for i, r := range strings.TrimSuffix(reflect.TypeOf(is).Name(), "Fact") {
		if unicode.IsUpper(r) && i > 0 {
			b.WriteByte('-')
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}

// Values are what the fields of a struct hold, in their order, for who reads a fact by its
// code. A field that JSON leaves out by its tag ("-") is left out.
func Values(is any) []string { return valuesOf(reflect.ValueOf(is)) }

// Same says that two facts say the same. Of those one is enough.
func Same(a, b any) bool { return Code(a) == Code(b) && slices.Equal(Values(a), Values(b)) }

func valuesOf(v reflect.Value) (out []string) {
	if v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return nil
		}
		return valuesOf(v.Elem())
	}
	if s, ok := v.Interface().(fmt.Stringer); ok {
		return []string{s.String()}
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).Tag.Get("json") != "-" {
				out = append(out, valuesOf(v.Field(i))...)
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			out = append(out, valuesOf(v.Index(i))...)
		}
	default:
		return []string{fmt.Sprint(v.Interface())}
	}
	return out
}
