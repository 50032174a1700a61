package motion

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// row is a program and what it does: its moves as tell writes them, with "; " between, or
// "!" and how its refusal begins, lines counted from the row's own first. In the program
// | ends a block.
type row struct{ program, want string }

// table is rows with what they rest on.
type table struct {
	source string // where the expectations come from
	before string // blocks before each row, whose moves aren't compared
	o      Options
	tell   func(*Move) string // nil for ends
	flow   bool               // only Run takes it: parameters, jumps and macros
	rows   []row
}

// check runs each row by Run and, but for flow, by Walk as well.
func (c table) check(t *testing.T) {
	t.Helper()
	tell := c.tell
	if tell == nil {
		tell = ends
	}
	head := ""
	if c.before != "" {
		head = strings.ReplaceAll(c.before, "|", "\n") + "\n"
	}
	first := strings.Count(head, "\n")
	for _, r := range c.rows {
		text := head + strings.ReplaceAll(r.program, "|", "\n") + "\n"
		for name, run := range map[string]func(func(*Move) error) error{
			"Run": func(visit func(*Move) error) error {
				return Run([]byte(text), c.o, func(_ *Machine, _ *Block, moves []Move) error {
					for i := range moves {
						if err := visit(&moves[i]); err != nil {
							return err
						}
					}
					return nil
				})
			},
			"Walk": func(visit func(*Move) error) error {
				_, err := Walk(strings.NewReader(text), c.o, visit)
				return err
			},
		} {
			if c.flow && name == "Walk" {
				continue
			}
			var out []string
			err := run(func(m *Move) error {
				if m.Line > first {
					out = append(out, tell(m))
				}
				return nil
			})
			got := strings.Join(out, "; ")
			if err != nil {
				line, rest := 0, err.Error()
				if _, e := fmt.Sscanf(rest, "%d:", &line); e == nil {
					_, rest, _ = strings.Cut(rest, ":")
					rest = fmt.Sprintf("%d:%s", line-first, rest)
				}
				got = "!" + rest
			}
			if refusal := strings.HasPrefix(r.want, "!"); got != r.want && !(refusal && err != nil && strings.HasPrefix(got, r.want)) {
				t.Errorf("%s (%s):\n%s\n\tgot  %s\n\twant %s", name, c.source, r.program, got, r.want)
			}
		}
	}
}

// check runs tables.
func check(t *testing.T, tables []table) {
	t.Helper()
	for _, c := range tables {
		c.check(t)
	}
}

// ends writes a move as its kind and where it ends, ? for what isn't known; of an arc also
// centre, along the plane's axes, and sweep in degrees, counter-clockwise positive.
func ends(m *Move) string {
	s := [...]string{"r ", "f ", "cw ", "ccw ", "s ", "store "}[m.Kind]
	if m.Either {
		s = "either "
	}
	if m.Machine {
		s = "machine " + s
	}
	if m.Home {
		return "home"
	}
	for i := range 3 {
		if i > 0 {
			s += ","
		}
		if m.ToOK[i] {
			s += short(m.To[i].Float())
		} else {
			s += "?"
		}
	}
	if !m.Circular() {
		return s
	}
	centre, _, sweep, ok := m.Arc()
	if !ok {
		return s + " from somewhere"
	}
	if !m.ByRadius && !(m.CentreOK[0] && m.CentreOK[1]) {
		return s + fmt.Sprintf(" by %s", short(sweep*180/math.Pi))
	}
	return s + fmt.Sprintf(" @%s,%s by %s", short(centre[0]), short(centre[1]), short(sweep*180/math.Pi))
}

// short writes a number to six decimals at most, without zeros at the end.
func short(v float64) string {
	s := strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.6f", v), "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}
