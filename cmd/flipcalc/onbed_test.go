package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// bedJob writes a job on a bed of 300 x 200 with the spindle nose at Z-140 on the table:
// a plate 100 x 60 x 10, turned away, zero 3 right of and 5 beyond the near-left corner, and
// programs that go from X20 at y, with rapids at z, on the face, the mirrored and the other.
func bedJob(t *testing.T, pins, more string, y [3][2]int, z [3]int) (job string) {
	t.Helper()
	t.Setenv("FLIPCALC_MACHINE", "")
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	dir := t.TempDir()
	files := map[string]string{
		"machine.toml": "units = \"mm\"\nfixture = 0\nbed = \"0,0,300x200\"\ntable = -140\ng10 = true\ng53 = true\n[travel]\nx = [0, 300]\ny = [0, 200]\nz = [-110, 0]\n",
		"job.toml": `units = "mm"
stock = "100x60x10"
flip = "x"
register = "dowels"
pin = [` + pins + `]
fit = "H11/h8"
zero = "3,5"
back-zero = "3,5"
machine = "machine.toml"
stick-out = "40"
face = "0.nc"
mirror = ["1.nc"]
back = ["2.nc"]
tool = ["1=flat,6"]
` + more,
	}
	for i := range y {
		files[fmt.Sprintf("%d.nc", i)] = fmt.Sprintf("G21 G90 G17\nG54\nT1 M6\nS9000 M3\nG0 X20 Y%d\nG0 Z%d\nG0 Z3\nG1 Z-1 F200\nG1 X40 Y%d\nG0 Z%[2]d\nM30\n", y[i][0], z[i], y[i][1])
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return filepath.Join(dir, "job.toml")
}

// readJSON runs a command and reads its JSON.
func readJSON(t *testing.T, answer any, args ...string) {
	t.Helper()
	var out, errs bytes.Buffer
	if code := run(append(args, "--json"), strings.NewReader(""), &out, &errs); code == 2 {
		t.Fatalf("%v: %s", args, errs.String())
	}
	if err := json.Unmarshal(out.Bytes(), answer); err != nil {
		t.Fatal(err)
	}
}

// The dowels' line lies at 25 of 60, so that the turned plate lies 2 x 25 - 60 = 10 nearer:
// its corner on the bed's edge, the face's is at Y10, and the face's cut at 10 + 5 + 20, the
// back's at 0 + 5 + 15 (derived).
func TestOneStationOnTheBed(t *testing.T) {
	job := bedJob(t, `"10,25,6", "90,25,5"`, "gap = \"0\"\n", [3][2]int{{20, 20}, {30, 30}, {15, 15}}, [3]int{5, 5, 5})
	var answer struct {
		Travel struct {
			Axes []struct {
				Station, Axis string
				Low           float64
			}
		}
	}
	readJSON(t, &answer, "check", "--job", job)
	got := map[string]float64{}
	for _, a := range answer.Travel.Axes {
		got[a.Station+a.Axis] = a.Low
	}
	if got["G54Y"] != 35 || got["G55Y"] != 20 {
		t.Errorf("room below the cuts in Y: %v, want 35 and 20", got)
	}
}

// The touch-off's check goes over all that either program of the back does: Z30 over a plate
// on a table at Z-140 with 40 of stick-out, so that Z0 is -90, is -60, and the longest tool
// sticks out 5 more (derived). The back's own program cuts to Y58; its plate ends at 60 - 5.
func TestProgramsOfTheBack(t *testing.T) {
	job := bedJob(t, `"10,30,6", "90,30,5"`, "gap = \"20\"\n", [3][2]int{{20, 20}, {35, 35}, {20, 58}}, [3]int{5, 5, 30})
	var answer struct {
		Stations struct {
			Checks []struct{ Lines []string } `json:"check_lines"`
		}
		Notes []struct{ Code, File string }
	}
	readJSON(t, &answer, "prepare", job, "-o", filepath.Join(t.TempDir(), "made"), "--set", "cell=1", "--set", "longest=45")
	if len(answer.Stations.Checks) != 2 {
		t.Errorf("%d offsets are checked, want 2", len(answer.Stations.Checks))
	}
	for _, c := range answer.Stations.Checks {
		if c.Lines[1] != "G53 G0 Z-55.000" {
			t.Errorf("checked with %q", c.Lines)
		}
	}
	off := 0
	for _, n := range answer.Notes {
		if n.Code == "off-blank" && filepath.Base(n.File) == "2.nc" {
			off++
		}
	}
	if off != 1 {
		t.Errorf("%d warnings that cuts lie beside the blank: %+v", off, answer.Notes)
	}
}
