package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"flipcalc/cmd/flipcalc/job"
	"flipcalc/testdata/draws"
)

// obstacle is what stands on a bed: a rectangle in machine X and Y and its height over the
// table.
type obstacle struct{ x, y, w, h, height float64 }

// meets says whether a round cutter with its tip at a height stands in it.
func (s obstacle) meets(x, y, radius, tip float64) bool {
	if tip >= s.height {
		return false
	}
	dx, dy := max(s.x-x, x-s.x-s.w, 0), max(s.y-y, y-s.y-s.h, 0)
	return math.Hypot(dx, dy) < radius-1e-9
}

// rapids gives places along the ways that the axes of a rapid may take, from a to b: each
// axis at a rate of its own until it is there, and straight.
func rapids(a, b [2]float64) (out [][2]float64) {
	leg := func(a, b [2]float64) {
		n := 1 + int(math.Hypot(b[0]-a[0], b[1]-a[1])/3)
		for i := range n + 1 {
			f := float64(i) / float64(n)
			out = append(out, [2]float64{a[0] + (b[0]-a[0])*f, a[1] + (b[1]-a[1])*f})
		}
	}
	dx, dy := math.Abs(b[0]-a[0]), math.Abs(b[1]-a[1])
	for _, rate := range []float64{0, 0.1, 0.3, 1, 3, 10, math.Inf(1)} { // of Y to X
		x, y := 0.0, dy // what is done when the first axis is there
		if rate*dx < dy {
			x, y = dx, rate*dx
		} else if !math.IsInf(rate, 1) && rate > 0 {
			x = dy / rate
		}
		turn := [2]float64{a[0] + math.Copysign(x, b[0]-a[0]), a[1] + math.Copysign(y, b[1]-a[1])}
		leg(a, turn)
		leg(turn, b)
	}
	leg(a, b)
	return out
}

// A random bed: no-go areas of known and unknown height, a fixture in use, a place to
// park and one to change tools, one or two pairs. Where pair writes programs, a cutter that
// follows them word by word, from wherever it may start, meets nothing that stands there.
// Where it refuses a way, one of the ways that its rapids may take without the areas meets
// one of them. The reader here knows only G53, offsets, M6 and X, Y, Z.
func TestRandomBedsAndTheSweptTool(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	const table, longest, thick = -140, 45, 12
	r := rand.New(rand.NewPCG(24, 7))
	word := regexp.MustCompile(`([GXYZM])(-?[0-9.]+)`)
	var accepted, refused, over, parked int
	for bed := range draws.Of(120) {
		dir := t.TempDir()
		W, H := float64(40+r.IntN(80)), float64(40+r.IntN(60))
		dia := float64(2 + r.IntN(12))
		side := func(name string) string {
			text := "G21 G90 G17\n"
			for tool := range 1 + r.IntN(2) {
				text += fmt.Sprintf("T%d M6\nS9000 M3\nG0 G43 H%d Z5.\nX%d. Y%d.\nG1 Z-1. F300\nX%d. Y%d.\nG0 Z5.\n", tool+1, tool+1,
					r.IntN(int(W)), r.IntN(int(H)), r.IntN(int(W)), r.IntN(int(H)))
			}
			path := filepath.Join(dir, name)
			if err := os.WriteFile(path, []byte(text+"M30\n"), 0o644); err != nil {
				t.Fatal(err)
			}
			return path
		}
		face, back := side("a.nc"), side("b.nc")
		machine := fmt.Sprintf("table = %d\nbed = \"20,20,660x360\"\n", table)
		var park, change *[2]float64
		place := func(key string) *[2]float64 {
			p := [2]float64{float64(r.IntN(701)), float64(r.IntN(401))}
			machine += fmt.Sprintf("%s = [%g, %g]\n", key, p[0], p[1])
			return &p
		}
		if r.IntN(3) == 0 {
			park = place("park")
		}
		if r.IntN(4) == 0 {
			change = place("tool-change")
		}
		machine += "[travel]\nx = [0, 700]\ny = [0, 400]\nz = [-110, 0]\n"
		var stand, areas []obstacle
		if r.IntN(2) == 0 {
			f := obstacle{float64(r.IntN(600)), float64(r.IntN(300)), 60, 60, float64(10 + r.IntN(50))}
			machine += fmt.Sprintf("[[offset]]\nname = \"G59\"\nzero = [%g, %g, %g]\nrectangle = \"%g,%g,60x60\"\nstick-out = 40\n", f.x, f.y, table+40+f.height, f.x, f.y)
			stand = append(stand, f)
		}
		file := filepath.Join(dir, "machine.toml")
		if err := os.WriteFile(file, []byte(machine), 0o644); err != nil {
			t.Fatal(err)
		}
		args := []string{face, back, "--stock", fmt.Sprintf("%gx%gx%d", W, H, thick), "--flip", []string{"x", "y"}[r.IntN(2)], "--machine", file, "--set", fmt.Sprint("longest=", longest),
			"--tool", fmt.Sprintf("1=flat,%g", dia), "--tool", "2=flat,1", "--pairs", fmt.Sprint(1 + r.IntN(2)), "--order", []string{"tools", "stations"}[r.IntN(2)]}
		var noGo []string
		for range 1 + r.IntN(3) {
			a := obstacle{float64(r.IntN(640)), float64(r.IntN(340)), float64(10 + r.IntN(150)), float64(10 + r.IntN(150)), math.Inf(1)}
			text := fmt.Sprintf("--no-go=%g,%g,%gx%g", a.x, a.y, a.w, a.h)
			if r.IntN(2) == 0 {
				a.height = float64(5 + r.IntN(90))
				text += fmt.Sprintf(",%g", a.height)
			}
			noGo, areas = append(noGo, text), append(areas, a)
		}
		clear := -float64(r.IntN(40))
		if r.IntN(3) == 0 {
			noGo = append(noGo, "--set", fmt.Sprintf("clear=%g", clear))
		}
		// follow gives the first thing met by programs that were written.
		follow := func(out string, stations []toldStation, stand []obstacle) string {
			zeros := map[string][2]float64{}
			for _, s := range stations {
				zeros[s.Offset] = [2]float64{s.Zero.X, s.Zero.Y}
			}
			var ends [3][2]float64
			walk := func(program int, at [2]float64) (met string) {
				text, err := os.ReadFile(filepath.Join(out, job.RunFiles[program]))
				if err != nil {
					t.Fatal(err)
				}
				zero, own, tip := [2]float64{}, "", 0.0
				radius := dia / 2
				goTo := func(to [2]float64, line int) {
					for _, p := range rapids(at, to) {
						for _, s := range stand {
							if met == "" && s.meets(p[0], p[1], radius, tip) {
								met = fmt.Sprintf("%s:%d: X%.2f Y%.2f, tip %g: %+v", job.RunFiles[program], line, p[0], p[1], tip, s)
							}
						}
						for _, s := range stations {
							blank := obstacle{s.Corner.X, s.Corner.Y, W, H, thick}
							if met == "" && s.Offset != own && blank.meets(p[0], p[1], radius, tip) {
								met = fmt.Sprintf("%s:%d: X%.2f Y%.2f, tip %g: the blank at %s", job.RunFiles[program], line, p[0], p[1], tip, s.Offset)
							}
						}
					}
					at = to
				}
				for n, line := range strings.Split(string(text), "\n") {
					line, _, _ = strings.Cut(line, "(")
					g53, z, to, moves := false, math.NaN(), at, false
					for _, w := range word.FindAllStringSubmatch(line, -1) {
						v, _ := strconv.ParseFloat(w[2], 64)
						switch a := strings.Index("XY", w[1]); {
						case w[0] == "G53":
							g53 = true
						case w[0] == "M6" && change != nil:
							goTo(*change, n+1)
							to = at
						case w[1] == "G" && v >= 54 && v < 60:
							own, zero = w[0], zeros[w[0]]
						case a >= 0 && g53:
							to[a], moves = v, true
						case a >= 0:
							to[a], moves = v+zero[a], true
						case w[1] == "Z":
							z = v
						}
					}
					if moves {
						goTo(to, n+1)
					}
					if !math.IsNaN(z) {
						if tip = 0; g53 {
							tip = z - table - longest
						}
					}
				}
				ends[program] = at
				return met
			}
			for i, from := range [3][]int{{2}, {0, 1}, {0, 1}} {
				starts := [][2]float64{}
				for range 2 { // once for where each of them ends
					for p := range 3 {
						walk(p, ends[p])
					}
				}
				for _, p := range from {
					starts = append(starts, ends[p])
				}
				for _, z := range zeros {
					if i == 0 {
						starts = append(starts, z)
					}
				}
				for _, s := range starts {
					if met := walk(i, s); met != "" {
						return met
					}
				}
			}
			return ""
		}
		try := func(name string, more ...string) (code int, out, errs string) {
			var o, e bytes.Buffer
			out = filepath.Join(dir, name)
			code = run(append(append([]string{"pair"}, args...), append(more, "--json", "-o", out)...), strings.NewReader(""), &o, &e)
			if code == exitDone {
				return code, out, o.String()
			}
			return code, out, e.String()
		}
		stations := func(more ...string) (list []toldStation) {
			var answer struct{ Stations []toldStation }
			var o, e bytes.Buffer
			call := append([]string{"stations", "--face", face, "--back", back, "--json"}, args[2:len(args)-2]...)
			if code := run(append(call, more...), strings.NewReader(""), &o, &e); code != exitDone {
				t.Fatalf("bed %d: stations: %s", bed, e.String())
			}
			if err := json.Unmarshal(o.Bytes(), &answer); err != nil {
				t.Fatal(err)
			}
			return answer.Stations
		}
		code, out, said := try("with", noGo...)
		switch {
		case code == exitDone:
			accepted++
			if met := follow(out, stations(noGo...), append(stand, areas...)); met != "" {
				t.Errorf("bed %d: accepted, and the tool meets %s\n%s\n%s", bed, met, machine, strings.Join(append(args, noGo...), " "))
			}
			for _, a := range areas {
				if park != nil && a.meets(park[0], park[1], dia/2, 0) {
					t.Errorf("bed %d: parked in %+v", bed, a)
				}
			}
		case strings.Contains(said, "place to park"):
			parked++
		case strings.Contains(said, "goes over no-go"):
			over++
			var v [8]float64
			if n, err := fmt.Sscanf(said[strings.Index(said, ", X"):], ", X%f Y%f to X%f Y%f, goes over no-go %f,%f,%fx%f", &v[0], &v[1], &v[2], &v[3], &v[4], &v[5], &v[6], &v[7]); n < 8 {
				t.Fatal(said, err)
			}
			// At a corner the cutter's square is counted for its round.
			met := false
			for _, p := range rapids([2]float64{v[0], v[1]}, [2]float64{v[2], v[3]}) {
				met = met || (obstacle{v[4], v[5], v[6], v[7], 1}).meets(p[0], p[1], dia/2*math.Sqrt2+5, 0)
			}
			if !met {
				t.Errorf("bed %d: refused for nothing: %s", bed, said)
			}
		default:
			refused++
		}
	}
	t.Logf("%d beds accepted, %d refused, %d of them for a way, %d for the place to park", accepted, refused, over, parked)
	if accepted < draws.Of(30) || over < draws.Of(10) || parked < draws.Of(3) {
		t.Error("too few of one sort")
	}
}
