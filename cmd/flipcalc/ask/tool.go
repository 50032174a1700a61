package ask

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/cut"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// ParseTool reads one cutter as NUMBER=SHAPE,DIAMETER[,X], for example "1=flat,6",
// "2=ball,3", "3=vee,6,60" (included angle in degrees), "4=bull,6,1" (corner
// radius) or "5=drill,3,118" (point angle in degrees). Lengths are as registration.ParseLength
// takes them, plain ones in unit; the tool's come back in millimetres.
// The error is a *fault.Error.
func ParseTool(s string, unit transform.Unit) (cut.Tool, error) {
	bad := func(found, expected string) (cut.Tool, error) {
		return cut.Tool{}, &fault.Error{
			Found:    fmt.Sprintf("tool %q: %s", s, found),
			Expected: expected,
			Hint:     "write a tool as 1=flat,6 or 2=ball,3 or 3=vee,6,60 or 4=bull,6,1 or 5=drill,3,118",
		}
	}
	num, rest, ok := strings.Cut(s, "=")
	if !ok {
		return bad("no '='", "NUMBER=SHAPE,DIAMETER")
	}
	var t cut.Tool
	num = strings.TrimSpace(num)
	if num == "" || len(num) > 6 || strings.Trim(num, "0123456789") != "" {
		return bad(fmt.Sprintf("number %q", num), "a whole number from 0")
	}
	t.Number, _ = strconv.Atoi(num)
	words := strings.Split(rest, ",")
	for i := range words {
		words[i] = strings.TrimSpace(words[i])
	}
	shape := slices.IndexFunc(cut.Shapes(), func(s cut.Shape) bool { return strings.EqualFold(words[0], s.String()) })
	if shape < 0 {
		return bad(fmt.Sprintf("shape %q", words[0]), "flat, ball, vee, bull or drill")
	}
	t.Shape = cut.Shapes()[shape]
	want, expected := 2, "the diameter"
	if third := t.Shape.Third(); third != "" {
		want, expected = 3, "diameter and "+third
	}
	if len(words) != want {
		found := fmt.Sprintf("%d values", len(words)-1)
		if len(words) == 2 {
			found = "1 value"
		}
		return bad(found+" after the shape", expected)
	}
	var err error
	if t.Diameter, err = inMM(words[1], unit); err != nil {
		return bad(fmt.Sprintf("diameter %q", words[1]), "a length over 0")
	}
	switch t.Shape {
	case cut.Vee, cut.Drill:
		d, derr := decimal.NewFromString(words[2])
		if derr != nil || strings.ContainsAny(words[2], "eE") {
			return bad(fmt.Sprintf("angle %q", words[2]), "degrees over 0 and under 180")
		}
		t.Angle = d.InexactFloat64()
	case cut.Bull:
		if t.Corner, err = inMM(words[2], unit); err != nil {
			return bad(fmt.Sprintf("corner radius %q", words[2]), "a length over 0")
		}
	}
	if err := t.Validate(); err != nil {
		f := err.(*fault.Error)
		return bad(f.Found, f.Expected)
	}
	return t, nil
}

// inMM reads a length and gives it in millimetres.
func inMM(s string, u transform.Unit) (float64, error) {
	if text := strings.ToLower(s); !strings.HasSuffix(text, "mm") && !strings.HasSuffix(text, "in") {
		s += u.String()
	}
	d, err := registration.ParseLength(s, transform.MM)
	return d.InexactFloat64(), err
}
