package cut

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
)

// The marker's outline leaves two tabs, in the middle of the long sides, at X70 and
// Y7 and Y73. What is left of them is the thickness less both depths (derived).
func TestTabs(t *testing.T) {
	for _, c := range []struct {
		name  string
		edit  func(m *marker)
		count int
		least float64
	}{
		{"cut from both sides", func(*marker) {}, 2, 12 - 6.3 - 3.5},
		{"cut from the back, over a shallow groove of the face", func(m *marker) { m.faceOutline, m.backDepth, m.tab = -2, -12.3, -9 }, 2, 12 - 2 - 9},
		{"one of the two cut away, the other 1 lower", func(m *marker) {
			m.back = func(p *prog) { p.tool(1); p.stroke(-6.3, 60, 73, 80, 73); p.stroke(-4.5, 60, 7, 80, 7) }
		}, 1, 12 - 6.3 - 4.5},
		{"in a groove of the face wider than that of the back", func(m *marker) { m.backTool = 3 }, 2, 12 - 6.3 - 3.5},
		{"none", func(m *marker) {
			m.tab = 0
			m.edit = func(q *Request) { q.HeldAll = true }
		}, 0, 0},
	} {
		m := clean()
		c.edit(&m)
		r := m.check(t)
		// Depths are held to 24 bits.
		if r.Tabs.Count != c.count || math.Abs(r.Tabs.Least-c.least) > 1e-5 {
			t.Errorf("%s: %+v, want %d of %g", c.name, r.Tabs, c.count, c.least)
		}
		if c.count > 0 && (math.Abs(r.Tabs.X-70) > 1 || math.Min(math.Abs(r.Tabs.Y-7), math.Abs(r.Tabs.Y-73)) > 3) {
			t.Errorf("%s: lies at X%g Y%g", c.name, r.Tabs.X, r.Tabs.Y)
		}
	}
}

// A part that stands on its tabs should not be cut any more (common practice); what is
// cut in the margin, or while the part is held, is no matter.
func TestCutAfterTheOutline(t *testing.T) {
	after := func(q *Request, cut func(p *prog)) {
		p := newProg(q.W, q.H, "y")
		cut(p)
		p.say("M30")
		q.Back.Then = []Program{{Name: "after.nc", Read: strings.NewReader(p.String())}}
	}
	letters := func(p *prog) { p.tool(2); p.stroke(-1, 90, 30, 100, 40); p.stroke(-1, 60, 50, 70, 50) }
	for _, c := range []struct {
		name string
		edit func(q *Request)
		line int // of after.nc, 0 for none
	}{
		{"letters", func(q *Request) { after(q, letters) }, 6},
		{"a hole through the part", func(q *Request) {
			after(q, func(p *prog) { p.tool(3); p.drill(50, 40, -12.3) })
		}, 6},
		{"in the margin", func(q *Request) {
			after(q, func(p *prog) { p.tool(2); p.stroke(-1, 8, 10, 8, 30) })
		}, 0},
		{"held by vacuum", func(q *Request) { after(q, letters); q.HeldAll = true }, 0},
		{"a screw in the part", func(q *Request) { after(q, letters); q.Held = [][2]float64{{70, 40}} }, 0},
		{"nothing", func(*Request) {}, 0},
	} {
		m := clean()
		m.edit = c.edit
		line := 0
		for _, f := range m.check(t).Findings {
			if f, ok := f.(*CutOnTabs); !ok {
				t.Errorf("%s: %+v", c.name, f)
			} else if line = f.BackLine; f.BackFile != "after.nc" || f.Side != Back {
				t.Errorf("%s: in %s, %v", c.name, f.BackFile, f.Side)
			}
		}
		if line != c.line {
			t.Errorf("%s: line %d, want %d", c.name, line, c.line)
		}
	}
}

// A tab too low to hold is told, a long stretch as low is a cut that falls short. The face
// goes 6.3 mm deep, the cutter is 6 mm: what is left is 5.7 mm less the back's depth there,
// and in the middle of the groove 6 mm shorter than the way at that depth (derived).
func TestLowTabs(t *testing.T) {
	ramped := func(x0, x1, y float64) []Segment {
		m := (x0 + x1) / 2
		d := math.Copysign(6, x1-x0)
		return []Segment{line(3, x0, y, -6.3, m-d, y, -6.3), line(3, m-d, y, -6.3, m, y, -2), line(3, m, y, -2, m+d, y, -6.3), line(3, m+d, y, -6.3, x1, y, -6.3)}
	}
	// One long stretch on the near side, a sound tab on the far one.
	stretch := func(from, to, z float64) []Segment {
		far := tabbed(20, 12, 80, 48, -6.3, -3)
		return append([]Segment{line(3, 20, 12, -6.3, from, 12, -6.3), line(3, from, 12, z, to, 12, z), line(3, to, 12, -6.3, 80, 12, -6.3)}, far[3:]...)
	}
	for _, c := range []struct {
		name   string
		back   []Segment
		edit   func(q *Request)
		want   Finding
		n      int
		left   float64
		length float64
		tabs   int
	}{
		{"0.7 mm high", tabbed(20, 12, 80, 48, -6.3, -5), nil, nil, 0, 0, 0, 2},
		{"0.5 mm high, under a tenth of the cutter", tabbed(20, 12, 80, 48, -6.3, -5.2), nil, &TabLow{}, 2, 0.5, 0, 2},
		{"0.02 mm high", tabbed(20, 12, 80, 48, -6.3, -5.68), nil, &TabLow{}, 2, 0.02, 0, 2},
		{"held by vacuum", tabbed(20, 12, 80, 48, -6.3, -5.2), func(q *Request) { q.HeldAll = true }, nil, 0, 0, 0, 2},
		{"part and margin held", tabbed(20, 12, 80, 48, -6.3, -5.2), func(q *Request) { q.Held = [][2]float64{{50, 30}, {5, 5}} }, nil, 0, 0, 0, 2},
		{"the part held alone", tabbed(20, 12, 80, 48, -6.3, -5.2), func(q *Request) { q.Held = [][2]float64{{50, 30}} }, &TabLow{}, 2, 0.5, 0, 2},
		{"gone on a thin blank", tabbed(20, 12, 80, 48, -6.3, -4.9), func(q *Request) { q.ThicknessTol = 0.8 }, &TabDoubtful{}, 2, 0.8, 0, 2},
		{"there on a thin blank", tabbed(20, 12, 80, 48, -6.3, -4.8), func(q *Request) { q.ThicknessTol = 0.6 }, nil, 0, 0, 0, 2},
		{"tabs by ramps", append(append(ramped(20, 80, 12), rect(4, 20, 12, 80, 48, -6.3)[1]), append(ramped(80, 20, 48), rect(4, 20, 12, 80, 48, -6.3)[3])...), nil, nil, 0, 0, 0, 2},
		{"35 mm short", stretch(30, 65, -5.4), nil, &StretchShort{}, 1, 0.3, 29, 1},
		{"35 mm short, held by vacuum", stretch(30, 65, -5.4), func(q *Request) { q.HeldAll = true }, &StretchShort{}, 1, 0.3, 29, 1},
		{"a tab 29 mm long and 3.2 mm high", stretch(30, 65, -2.5), nil, nil, 0, 0, 0, 2},
		{"a low tab 14 mm long", stretch(30, 50, -5.4), nil, &TabLow{}, 1, 0.3, 0, 2},
	} {
		q := plain()
		for i := range c.back {
			c.back[i].Line = i + 3
		}
		q.Face.Segments, q.Back.Segments = rect(3, 20, 12, 80, 48, -6.3), turnedOver(c.back)
		if c.edit != nil {
			c.edit(&q)
		}
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		if r.Tabs.Count != c.tabs {
			t.Errorf("%s: %+v, want %d", c.name, r.Tabs, c.tabs)
		}
		r.Findings = slices.DeleteFunc(r.Findings, func(f Finding) bool { return f.Code() == "through-short-at-tolerance" })
		if c.want == nil {
			if !r.OK() {
				t.Errorf("%s: %+v", c.name, r.Findings)
			}
			continue
		}
		if len(r.Findings) != 1 || reflect.TypeOf(r.Findings[0]) != reflect.TypeOf(c.want) || r.Findings[0].At().Count != c.n {
			t.Errorf("%s: %+v", c.name, r.Findings)
			continue
		}
		f := r.Findings[0].At()
		near(t, c.name, figure(r.Findings[0]), c.left, 1e-5)
		if s, ok := r.Findings[0].(*StretchShort); ok {
			near(t, c.name+", length", s.Length, c.length, 2*q.Cell)
		}
		if f.FaceLine == 0 || f.BackLine == 0 || math.Min(math.Abs(f.Y-12), math.Abs(f.Y-48)) > 0.3 {
			t.Errorf("%s: %+v", c.name, f)
		}
	}
}

// A tab needs no more than half of the thickness: in 1 mm of veneer, cut by a cutter of 6 mm
// from one side, one 0.55 mm high is sound and one 0.45 mm high isn't (derived: the limit is 0.5,
// a tenth of the cutter 0.6).
func TestTabsOfAThinBlank(t *testing.T) {
	for _, c := range []struct {
		z    float64
		want string
	}{{-0.45, ""}, {-0.55, "tab-low"}} {
		q := plain()
		q.T = 1
		q.Face.Segments = tabbed(20, 12, 80, 48, -1.3, c.z)
		for i := range q.Face.Segments {
			q.Face.Segments[i].Line = i + 1
		}
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		if got := codes(r); got != c.want {
			t.Errorf("tabs cut to %g: found %q, want %q: %+v", c.z, got, c.want, r.Findings)
		}
	}
}

// A tab over which the cutter is lifted is a tab: as high as the blank, and what is cut in the
// part afterwards is cut on tabs. Whole tiles of the grid, 12.8 mm wide here, are uncut on the
// longer one.
func TestLiftedTabs(t *testing.T) {
	for _, long := range []float64{6, 30} {
		var around []Segment
		for _, s := range rect(3, 20, 12, 80, 48, -12.3) {
			if s.From[1] != s.To[1] {
				around = append(around, s)
				continue
			}
			d := math.Copysign(long/2+3, s.To[0]-s.From[0])
			around = append(around, line(s.Line, s.From[0], s.From[1], -12.3, 50-d, s.From[1], -12.3), line(s.Line, 50+d, s.From[1], -12.3, s.To[0], s.To[1], -12.3))
		}
		q := plain()
		q.Face.Segments = append(around, line(9, 40, 30, -1, 60, 30, -1))
		r, err := Check(q)
		if err != nil {
			t.Fatal(err)
		}
		if got := codes(r); got != "cut-on-tabs" || r.Outlines != 1 || r.Openings != 0 {
			t.Errorf("%g mm: found %q, %d outlines, %d openings", long, got, r.Outlines, r.Openings)
		}
		if r.Tabs.Count != 2 || r.Tabs.Least != 12 {
			t.Errorf("%g mm: %+v, want 2 of 12", long, r.Tabs)
		}
	}
}
