package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"flipcalc/cmd/flipcalc/ask"
)

// TestQuiet holds every verb to one rule: under --quiet standard output has the result
// alone, nothing where it goes into files, and standard error warnings and cautions alone.
func TestQuiet(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	t.Setenv("FLIPCALC_MACHINE", "")
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	dir := t.TempDir()
	made := filepath.Join(dir, "made")
	job := filepath.Join(orchard(t), "job.toml")
	outline := filepath.Join(orchard(t), "outline.nc")
	spoiled := filepath.Join(orchard(t), "..", "spoiled", "outline-short.toml")
	machine := filepath.Join(dir, "machine.toml")
	text, err := os.ReadFile(filepath.Join(orchard(t), "machine.toml"))
	if err == nil {
		err = os.WriteFile(machine, text, 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
	const zero = `^G56 X\S+ Y\S+\n$`
	tested := map[string]bool{}
	for _, c := range []struct {
		args string // with JOB, MADE and so on put in
		out  string // what standard output must match
		code int
	}{
		{"prepare JOB --set cell=1 -o MADE", `^$`, 0},
		{"prepare JOB --set cell=1 -o MADE --dry-run", `^(  \S+ +as it was\n)+$`, 0},
		{"origin --job JOB", zero, 0},
		{"origin --job JOB --budget", zero, 0},
		{"mirror OUTLINE --job JOB -o DIR/mirrored.nc", `^$`, 0},
		{"mirror OUTLINE --job JOB -o -", `^%\s(?s:.*)M30\s+%\s+$`, 0},
		{"pins --job JOB", `^60,6,6\n60,74,5\n$`, 0},
		{"pins --job JOB -o DIR/pins", `^$`, 0},
		{"pins --stock 60x60x8 --flip x --bore 30,30,12 --fit H7/g6 --round", `^\S+ \S+\n$`, 0},
		{"stations --job JOB", `^G54 X10 Y10\nG56 X180 Y10\n$`, 0},
		{"stations --job JOB -o DIR/offsets.nc", `^$`, 0},
		{"stations --job JOB -o -", `^\((?s:.*)\nM2\n$`, 0},
		{"stations --job JOB --machine MACHINE", `^G54 .*\nG56 .*\n$`, 0},
		{"pair MADE/face.nc MADE/back-outline.nc --job JOB", `^\d+ tool changes, \d+ s a cycle, [\d.]+ parts an hour\n$`, 0},
		{"pair MADE/face.nc MADE/back-outline.nc --job JOB -o DIR/run", `^$`, 0},
		{"check --job JOB --set cell=1", `^$`, 0},
		{"check --job SPOILED --set cell=1", `^Warning: 1 finding, 1 warning:`, 1},
		{"correct --job JOB --landed 0.12,-0.05", `^G56 X179.88 Y10.05, started from X180 Y10, computed\n$`, 0},
		{"correct --stock 120x80x12 --flip y --landed 0.12,-0.05", `^X-0.12 Y0.05\n$`, 0},
		{"sheet JOB --set cell=1", `^Row marker R7`, 0},
		{"sheet JOB --set cell=1 -o DIR/sheet.html", `^$`, 0},
	} {
		line := strings.NewReplacer("JOB", job, "MADE", made, "OUTLINE", outline, "DIR", dir, "SPOILED", spoiled, "MACHINE", machine).Replace(c.args)
		args := strings.Fields(line)
		tested[args[0]] = true
		var out, errs bytes.Buffer
		if code := run(append(args, "--quiet"), strings.NewReader(""), &out, &errs); code != c.code {
			t.Errorf("%s: exit %d\n%s", c.args, code, errs.String())
		}
		if !regexp.MustCompile(c.out).MatchString(out.String()) {
			t.Errorf("%s: printed\n%s\nwant %s", c.args, out.String(), c.out)
		}
		for _, l := range strings.Split(strings.TrimSuffix(errs.String(), "\n"), "\n") {
			if l != "" && c.code == 0 && !strings.HasPrefix(l, "flipcalc: warning: ") && !strings.HasPrefix(l, "flipcalc: caution: ") {
				t.Errorf("%s: standard error has %q", c.args, l)
			}
		}
	}
	for _, v := range ask.Verbs {
		if takes := ask.Find("quiet").TakenBy(v.Name); takes != tested[v.Name] {
			t.Errorf("%s: takes --quiet %v, tested %v", v.Name, takes, tested[v.Name])
		}
	}
}

// A turn and a warning of the answer reach standard error too.
func TestQuietWarns(t *testing.T) {
	t.Setenv("FLIPCALC_MACHINE", "")
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	job := filepath.Join(orchard(t), "job.toml")
	for _, c := range []struct{ args, want string }{
		{"origin --stock 140x90x19 --flip y --register fence --fence near --stop left --at 50,60", "flipcalc: warning: stop: another edge touches"},
		{"correct --job " + job + " --landed 0.1,0.02@20,40 --landed 0.1,0.16@100,40", "flipcalc: warning: the measurements show a turn, which no zero corrects: turn the back programs by -0.10027 degrees"},
		{"correct --job " + job + " --landed 9,0", "flipcalc: warning: a mismatch over 0.888 mm"},
	} {
		var out, errs bytes.Buffer
		if code := run(append(strings.Fields(c.args), "-q"), strings.NewReader(""), &out, &errs); code != 0 || !strings.Contains(errs.String(), c.want) {
			t.Errorf("%s: exit %d, standard error %q, want %q", c.args, code, errs.String(), c.want)
		}
	}
}
