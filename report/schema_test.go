package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report/words"
)

// A validator holds a schema and checks the keywords that it uses (JSON Schema
// draft 2020-12, core and validation). It refuses keywords that it doesn't know.
type validator struct{ root map[string]any }

func (v *validator) check(s map[string]any, x any, at string) (faults []string) {
	bad := func(format string, a ...any) { faults = append(faults, at+": "+fmt.Sprintf(format, a...)) }
	for key, val := range s {
		switch key {
		case "$schema", "title", "description", "$defs":
		case "$ref":
			var target any = v.root
			for part := range strings.SplitSeq(strings.TrimPrefix(val.(string), "#/"), "/") {
				target = target.(map[string]any)[part]
			}
			t, ok := target.(map[string]any)
			if !ok {
				bad("no %v in the schema", val)
				continue
			}
			faults = append(faults, v.check(t, x, at)...)
		case "anyOf":
			fits := false
			for _, o := range val.([]any) {
				fits = fits || len(v.check(o.(map[string]any), x, at)) == 0
			}
			if !fits {
				bad("%v fits none of %v", x, val)
			}
		case "type":
			types, many := val.([]any)
			if !many {
				types = []any{val}
			}
			fits := false
			for _, t := range types {
				fits = fits || isType(t.(string), x)
			}
			if !fits {
				bad("%T, want %v", x, val)
			}
		case "const", "enum":
			options, many := val.([]any)
			if !many {
				options = []any{val}
			}
			fits := false
			for _, o := range options {
				fits = fits || fmt.Sprint(o) == fmt.Sprint(x)
			}
			if !fits {
				bad("%v, want %v", x, val)
			}
		case "required":
			o, ok := x.(map[string]any)
			for _, k := range val.([]any) {
				if _, has := o[k.(string)]; ok && !has {
					bad("no key %v", k)
				}
			}
		case "properties":
			o, _ := x.(map[string]any)
			for k, sub := range val.(map[string]any) {
				if e, has := o[k]; has {
					faults = append(faults, v.check(sub.(map[string]any), e, at+"."+k)...)
				}
			}
		case "additionalProperties":
			o, _ := x.(map[string]any)
			known := s["properties"].(map[string]any)
			for k := range o {
				if _, has := known[k]; !has {
					bad("key %q isn't in the schema", k)
				}
			}
		case "items":
			a, _ := x.([]any)
			for i, e := range a {
				faults = append(faults, v.check(val.(map[string]any), e, fmt.Sprintf("%s[%d]", at, i))...)
			}
		case "minimum":
			if d(fmt.Sprint(x)).LessThan(d(fmt.Sprint(val))) {
				bad("%v, want at least %v", x, val)
			}
		case "minItems", "maxItems":
			if a, ok := x.([]any); ok {
				n, _ := val.(json.Number).Int64()
				if key == "minItems" && len(a) < int(n) || key == "maxItems" && len(a) > int(n) {
					bad("%d items", len(a))
				}
			}
		default:
			bad("keyword %q", key)
		}
	}
	return faults
}

func isType(name string, x any) bool {
	switch x := x.(type) {
	case nil:
		return name == "null"
	case bool:
		return name == "boolean"
	case string:
		return name == "string"
	case []any:
		return name == "array"
	case map[string]any:
		return name == "object"
	case json.Number:
		return name == "number" || name == "integer" && !strings.ContainsAny(string(x), ".eE")
	}
	return false
}

func TestAnswersFitTheSchema(t *testing.T) {
	v := &validator{root: decode(t, Schema())}
	part := func(name string) map[string]any {
		if name == "" {
			return v.root
		}
		return v.root["$defs"].(map[string]any)[name].(map[string]any)
	}
	full := drawn()
	c := *full.Check
	c.Findings = []Finding{{Code: "pin", Level: "finding", Hit: true, Place: &Place{}, Text: "pin"}, {Code: "thin", Level: "note", Text: "thin"}}
	full.Check = &c
	turn := Estimate(0.01)
	full.Landed = &Landed{Measured: []Measured{{DX: d("0.1"), DY: d("0"), At: ptp("1", "2")}}, Before: full.Answer.Second, After: full.Answer.Second,
		From: "reckoned", Turn: &turn, Ways: []Way{{Zero: full.Answer.Second, Remains: []registration.Point{pt("0", "0")}}, {Do: "shim", Zero: full.Answer.Second, Keep: "corrections = []"}}, Notes: []Note{{Level: "note", Is: words.TurnFree{}}}}
	full.Pins = &PinFit{Fit: "H7/m6", Pin: d("6"), Least: d("-0.012"), Most: d("0.008"), Foolproof: true}
	full.Feeler = dp("0.1")
	bare := markerAnswer()
	bare.Second, bare.BackCorner, bare.LayUps = nil, nil, nil
	for _, tc := range []struct {
		name, part string
		write      func(b *bytes.Buffer) error
	}{
		{"whole sheet", "", func(b *bytes.Buffer) error { return JSON(b, full) }},
		{"empty sheet", "", func(b *bytes.Buffer) error { return JSON(b, Setup{}) }},
		{"fence sheet", "", func(b *bytes.Buffer) error {
			return JSON(b, Setup{Answer: stopAnswer(registration.Left), Checklist: true})
		}},
		{"origin", "origin", func(b *bytes.Buffer) error { return OriginJSON(b, full.Answer) }},
		{"origin with budget", "origin", func(b *bytes.Buffer) error { return OriginBudgetJSON(b, full.Answer, full.Budget) }},
		{"origin without register", "origin", func(b *bytes.Buffer) error { return OriginJSON(b, bare) }},
		{"pins", "pinsAnswer", func(b *bytes.Buffer) error { return PinsJSON(b, full) }},
		{"stations", "stations", func(b *bytes.Buffer) error { return StationsJSON(b, full) }},
		{"mirror", "mirrored", func(b *bytes.Buffer) error { return MirrorJSON(b, full.Mirrors[0]) }},
		{"check", "check", func(b *bytes.Buffer) error { return CheckJSON(b, c, transform.MM, "p.png") }},
		{"correct", "landed", func(b *bytes.Buffer) error { return CorrectJSON(b, *full.Landed, transform.MM) }},
	} {
		var b bytes.Buffer
		if err := tc.write(&b); err != nil {
			t.Fatal(err)
		}
		for _, f := range v.check(part(tc.part), decode(t, b.Bytes()), tc.name) {
			t.Error(f)
		}
	}
}

// The validator itself must refuse: a key too many, one missing, a wrong type.
func TestValidatorRefuses(t *testing.T) {
	v := &validator{root: decode(t, Schema())}
	var b bytes.Buffer
	if err := JSON(&b, markerSetup()); err != nil {
		t.Fatal(err)
	}
	for name, spoil := range map[string]func(m map[string]any){
		"key too many":    func(m map[string]any) { m["surprise"] = true },
		"key missing":     func(m map[string]any) { delete(m, "origin") },
		"length in words": func(m map[string]any) { get(t, m, "origin.second_zero").(map[string]any)["x"] = "100" },
		"other unit":      func(m map[string]any) { m["units"] = "cubit" },
	} {
		m := decode(t, b.Bytes())
		spoil(m)
		if len(v.check(v.root, m, "sheet")) == 0 {
			t.Errorf("%s: accepted", name)
		}
	}
}
