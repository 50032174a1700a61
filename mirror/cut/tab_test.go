package cut

import (
	"math"
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
			if f.Code != CodeEarly {
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
