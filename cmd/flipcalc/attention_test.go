package main

import (
	"encoding/json"
	"errors"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// TestLinesOfAnswers: what a terminal shows unasked stays within the lines that a person
// reads at the machine, tables left out; the second zero stands in the first line of a
// look-up; no warning or caution is said twice; and --why says no less.
func TestLinesOfAnswers(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	job := orchard(t) + "/job.toml"
	clean := orchard(t) + "/../clean/"
	for _, c := range []struct {
		name string
		args []string
		most int
	}{
		{"fence look-up", strings.Fields("origin --stock 140x90x19 --flip y --register fence --fence near --stop left --back-stop right --at 50,60,-20"), 16},
		{"dowels look-up", strings.Fields("origin --stock 120x80x12 --flip y --register dowels --pin 60,6,6 --pin 60,74,5 --fit H7/g6 --at 10,10"), 16},
		{"plug look-up", strings.Fields("origin --stock 64x64x15 --flip x --register plug --bore 32,32,12 --plug 12 --clock pin=56,32 --zero center --at 150,120,-85"), 16},
		{"no register", strings.Fields("origin --stock 120x80x12 --flip x"), 16},
		{"origin of the job", []string{"origin", "--job", job}, 16},
		{"mirror", []string{"mirror", orchard(t) + "/outline.nc", "--job", job, "-o", t.TempDir() + "/back.nc"}, 24},
		{"check dowels", []string{"check", "--job", job}, 24},
		{"check plug", []string{"check", "--job", clean + "bobbin-end.toml"}, 24},
		{"check fence", []string{"check", "--job", clean + "bread-board.toml"}, 24},
		{"correct", []string{"correct", "--job", job, "--landed", "0.12,-0.05"}, 24},
		{"prepare dowels", []string{"prepare", job, "-n"}, 40},
		{"prepare plug", []string{"prepare", clean + "bobbin-end.toml", "-n"}, 40},
	} {
		got := flipcalc(t, c.args...)
		n, said := 0, map[string]bool{}
		lines := strings.Split(strings.TrimRight(got, "\n"), "\n")
		for _, l := range lines {
			if strings.ContainsAny(l, "│┌├└") {
				continue
			}
			n++
			if strings.HasPrefix(l, "Warning:") || strings.HasPrefix(l, "Caution:") {
				if said[l] {
					t.Errorf("%s says twice: %s", c.name, l)
				}
				said[l] = true
			}
		}
		if n > c.most {
			t.Errorf("%s: %d lines, at most %d:\n%s", c.name, n, c.most, got)
		}
		if c.args[0] == "origin" && c.name != "no register" && !strings.HasPrefix(lines[0], "G5") {
			t.Errorf("%s begins with %q, not with the second zero", c.name, lines[0])
		}
		if len(flipcalc(t, append(c.args, "--why")...)) < len(got) {
			t.Errorf("%s --why says less", c.name)
		}
	}
}

// TestStepsAreShort: each caution stands at one step alone, and no sentence of a step, a warning or a caution has more than 15 words,
// over the jobs of testdata and over each way to locate a blank; a number with its unit and
// a place are read as one word, a command and the names of keys aren't read.
func TestStepsAreShort(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	testdata := orchard(t) + "/../"
	var runs [][]string
	for _, pattern := range []string{"orchard/job.toml", "clean/*.toml"} {
		jobs, err := filepath.Glob(testdata + pattern)
		if err != nil || len(jobs) == 0 {
			t.Fatal(pattern, err)
		}
		for _, j := range jobs {
			runs = append(runs, []string{"prepare", j, "-n", "--set", "cell=0.04in"})
		}
	}
	runs = append(runs, []string{"prepare", testdata + "orchard/job.toml", "-n", "--set", "cell=1", "--pairs", "2"})
	for _, located := range []string{
		"--register fence --fence near --stop left --back-stop right",
		"--register fence --fence near --stop left --back-stop right --at 50,60,-20 --z-zero bed",
		"--register fence --fence left --stop near --back-fence right --set touch-off=once",
		"--register dowels --pin 60,6,6 --pin 60,74,5 --fit H7/g6 --at 10,10",
		"--register dowels --pin 60,6,6 --pin 60,74,6 --fit H7/m6 --set drilled=face --set skimmed=0.5",
		"--register plug --bore 60,40,12 --plug 12 --clock pin=60,60,4 --at 150,120",
		"--register plug --bore 60,40,12 --plug 11.9 --clock flat=near",
		"--register plug --bore 60,40,12 --plug 12 --round",
		"",
	} {
		runs = append(runs, strings.Fields("sheet --stock 120x80x12 --measured 119.8x80.1x12.2 --flip y "+located))
	}
	for _, r := range runs {
		answer := []byte(flipcalc(t, append(r, "--json")...))
		var sheet any
		var list struct {
			Steps []struct{ Cautions []string }
		}
		if err := errors.Join(json.Unmarshal(answer, &sheet), json.Unmarshal(answer, &list)); err != nil {
			t.Fatal(r, err)
		}
		said := map[string]bool{}
		for _, step := range list.Steps {
			for _, c := range step.Cautions {
				if said[c] {
					t.Errorf("%s cautions twice: %s", strings.Join(r, " "), c)
				}
				said[c] = true
			}
		}
		for _, text := range spoken(sheet) {
			for _, s := range sentenceEnd.Split(unread.ReplaceAllString(text, ""), -1) {
				if len(strings.Fields(quantity.ReplaceAllString(s, "$1"))) > 15 {
					t.Errorf("%s: %s", strings.Join(r, " "), s)
				}
			}
		}
	}
}

var (
	sentenceEnd = regexp.MustCompile(`[.;?!](?:\s+|$)`)
	unread      = regexp.MustCompile(`\([^)]*\.nc[^)]*\)|\[[^\]]*\]|flipcalc .*DY2@X2,Y2`)
	quantity    = regexp.MustCompile(`(\d) (?:mm2?|in2?|degrees|min)\b|([XYZ]-?[\d.]+ )+| \+`)
)

// spoken gives the texts of steps, and of all that warns or cautions, in an answer's JSON.
func spoken(v any) (out []string) {
	switch v := v.(type) {
	case []any:
		for _, e := range v {
			out = append(out, spoken(e)...)
		}
	case map[string]any:
		text, _ := v["text"].(string)
		level, levelled := v["level"].(string)
		if text != "" && (!levelled || level == "warning" || level == "caution") {
			out = append(out, text)
		}
		for _, e := range v {
			out = append(out, spoken(e)...)
		}
	}
	return out
}
