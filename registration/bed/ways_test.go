package bed

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"flipcalc/registration"
)

// A way goes over an area where the rectangle between its ends, with the cutter around it,
// shares a cell with it: by brute force on 2,000 ways over up to two areas of known height.
func TestCrossingBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 6))
	high := n(20)
	over := 0
	for i := range 2000 {
		c := &Crossing{Radius: n(rng.IntN(3))}
		for range 1 + rng.IntN(2) {
			c.Areas = append(c.Areas, Area{Rect: rect(rng.IntN(12), rng.IntN(12), 1+rng.IntN(3), 1+rng.IntN(3)), Height: &high})
		}
		from, to := [2]int{rng.IntN(14), rng.IntN(14)}, [2]int{rng.IntN(14), rng.IntN(14)}
		c.Ways = []Way{{From: at(from[0], from[1]), At: at(to[0], to[1]), Known: true, Clear: true}}
		r := int(c.Radius.IntPart())
		var want []string
		for _, a := range c.Areas {
			met := false
			for cell := range cells(a.Rect) {
				met = met || cell[0] >= min(from[0], to[0])-r && cell[0] < max(from[0], to[0])+r && cell[1] >= min(from[1], to[1])-r && cell[1] < max(from[1], to[1])+r
			}
			// Without width a way along an axis shares no cell, and touches nothing.
			if met {
				want = append(want, a.String())
			}
		}
		// A way of no width has its rectangle's inside between its ends alone.
		got, err := c.Over()
		if err != nil {
			t.Fatalf("way %d: %v", i, err)
		}
		var names []string
		for _, a := range got {
			names = append(names, a.String())
		}
		if r > 0 || from[0] != to[0] && from[1] != to[1] {
			if fmt.Sprint(names) != fmt.Sprint(want) {
				t.Errorf("from %v to %v with a cutter of radius %d: over %v, want %v of %v", from, to, r, names, want, c.Areas)
			}
			over += len(want)
		}
	}
	if over < 200 {
		t.Errorf("only %d areas were met", over)
	}
}

// What a run may not go over, and what it may.
func TestCrossingMessages(t *testing.T) {
	high := n(20)
	post, low := Area{Rect: rect(40, 0, 10, 100)}, Area{Rect: rect(40, 0, 10, 100), Height: &high}
	way := Way{From: at(0, 50), At: at(100, 50), Known: true, Clear: true, To: "G55", Where: "steady.nc:12"}
	with := func(change func(*Way)) Way {
		w := way
		change(&w)
		return w
	}
	for _, r := range []struct {
		name  string
		area  Area
		way   Way
		want  string
		areas int
	}{
		{"at the clear height over an area of known height", low, way, "", 1},
		{"beside it", low, with(func(w *Way) { w.At = at(30, 50) }), "", 0},
		{"over what reaches up to the spindle", post, way,
			"steady.nc:12: the way to G55, X0 Y50 to X100 Y50, goes over no-go 40,0,10x100, expected a way clear of it; a rapid need not run straight; hint: give its height over the bed, 40,0,10x100,HEIGHT, or place the stations otherwise", 0},
		{"below the clear height", low, with(func(w *Way) { w.Clear = false }),
			"steady.nc:12: the way to G55, X0 Y50 to X100 Y50, meets no-go 40,0,10x100,20 below the clear height, expected a way clear of it; hint: take that move out of the program: the merged program goes up and across by itself", 0},
		{"between places that nobody said", low, with(func(w *Way) { w.Known = false }),
			"steady.nc:12: a way to G55 between places that aren't known, expected ways clear of no-go 40,0,10x100,20; hint: say where the stations lie (‹at›, or ‹pairs› with a machine file); home for G28", 0},
	} {
		c := &Crossing{Areas: []Area{r.area}, Ways: []Way{r.way}, Radius: n(3)}
		got, err := c.Over()
		if text := fmt.Sprint(err); text != r.want && (err != nil || r.want != "") || len(got) != r.areas {
			t.Errorf("%s: %v, %v\nwant %d areas, %s", r.name, got, err, r.areas, r.want)
		}
	}
	// Where nothing stands on the bed a way may be unknown.
	if got, err := (&Crossing{Ways: []Way{with(func(w *Way) { w.Known = false })}}).Over(); err != nil || got != nil {
		t.Errorf("no areas: %v, %v", got, err)
	}
}

// Where the tool may stand while hands are at the stations.
func TestParkFaults(t *testing.T) {
	m := router()
	high := n(20)
	c := &Crossing{Areas: []Area{{Rect: rect(300, 300, 20, 20), Height: &high}}, Radius: n(3)}
	l, err := Place(m, markers(1))
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range []struct {
		name  string
		fault func(registration.Point) *registration.Error
		at    registration.Point
		want  string
	}{
		{"beside everything", m.ParkFault, at(700, 500), ""},
		{"at the travel's end", m.ParkFault, at(800, 600), ""},
		{"right of the travel", m.ParkFault, at(801, 0), "a place to park at X801, expected X inside the travel, 0 to 800; hint: it is in machine coordinates"},
		{"near of the travel", m.ParkFault, at(0, -1), "a place to park at Y-1, expected Y inside the travel, 0 to 600; hint: it is in machine coordinates"},
		{"beyond measure", m.ParkFault, registration.Point{X: d("1e7")}, "a length of more than a million, expected at most 1000000 with at most 9 decimals"},
		{"over a station", l.ParkFault, at(150, 10), "a place to park at X150 Y10, over the back station of pair 1 (X 150 to 270, Y 0 to 80), expected a place beside every station; hint: hands load there while the cutter stands over it"},
		{"between the stations", l.ParkFault, at(135, 10), ""},
		{"inside a no-go area", c.ParkFault, at(310, 310), "a place to park at X310 Y310, inside no-go 300,300,20x20,20, expected a place beside every no-go area, cutter included"},
		{"with the cutter inside", c.ParkFault, at(298, 310), "a place to park at X298 Y310, inside no-go 300,300,20x20,20, expected a place beside every no-go area, cutter included"},
		{"with the cutter against it", c.ParkFault, at(297, 310), ""},
	} {
		got := ""
		if f := r.fault(r.at); f != nil {
			got = f.Error()
		}
		if got != r.want {
			t.Errorf("%s: %s\nwant %s", r.name, got, r.want)
		}
	}
	m.G53 = false
	if f := m.ParkFault(at(0, 0)); f == nil || !strings.HasPrefix(f.Error(), "a place to park on a control without G53, expected g53 = true") {
		t.Errorf("without G53: %v", f)
	}
}

// A clear height that the maker gives, over areas of known height: table at -150, a tool of 40
// and an area of 60 meet at -50, so -49.9 passes and -50 doesn't (derived).
func TestPasses(t *testing.T) {
	m := router()
	long, high, table := n(40), n(60), n(-150)
	areas := []Area{{Rect: rect(0, 0, 10, 10), Height: &high}}
	if err := m.Passes(areas, n(0), 0, &long); err == nil || err.Error() !=
		"clear: a way over no-go 0,0,10x10,60, and whether the longest tool passes over it at Z0 isn't known, expected table in the machine file, and ‹longest›" {
		t.Error(err)
	}
	m.Table = &table
	if err := m.Passes(areas, n(0), 0, nil); err == nil {
		t.Error("passes with a tool of unknown length")
	}
	if err := m.Passes(areas, d("-49.9"), 0, &long); err != nil {
		t.Error(err)
	}
	if err := m.Passes(areas, n(-50), 0, &long); err == nil || err.Error() != "clear: Z-50, where the longest tool reaches down to no-go 0,0,10x10,60, expected higher than Z-50" {
		t.Error(err)
	}
	if err := m.Passes(nil, n(-50), 0, nil); err != nil {
		t.Errorf("no areas: %v", err)
	}
}
