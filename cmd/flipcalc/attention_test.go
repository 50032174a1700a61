package main

import (
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
