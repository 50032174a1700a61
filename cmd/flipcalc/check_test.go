package main

import (
	"bytes"
	"encoding/json"
	"html"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// checked is what the tests read of check's JSON.
type checked struct {
	OK  bool
	Web struct{ Min, X, Y *float64 }

	BrokenThrough bool `json:"broken_through"`

	Hits, Findings []struct {
		Number   int
		Code     string
		FaceFile string `json:"face_file"`
		FaceLine int    `json:"face_line"`
		BackFile string `json:"back_file"`
		BackLine int    `json:"back_line"`
		Text, Do string
		X, Y     *float64
	}
	Travel struct {
		OK    *bool
		Known bool
	}
	Picture string
}

// check runs the verb in a folder of testdata, with a picture, and gives the exit
// code, what it says in JSON and what is in the picture.
func check(t *testing.T, folder, ending string, args ...string) (code int, c checked, picture []byte) {
	t.Helper()
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	t.Setenv("FLIPCALC_MACHINE", "")
	name := filepath.Join(t.TempDir(), "check"+ending)
	args = append([]string{"check", "--json", "--picture", name}, args...)
	for i, a := range args {
		if strings.HasSuffix(a, ".toml") || strings.HasSuffix(a, ".nc") {
			args[i] = filepath.Join("..", "..", "testdata", folder, a)
		}
	}
	var out, errw bytes.Buffer
	code = run(args, strings.NewReader(""), &out, &errw)
	if code == exitWrong {
		t.Fatalf("%v: %s", args, &errw)
	}
	if err := json.Unmarshal(out.Bytes(), &c); err != nil {
		t.Fatalf("%v: %v\n%s%s", args, err, &out, &errw)
	}
	if c.Picture != name {
		t.Errorf("picture %q", c.Picture)
	}
	picture, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return code, c, picture
}

// Each spoiled variant of the row marker holds one mistake that a maker makes; the
// finding, and the file that it is in, follow from the mistake (derived).
func TestSpoiledJobsAreFound(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	for _, s := range []struct {
		job   string
		args  []string
		codes string // all kinds of finding, in order
		file  string // where the first one is
	}{
		{"deeper-back", nil, "broken-through vee-over-cone", "lettering-deep.nc"},
		{"wrong-flip-axis", nil, "through-missed", "outline-flip-x.nc"},
		{"wrong-mirror-line", nil, "off-blank", "lettering-about-x0.nc"},
		{"pin-in-path", nil, "pin-cut bore-broken", "face.nc"},
		{"thin-blank", nil, "part-loose", "outline.nc"},
		{"outline-short", nil, "through-short", "outline-short.nc"},
		{"skim-said", nil, "skim-short", "tray-face.nc"},
		{"wrong-tool", nil, "through-step", "outline-t2.nc"},
		{"offset-swapped", []string{"--face", "face-g56.nc", "--back", "outline-g54.nc"}, "wrong-offset", "face-g56.nc"},
	} {
		t.Run(s.job, func(t *testing.T) {
			code, c, svg := check(t, "spoiled", ".svg", append([]string{"--job", s.job + ".toml"}, s.args...)...)
			if code != exitNo || c.OK {
				t.Errorf("exit %d, ok %v", code, c.OK)
			}
			picture := html.UnescapeString(string(svg))
			var codes []string
			for _, f := range c.Findings {
				if !slices.Contains(codes, f.Code) {
					codes = append(codes, f.Code)
				}
				if f.Text == "" || f.Do == "" || f.FaceLine == 0 && f.BackLine == 0 {
					t.Errorf("not told in full: %+v", f)
				}
				// The picture lists it, and marks it where it has a place.
				if !strings.Contains(picture, f.Text) {
					t.Errorf("not in the picture's description: %s", f.Text)
				}
				if mark := ">" + string(rune('0'+f.Number)) + "</text>"; f.X != nil && !strings.Contains(picture, mark) {
					t.Errorf("finding %d isn't marked in the picture", f.Number)
				}
			}
			if got := strings.Join(codes, " "); got != s.codes {
				t.Errorf("found %s, want %s", got, s.codes)
			}
			if len(c.Findings) > 0 && filepath.Base(c.Findings[0].FaceFile) != s.file && filepath.Base(c.Findings[0].BackFile) != s.file {
				t.Errorf("found in %q and %q, want %s", c.Findings[0].FaceFile, c.Findings[0].BackFile, s.file)
			}
			if c.BrokenThrough != slices.Contains(codes, "broken-through") || (len(c.Hits) > 0) != (s.job == "pin-in-path") {
				t.Errorf("broken through %v, hits %+v", c.BrokenThrough, c.Hits)
			}
		})
	}
}

// Sound jobs of every kind of register, zero, flip and unit raise nothing.
func TestSoundJobsRaiseNothing(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	jobs, err := filepath.Glob("../../testdata/clean/*.toml")
	if err != nil || len(jobs) < 10 {
		t.Fatalf("%d jobs, %v", len(jobs), err)
	}
	for _, j := range append(jobs, "../../testdata/orchard/job.toml") {
		folder, name := filepath.Base(filepath.Dir(j)), filepath.Base(j)
		t.Run(name, func(t *testing.T) {
			code, c, picture := check(t, folder, ".png", "--job", name)
			for _, f := range c.Findings {
				t.Errorf("%+v", f)
			}
			if code != exitDone || !c.OK || c.BrokenThrough || len(c.Hits) > 0 || (c.Travel.OK == nil) == c.Travel.Known || c.Travel.Known && !*c.Travel.OK {
				t.Errorf("exit %d, %+v", code, c)
			}
			if c.Web.Min == nil || *c.Web.Min <= 0 {
				t.Error("nothing was cut")
			}
			if _, err := png.Decode(bytes.NewReader(picture)); err != nil {
				t.Error(err)
			}
		})
	}
}

// Check reads its programs where they lie: twenty times the length takes no more memory.
func TestCheckKeepsNoProgram(t *testing.T) {
	t.Setenv("FLIPCALC_MACHINE", "")
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	path := filepath.Join(t.TempDir(), "face.nc")
	taken := func(lines int) uint64 {
		text := "G21 G90 G17 G54\nT1 M6\nM3 S9000\nG0 X0 Y0 Z5\n" + strings.Repeat(strings.Repeat(" ", 99)+"\n", lines) + "G1 X50 Y30 Z-1 F900\nG0 Z5\nM30\n"
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		var said strings.Builder
		if code := run([]string{"check", "--face", path, "--back", path, "--stock", "120x80x12", "--flip", "y", "--tool", "1=flat,6"}, strings.NewReader(""), io.Discard, &said); code == exitWrong {
			t.Fatal(said.String())
		}
		runtime.ReadMemStats(&after)
		return after.TotalAlloc - before.TotalAlloc
	}
	if short, long := taken(10_000), taken(200_000); long > short+10e6 {
		t.Errorf("20 MB take %d bytes, 1 MB %d", long, short)
	}
}
