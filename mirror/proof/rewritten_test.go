package proof_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"flipcalc/mirror"
	"flipcalc/mirror/proof"
	"flipcalc/mirror/transform"

	"github.com/shopspring/decimal"
)

// TestRewrittenMutants mirrors the real programs that may lie beside the repository,
// and the project's own, and changes the results in one word at a time.
func TestRewrittenMutants(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	dir := os.Getenv("FLIPCALC_PROGRAMS")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared", "programs")
	}
	var files []string
	for _, pattern := range []string{filepath.Join(dir, "*.n*"), filepath.Join(dir, "*.gcode"), filepath.Join("..", "..", "testdata", "*", "*.nc")} {
		names, _ := filepath.Glob(pattern)
		files = append(files, names...)
	}
	if len(files) == 0 {
		t.Skip("no programs here")
	}
	m := transform.Identity(transform.MM)
	m.X = transform.Axis{Sign: -1, Offset: decimal.RequireFromString("120.5")}
	made, caught, alike := 0, 0, 0
	for _, name := range files {
		in, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		r, err := mirror.Mirror(bytes.NewReader(in), &out, mirror.Options{Name: filepath.Base(name), Map: m, Comment: "turned over"})
		if err != nil {
			t.Logf("%s is refused: %v", filepath.Base(name), err)
			continue
		}
		o := proof.Options{Name: filepath.Base(name), Map: r.Map, InchMap: r.InchMap}
		if _, err := proof.CheckBy(string(in), out.String(), o, false); err != nil {
			t.Errorf("%s: not proved: %v", name, err)
			continue
		}
		was := ""
		proof.Mutants(t, out.String(), 200, func(text, what string) {
			made++
			_, err := proof.CheckBy(string(in), text, o, false)
			_, slow := proof.CheckBy(string(in), text, o, true)
			if fmt.Sprint(err) != fmt.Sprint(slow) {
				t.Errorf("%s: %s: the short way says %v, the long way %v", name, what, err, slow)
			}
			if err != nil {
				caught++
				return
			}
			if was == "" {
				was = proof.Trace(out.String(), o)
			}
			if proof.Trace(text, o) != was {
				t.Errorf("%s: %s: not caught", name, what)
				return
			}
			alike++
		})
	}
	t.Logf("%d mutants of rewritten programs: %d caught, %d move alike, %d missed: kill rate %.2f %%",
		made, caught, alike, made-caught-alike, 100*float64(caught)/float64(max(1, made-alike)))
}
