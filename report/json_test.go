package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/cut"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report/words"
)

// decode reads JSON with its numbers as they were written.
func decode(t *testing.T, b []byte) map[string]any {
	t.Helper()
	dec := json.NewDecoder(bytes.NewReader(b))
	dec.UseNumber()
	var v map[string]any
	if err := dec.Decode(&v); err != nil {
		t.Fatalf("no JSON: %v\n%s", err, b)
	}
	return v
}

// get follows a path such as "transform.x.offset" or "stations.0.side".
func get(t *testing.T, v any, path string) any {
	t.Helper()
	for key := range strings.SplitSeq(path, ".") {
		switch x := v.(type) {
		case map[string]any:
			next, ok := x[key]
			if !ok {
				t.Fatalf("%s: no key %q", path, key)
			}
			v = next
		case []any:
			var i int
			if _, err := fmt.Sscan(key, &i); err != nil || i >= len(x) {
				t.Fatalf("%s: no element %q", path, key)
			}
			v = x[i]
		default:
			t.Fatalf("%s: %v has no %q", path, x, key)
		}
	}
	return v
}

func checkPaths(t *testing.T, v map[string]any, want map[string]any) {
	t.Helper()
	for path, w := range want {
		if got := get(t, v, path); fmt.Sprint(got) != fmt.Sprint(w) {
			t.Errorf("%s is %v, want %v", path, got, w)
		}
	}
}

// The board of the quick look-up: a 140 mm blank, so x' = 140 - x; the stop at
// X190 leaves the corner at 190 - 140 = 50.
func TestOriginJSON(t *testing.T) {
	var b bytes.Buffer
	if err := OriginJSON(&b, stopAnswer(registration.Right)); err != nil {
		t.Fatal(err)
	}
	checkPaths(t, decode(t, b.Bytes()), map[string]any{
		"schema": 2, "units": "mm", "flip": "y",
		"transform.x.sign": -1, "transform.x.offset": 140, "transform.y.sign": 1, "transform.y.offset": 0, "transform.z.sign": 1,
		"swaps_arcs":         "[G17 G18]",
		"second_zero.offset": "G55", "second_zero.x": 50, "second_zero.y": 60, "second_zero.z": -20, "second_zero.from": "machine",
		"face_corner.x": 50, "back_corner.x": 50, "back_corner.from": "machine",
		"touches.1.same_edge": true, "touches.1.back_coordinate": 190,
	})
}

func TestOriginJSONWithoutRegister(t *testing.T) {
	a := markerAnswer()
	a.Second, a.BackCorner, a.Question.Register = nil, nil, registration.NoRegister
	var b bytes.Buffer
	if err := OriginJSON(&b, a); err != nil {
		t.Fatal(err)
	}
	v := decode(t, b.Bytes())
	if v["second_zero"] != nil || v["back_corner"] != nil {
		t.Errorf("second_zero %v, back_corner %v, want null", v["second_zero"], v["back_corner"])
	}
}

// A length keeps every digit that a decimal has, more than a binary float holds.
func TestLengthsAreExact(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"12.345678901234567890123", "12.345678901234567890123"},
		{"0.1", "0.1"},
		{"-0", "0"},
		{"1e3", "1000"},
		{"0.0000001", "0.0000001"},
		{"25.400", "25.4"},
	} {
		a := markerAnswer()
		a.Transform.X.Offset = decimal.RequireFromString(c.in)
		var b bytes.Buffer
		if err := OriginJSON(&b, a); err != nil {
			t.Fatal(err)
		}
		if got := get(t, decode(t, b.Bytes()), "transform.x.offset").(json.Number); string(got) != c.want {
			t.Errorf("%s is written %s, want %s", c.in, got, c.want)
		}
	}
}

func TestStationsJSON(t *testing.T) {
	var b bytes.Buffer
	if err := StationsJSON(&b, markerSetup()); err != nil {
		t.Fatal(err)
	}
	checkPaths(t, decode(t, b.Bytes()), map[string]any{
		"schema": 2, "pairs": 1, "stations.0.side": "face", "stations.0.offset": "G54", "stations.1.side": "back",
		"stations.1.zero.x": "240.5", "stations.1.zero.z": -30, "stations.1.corner.y": 50, "stations.1.turned": false, "stations.0.pair": 1,
	})
}

// A note doesn't make the answer no, and the first line says that there is one: what is
// typed, printed and read by machines says the same.
func TestVerdictCountsNotes(t *testing.T) {
	note := Finding{Code: "beyond-cone", Level: "note", Text: "a vee"}
	warning := Note{Level: "warning", Is: words.ThroughTaken{Outlines: 1}}
	pin := Finding{Code: "pin", Level: "finding", Text: "pin"}
	for _, c := range []struct {
		findings []Finding
		notes    []Note
		blind    bool
		want     string
	}{
		{nil, nil, false, "No fault found"},
		{nil, nil, true, "No fault found. Nothing goes right through"},
		{[]Finding{note}, nil, false, "No fault found, 1 note"},
		{[]Finding{note, note}, []Note{warning}, false, "No fault found, 1 warning, 2 notes"},
		{[]Finding{note, pin}, []Note{warning, warning}, true, "1 finding, 2 warnings, 1 note"},
	} {
		s := Setup{Check: &Check{Cell: 0.1, Findings: c.findings, Notes: c.notes, Blind: c.blind}}
		var terminal, page, data bytes.Buffer
		if err := errors.Join(Terminal(&terminal, s, Options{Width: 80}), HTML(&page, s), CheckJSON(&data, *s.Check, transform.MM, "")); err != nil {
			t.Fatal(err)
		}
		end := " (0.1 mm grid). Still dry run."
		if strings.HasPrefix(c.want, "1") {
			end = ": don"
		}
		if !strings.Contains(terminal.String(), c.want+end) || !strings.Contains(page.String(), c.want+end) {
			t.Errorf("no %q in\n%s", c.want+end, terminal.String())
		}
		checkPaths(t, decode(t, data.Bytes()), map[string]any{"verdict": c.want})
	}
}

func TestCheckJSON(t *testing.T) {
	c, three := *markerSetup().Check, Estimate(3)
	c.Findings = []Finding{
		{Code: "thin", Level: "finding", Place: &Place{1, 2}, Text: "thin"},
		{Code: "pin", Level: "finding", Hit: true, Place: &Place{60, 10}, Depth: &three, Cuts: Cuts{FaceLine: 41}, Text: "pin"},
	}
	c.Travel = append(c.Travel, Travel{Station: "G55", Axis: "X", Low: -3, High: 20})
	var b bytes.Buffer
	if err := CheckJSON(&b, c, transform.MM, ""); err != nil {
		t.Fatal(err)
	}
	v := decode(t, b.Bytes())
	checkPaths(t, v, map[string]any{"schema": 2, "ok": false, "web.min": 3.4, "web.x": 60.5, "web.y": 41.25, "broken_through": false,
		"travel.ok": false, "hits.0.face_line": 41, "hits.0.number": 2})
	if n := len(v["hits"].([]any)); n != 1 {
		t.Errorf("%d hits, want 1: a thin web is no hit", n)
	}
	b.Reset()
	if err := CheckJSON(&b, Check{Cell: 1}, transform.MM, ""); err != nil {
		t.Fatal(err)
	}
	clean := decode(t, b.Bytes())
	checkPaths(t, clean, map[string]any{"ok": true, "travel.known": false})
	if get(t, clean, "web.min") != nil {
		t.Error("no web was measured, yet web.min isn't null")
	}
	// Nothing was looked at, one station, both: only then it is said that it is enough.
	row := func(station, axis string) Travel {
		return Travel{Station: station, Axis: axis, Low: 1, High: 1, OK: true}
	}
	one := []Travel{row("G54", "X"), row("G54", "Y"), row("G54", "Z")}
	for _, travel := range []struct {
		rows      []Travel
		ok, known any
	}{
		{nil, nil, false},
		{one, nil, false},
		{append(slices.Clone(one), row("G56", "X"), row("G56", "Y"), row("G56", "Z")), true, true},
	} {
		c.Travel = travel.rows
		b.Reset()
		if err := CheckJSON(&b, c, transform.MM, ""); err != nil {
			t.Fatal(err)
		}
		got := decode(t, b.Bytes())["travel"].(map[string]any)
		if got["ok"] != travel.ok || got["known"] != travel.known {
			t.Errorf("%d rows: ok %v, known %v", len(travel.rows), got["ok"], got["known"])
		}
	}
}

func TestMirrorAndCorrectJSON(t *testing.T) {
	s := markerSetup()
	var b bytes.Buffer
	if err := MirrorJSON(&b, s.Mirrors[0]); err != nil {
		t.Fatal(err)
	}
	checkPaths(t, decode(t, b.Bytes()), map[string]any{"schema": 2, "blocks": 61, "before.cut_length": 812.4, "after.least.2": -12, "proved": true})
	b.Reset()
	l := Landed{Measured: []Measured{{DX: d("0.12"), DY: d("-0.05"), At: ptp("60", "40")}}, Before: s.Answer.Second,
		After: &registration.SecondZero{Offset: "G55", X: d("99.88"), Y: d("50.05"), Z: dp("-30"), Machine: true}}
	if err := CorrectJSON(&b, l, transform.MM); err != nil {
		t.Fatal(err)
	}
	checkPaths(t, decode(t, b.Bytes()), map[string]any{"schema": 2, "second_zero.x": "99.88", "before.x": 100, "measured.0.dy": "-0.05", "measured.0.at.x": 60})
}

// The same setup gives the same bytes, so that a folder can be compared.
func TestOutputsAreStable(t *testing.T) {
	render := func() string {
		var b bytes.Buffer
		s := markerSetup()
		for _, err := range []error{JSON(&b, s), Terminal(&b, s, Options{})} {
			if err != nil {
				t.Fatal(err)
			}
		}
		return b.String()
	}
	first := render()
	for range 5 {
		if again := render(); again != first {
			t.Fatal("two renderings differ")
		}
	}
}

// Estimates have at most six decimals and no exponent, what can't be said is null, an empty
// list is a list, and a name keeps its signs (RFC 8259, 6 and 7: numbers have no NaN, and
// only quotes, backslashes and controls need an escape).
func TestNumbersListsAndNames(t *testing.T) {
	for _, c := range []struct {
		v    any
		want string
	}{
		{Estimate(1.23456789), "1.234568"}, {Estimate(1e-9), "0"}, {Estimate(1e21), "1000000000000000000000"}, {Estimate(math.NaN()), "null"}, {Estimate(math.Inf(1)), "null"},
		{List[int](nil), "[]"}, {List[string]{"<pears & plums>"}, `["<pears & plums>"]`}, {[]any{d("12.50"), d("0.0000001")}, "[12.5,0.0000001]"},
		{registration.Pin{At: pt("1", "2")}, `{"x":1,"y":2}`}, {registration.SecondZero{Offset: "G55", X: d("1"), Y: d("2")}, `{"offset":"G55","x":1,"y":2,"z":null,"from":"face zero"}`},
	} {
		b, err := encoded(c.v, "")
		if got := strings.TrimSpace(string(b)); err != nil || got != c.want {
			t.Errorf("%v is written %s (%v), want %s", c.v, got, err, c.want)
		}
	}
}

// A finding without a place has no row that says where.
func TestNoPlaceNoRow(t *testing.T) {
	lost := Finding{Code: "through-count", Level: "finding", Text: "0 outlines"}
	placed := Finding{Code: "pin", Level: "finding", Text: "pin", Place: &Place{1, 2}}
	for _, c := range []struct {
		findings []Finding
		tables   int
	}{{[]Finding{lost}, 1}, {[]Finding{lost, placed}, 2}} {
		blocks := (&Check{Findings: c.findings}).findingTables("mm")
		if len(blocks) != c.tables || c.tables > 1 && len(blocks[1].(Table).Rows) != 1 {
			t.Errorf("%+v", blocks)
		}
	}
}

// Dowel holes that go through are no outline: a short one is still told. What is left of the
// travel is rounded down, so that what is exceeded by less than is shown isn't 0.
func TestVerdictCountsOutlinesAlone(t *testing.T) {
	for _, c := range []struct {
		outlines int
		want     string
	}{{0, "No fault found, 1 warning. No outline goes right through"}, {1, "No fault found"}} {
		s := Setup{Unit: transform.MM}
		check := s.found(&cut.Result{Grid: &cut.Grid{Cell: 1}, Outlines: c.outlines, Through: []cut.Through{{Kind: "hole"}}, Counted: c.outlines > 0}, nil)
		if got := check.Verdict(); got != c.want {
			t.Errorf("%d outlines: %q, want %q", c.outlines, got, c.want)
		}
	}
	travel := Check{Travel: []Travel{{Low: -0.0004, High: 1.0006}}}
	if row := travel.travelTable("mm").Rows[0]; row[2] != "-0.001" || row[3] != "1" {
		t.Errorf("travel left %q", row)
	}
}
