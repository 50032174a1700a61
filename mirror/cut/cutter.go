package cut

import (
	"fmt"
	"sort"

	"flipcalc/mirror/fault"
)

// cutter is a tool ready to cut.
type cutter struct {
	Tool
	p     *profile
	shank *profile // what is above reach; nil where that isn't known
	reach float64  // length that cuts, from the tip: the flutes or, of a vee without them, its cone
	doubt float64  // how much deeper than a cell's height it may have cut there, mm
}

// newCutter makes a tool ready for a grid.
func newCutter(t Tool, g *Grid) *cutter {
	c := &cutter{Tool: t, p: t.profile(), reach: t.Flute}
	if c.p.flat < c.p.R {
		c.doubt = ErrorBound(t, g.Cell, 0, 0, g.T)
	}
	if t.Flute == 0 && t.Shape == Vee {
		c.reach = c.p.height(c.p.R)
	}
	if c.reach > 0 {
		c.shank = t.shank()
	}
	return c
}

// toolUse says which tool is in use from a line on.
type toolUse struct {
	line int
	tool *cutter
}

// tool finds a move's tool.
func (r *run) tool(s *Segment) (*cutter, error) {
	c := r.first
	if s.Tool >= 0 {
		if c = r.tools[s.Tool]; c == nil {
			return nil, &fault.Error{
				File: r.prog.Name, Line: r.told(s.Line), Col: 1,
				Found:    fmt.Sprintf("a cut with tool %d, which isn't described", s.Tool),
				Expected: "a tool that is",
				Hint:     fmt.Sprintf("add its shape, for example ‹tool + %d=flat,6›", s.Tool),
			}
		}
	}
	if n := len(r.uses); n == 0 || r.uses[n-1].tool != c {
		r.uses = append(r.uses, toolUse{s.Line, c})
	}
	return c, nil
}

// toolAt gives the tool in use on a line.
func (r *run) toolAt(line int) *cutter {
	n := sort.Search(len(r.uses), func(i int) bool { return r.uses[i].line > line })
	if n == 0 {
		return r.first
	}
	return r.uses[n-1].tool
}

// mostUsed gives the tool of most cells, of the lines that cut them.
func (r *run) mostUsed(made map[int]int) (tool *cutter) {
	cells := map[*cutter]int{}
	for line, n := range made {
		cells[r.toolAt(line)] += n
	}
	for c, n := range cells {
		if tool == nil || n > cells[tool] || n == cells[tool] && c.Number < tool.Number {
			tool = c
		}
	}
	return tool
}
