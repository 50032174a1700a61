package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// TestFrozen holds what the jobs of testdata come to: for each the exit code, the check
// sums of the programs that are written, comments aside, and every number and yes or no
// of the JSON. A difference is wanted or it is a fault; -update writes it down.
func TestFrozen(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	testdata := filepath.Join(orchard(t), "..")
	runs := map[string][]string{
		"pair-one":       {"pair", "orchard/face.nc", "orchard/lettering.nc", "--job", "orchard/job.toml"},
		"pair-two":       {"pair", "orchard/face.nc", "orchard/lettering.nc", "--job", "orchard/job.toml", "--pairs", "2"},
		"mirror-orchard": {"mirror", "orchard/outline.nc", "--job", "orchard/job.toml"},
		"mirror-flip-x":  {"mirror", "orchard/face.nc", "--stock", "120x80x12", "--flip", "x", "--zero", "center", "--z-zero", "top", "--back-z-zero", "bed"},
		"mirror-inch":    {"mirror", "clean/inch-tag-face.nc", "--job", "clean/inch-tag.toml"},
	}
	for _, folder := range []string{"orchard", "clean", "spoiled"} {
		jobs, err := filepath.Glob(filepath.Join(testdata, folder, "*.toml"))
		if err != nil || len(jobs) == 0 {
			t.Fatal(folder, err)
		}
		for _, j := range jobs {
			if name := filepath.Base(j); name != "machine.toml" {
				runs["prepare-"+strings.TrimSuffix(name, ".toml")] = []string{"prepare", folder + "/" + name}
			}
		}
	}
	for name, args := range runs {
		t.Run(name, func(t *testing.T) {
			golden := filepath.Join(testdata, "frozen", name+".txt")
			got := frozen(t, testdata, args)
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			was, is := lines(string(want)), lines(got)
			for _, l := range was {
				if !slices.Contains(is, l) {
					t.Errorf("gone: %s", l)
				}
			}
			for _, l := range is {
				if !slices.Contains(was, l) {
					t.Errorf("new:  %s", l)
				}
			}
		})
	}
}

func lines(s string) []string { return strings.Split(strings.TrimSpace(s), "\n") }

var comment = regexp.MustCompile(`\([^)\n]*\)|;.*`)

// frozen runs a verb and gives what of its answer stays the same, sorted.
func frozen(t *testing.T, testdata string, args []string) string {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	t.Setenv("FLIPCALC_MACHINE", "")
	folder := t.TempDir()
	target := folder
	if args[0] == "mirror" {
		target = filepath.Join(folder, "back.nc")
	}
	for i, a := range args {
		if strings.Contains(a, "/") {
			args[i] = filepath.Join(testdata, filepath.FromSlash(a))
		}
	}
	var out, errw bytes.Buffer
	code := run(append(args, "-o", target, "--json"), strings.NewReader(""), &out, &errw)
	all := []string{fmt.Sprintf("exit=%d", code)}

	var v any
	d := json.NewDecoder(&out)
	d.UseNumber()
	if err := d.Decode(&v); err != nil {
		t.Fatalf("%v\n%s", err, &errw)
	}
	numbers := map[string][]string{}
	flatten(numbers, "", v)
	for _, key := range slices.Sorted(maps.Keys(numbers)) {
		all = append(all, key+"="+strings.Join(numbers[key], " "))
	}

	programs, err := filepath.Glob(filepath.Join(folder, "*.nc"))
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range programs {
		text, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, fmt.Sprintf("%s=%x", filepath.Base(p), sha256.Sum256(comment.ReplaceAll(text, nil))))
	}
	return strings.Join(all, "\n") + "\n"
}

// flatten gathers the numbers under each key, those of a list in its order. What is worded
// is left out: steps and notes, and sizes that count comments.
func flatten(into map[string][]string, key string, v any) {
	switch v := v.(type) {
	case map[string]any:
		for _, k := range slices.Sorted(maps.Keys(v)) {
			if !slices.Contains([]string{"bytes", "notes", "steps"}, k) {
				flatten(into, strings.TrimPrefix(key+"."+k, "."), v[k])
			}
		}
	case []any:
		for _, e := range v {
			flatten(into, key, e)
		}
	case json.Number, bool:
		into[key] = append(into[key], fmt.Sprint(v))
	}
}
