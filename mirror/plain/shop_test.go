package plain

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"flipcalc/mirror/motion"
)

// unaccepted are the programs of testdata/shop.txtar that are refused, and for what: how the message begins.
var unaccepted = map[string]string{
	"subroutine-g10-refused": "2:1: G10 (writes offsets or tool data)",
	"probing-refused":        "3:1: G31 (a probing move)",
	"probing-oword-refused":  "2:1: G38.2 (a probing move)",
	"scaling":                "6:1: G51 without Z, expected the centre of each axis that it scales",
	"sub-return-value-form":  "2:4: endsub with a value, expected endsub alone",
	"system-param-position":  "3:4: parameter #5041, which the program hasn't set, expected a block that sets it first",
	"modal-saved":            "2:4: parameter #4003, which the program hasn't set, expected a block that sets it first",
	"comma-corner":           "4:7: character ','",
	"m-codes-unusual":        "4:1: M51, which isn't followed",
	"colon-number":           "2:1: character ':'",
	"k-repeats-incremental":  "5:32: K without a code that uses it",
	"oword-exists":           "1:8: EXISTS, which asks what the control holds",
	"inch-fractions":         "6:7: '/' in the middle of a block",
	"m47-style-unknown":      "5:1: M47, which isn't followed",
	"m99-main-loop":          "6:1: M99 in the main program, which would repeat without end, expected M2 or M30",
}

// TestShop: programs of the kind that a workshop writes, each against the second evaluator:
// what it makes of the program and of the plain text is the same, within the rounding.
func TestShop(t *testing.T) {
	text, err := os.ReadFile("testdata/shop.txtar")
	if err != nil {
		t.Fatal(err)
	}
	accepted := 0
	files := strings.Split("\n"+string(text), "\n-- ")[1:]
	for _, file := range files {
		name, text, _ := strings.Cut(file, " --\n")
		var out bytes.Buffer
		_, err := Write([]byte(text+"\n"), &out, Options{Read: motion.Options{Name: name, Extended: true}})
		if want, no := unaccepted[name]; no || err != nil {
			if err == nil || !no || !strings.HasPrefix(err.Error(), name+":"+want) {
				t.Errorf("%s: %v, want %s", name, err, want)
			}
			continue
		}
		accepted++
		if diff := unlike(newSecond(text).run(), newSecond(out.String()).run()); diff != "" {
			t.Errorf("%s: %s\n%s", name, diff, out.String())
		}
	}
	t.Logf("%d of %d accepted", accepted, len(files))
}

// unlike compares moves; those that go nowhere count for nothing.
func unlike(a, b []made) string {
	a, b = moving2(a), moving2(b)
	for i := range max(len(a), len(b)) {
		if i >= len(a) || i >= len(b) {
			return fmt.Sprintf("%d moves, written %d", len(a), len(b))
		}
		v, w := a[i], b[i]
		off := 0.0
		for k := range 3 {
			off = math.Max(off, math.Abs(v.to[k]-w.to[k]))
		}
		off = math.Max(off, math.Max(math.Abs(v.centre[0]-w.centre[0]), math.Abs(v.centre[1]-w.centre[1])))
		off = math.Max(off, math.Abs(v.level-w.level))
		if v.kind != w.kind || off > 0.0006 || math.Abs(v.feed-w.feed) > 1e-5 && v.kind != "G0" || v.tool != w.tool || math.Abs(v.s-w.s) > 1e-3 {
			return fmt.Sprintf("move %d: %+v, written %+v", i+1, v, w)
		}
	}
	return ""
}

func moving2(all []made) (out []made) {
	at := [3]float64{math.NaN()}
	for _, m := range all {
		off := 0.0
		for k := range 3 {
			if d := math.Abs(m.to[k] - at[k]); !(d < 0.0011) {
				off = 1
			}
		}
		if off > 0 || m.kind == "G2" || m.kind == "G3" || len(m.kind) > 2 {
			out = append(out, m)
		}
		at = m.to
	}
	return out
}
