package cycle

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// markers is a program for the two dowel holes of a 12 mm row marker, 6 mm deep
// into the spoilboard.
func markers() Drilling {
	return Drilling{
		Offset: "G54", Comment: "dowel holes for the row marker, 120x80x12: dry run above the work first",
		Surface: dec("0"), Clear: dec("1"), Safe: dec("10"), Floor: dec("-18"),
		Passes: []Pass{
			{Tool: 1, Speed: dec("6000"), Feed: dec("250"), Peck: dec("5"), Holes: []Hole{{dec("60"), dec("8"), dec("-18")}}},
			{Tool: 2, Speed: dec("8000"), Feed: dec("200"), Peck: dec("4"), Holes: []Hole{{dec("60"), dec("74"), dec("-17.5")}}},
		},
	}
}

func ExampleWrite() {
	p := markers()
	p.Passes = p.Passes[:1]
	if err := Write(os.Stdout, p); err != nil {
		fmt.Println(err)
	}
	// Output:
	// (dowel holes for the row marker, 120x80x12: dry run above the work first)
	// G21 G17 G90 G94 G40 G49 G80
	// G54
	// T1 M6
	// S6000 M3
	// G0 X60.000 Y8.000
	// G0 Z10.000
	// G0 Z1.000
	// G1 Z-5.000 F250.0
	// G0 Z1.000
	// G1 Z-10.000 F250.0
	// G0 Z1.000
	// G1 Z-15.000 F250.0
	// G0 Z1.000
	// G1 Z-18.000 F250.0
	// G0 Z10.000
	// M5
	// M30
}

// drilled is what the interpreter says that a program drills: the deepest feed at
// each place.
type drilled struct {
	at    map[string]string
	order []string
	moves int
}

// follow interprets a program and checks its manners: sideways at the safe height
// only, spindle on while it cuts, no rapid below the clearance height except in
// a cycle's own hole.
func follow(t *testing.T, text []byte, p Drilling) drilled {
	t.Helper()
	d := drilled{at: map[string]string{}}
	safe, clear := motion.FromDecimal(p.Safe), motion.FromDecimal(p.Clear)
	s, err := motion.Walk(bytes.NewReader(text), motion.Options{Unit: p.Unit}, func(m *motion.Move) error {
		d.moves++
		if m.State.Unit != p.Unit || m.State.Plane != transform.XY {
			t.Errorf("line %d: unit %v, plane %v", m.Line, m.State.Unit, m.State.Plane)
		}
		sideways := !m.FromOK[0] || !m.FromOK[1] || !m.From[0].Equal(m.To[0]) || !m.From[1].Equal(m.To[1])
		if d.moves == 1 && !(m.Kind == motion.Rapid && m.ToOK == [3]bool{true, true, false}) {
			t.Errorf("line %d: the first move isn't one across alone", m.Line)
		}
		if m.ToOK[0] && m.ToOK[1] && m.ToOK[2] && sideways {
			if m.Kind != motion.Rapid || !m.FromOK[2] || m.From[2].Cmp(safe) != 0 || m.To[2].Cmp(safe) != 0 {
				t.Errorf("line %d: a sideways move that isn't a rapid at the safe height", m.Line)
			}
		}
		down := m.FromOK[2] && m.To[2].Cmp(m.From[2]) < 0
		if m.Kind == motion.Rapid && down && m.To[2].Cmp(clear) < 0 && m.Cycle == 0 {
			t.Errorf("line %d: a rapid down to Z%s, below the clearance height", m.Line, m.To[2])
		}
		if m.Kind != motion.Rapid {
			if m.State.Spindle != 1 || !m.State.Feed.Equal(m.State.Feed) || m.State.Feed.Sign() <= 0 {
				t.Errorf("line %d: cuts with spindle %d, feed %s", m.Line, m.State.Spindle, m.State.Feed)
			}
			key := m.To[0].String() + "," + m.To[1].String()
			z, _ := m.To[2].Decimal()
			if old, ok := d.at[key]; !ok || z.LessThan(dec(old)) {
				if !ok {
					d.order = append(d.order, fmt.Sprintf("T%d:%s", m.State.Tool, key))
				}
				d.at[key] = z.String()
			}
		}
		return nil
	})
	if err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	if p.Offset != "" && (len(s.Offsets) != 1 || s.Offsets[0] == 0) {
		t.Errorf("offsets %v", s.Offsets)
	}
	return d
}

func write(t *testing.T, p Drilling) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// The motion interpreter finds the holes where they were asked for and no deeper,
// whether pecks are spelled out or cycles.
func TestHolesWhereAsked(t *testing.T) {
	for _, cycles := range []bool{false, true} {
		p := markers()
		p.Cycles = cycles
		d := follow(t, write(t, p), p)
		if got := fmt.Sprint(d.at); got != "map[60,74:-17.5 60,8:-18]" {
			t.Errorf("cycles %v: %s", cycles, got)
		}
		if got := strings.Join(d.order, " "); got != "T1:60,8 T2:60,74" {
			t.Errorf("cycles %v: %s", cycles, got)
		}
	}
}

// Random holes with odd decimals, with and without tool lengths and a clear height: the
// program is proved; each hole is found again, exactly, nothing else is cut, and no bite is
// deeper than the peck.
func TestRandomHoles(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 1))
	for range 100 {
		p := Drilling{Unit: transform.Unit(rng.IntN(2)), Cycles: rng.IntN(2) == 0, Offset: "G55", Comment: "test"}
		p.Surface = decimal.New(rng.Int64N(40000)-20000, -3)
		p.Clear = p.Surface.Add(decimal.New(1+rng.Int64N(3000), -3))
		p.Safe = p.Clear.Add(decimal.New(rng.Int64N(20000), -3))
		p.Floor = p.Surface.Sub(dec("100"))
		want := map[string]string{}
		for tool := range 1 + rng.IntN(3) {
			pass := Pass{Tool: tool + 1, Speed: dec("9000"), Feed: dec("300.5"), Peck: decimal.New(200+rng.Int64N(5000), -3)}
			for range 1 + rng.IntN(4) {
				h := Hole{X: decimal.New(rng.Int64N(4e9)-2e9, -6), Y: decimal.New(rng.Int64N(4e9)-2e9, -6),
					Bottom: p.Surface.Sub(decimal.New(1+rng.Int64N(30e6), -6))}
				pass.Holes = append(pass.Holes, h)
				want[h.X.String()+","+h.Y.String()] = h.Bottom.String()
			}
			p.Passes = append(p.Passes, pass)
		}
		line := []string{"", "T# M6 G43 H#", "T#"}[rng.IntN(3)]
		for i := range p.Passes {
			p.Passes[i].Line = strings.ReplaceAll(line, "#", fmt.Sprint(i+1))
		}
		up := decimal.New(-rng.Int64N(50000), -3)
		p.Up = &up
		if _, err := Drill(p); err != nil {
			t.Fatalf("%v\n%+v", err, p)
		}
		p.Up = nil
		text, err := Drill(p)
		if err != nil {
			t.Fatalf("%v\n%+v", err, p)
		}
		d := follow(t, text, p)
		if fmt.Sprint(d.at) != fmt.Sprint(want) {
			t.Fatalf("got  %v\nwant %v\n%s", d.at, want, text)
		}
		bites(t, text, p)
	}
}

// bites follows the material in each hole: a feed may go at most a peck below the
// deepest place reached so far, or below the surface.
func bites(t *testing.T, text []byte, p Drilling) {
	t.Helper()
	reached := map[string]motion.Num{}
	peck := map[int]motion.Num{}
	for _, pass := range p.Passes {
		peck[pass.Tool] = motion.FromDecimal(pass.Peck)
	}
	_, err := motion.Walk(bytes.NewReader(text), motion.Options{Unit: p.Unit}, func(m *motion.Move) error {
		if m.Kind == motion.Rapid {
			return nil
		}
		key := m.To[0].String() + "," + m.To[1].String()
		old, ok := reached[key]
		if !ok {
			old = motion.FromDecimal(p.Surface)
		}
		if old.Sub(m.To[2]).Cmp(peck[m.State.Tool]) > 0 {
			t.Errorf("line %d: a bite from Z%s to Z%s with a peck of %s", m.Line, old, m.To[2], peck[m.State.Tool])
		}
		if !ok || m.To[2].Cmp(old) < 0 {
			reached[key] = m.To[2]
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestDepths(t *testing.T) {
	for _, c := range []struct{ surface, bottom, peck, want string }{
		{"0", "-18", "5", "[-5 -10 -15 -18]"},
		{"0", "-15", "5", "[-5 -10 -15]"},
		{"0", "-15.0001", "5", "[-5 -10 -15 -15.0001]"},
		{"0", "-3", "5", "[-3]"},
		{"12", "-1", "6.5", "[5.5 -1]"},
	} {
		if got := fmt.Sprint(depths(dec(c.surface), dec(c.bottom), dec(c.peck))); got != c.want {
			t.Errorf("%+v: %s", c, got)
		}
	}
}

func TestRefusals(t *testing.T) {
	for _, c := range []struct {
		want string
		do   func(*Drilling)
	}{
		{`work offset "G53", expected G54 to G59, or G59.1 to G59.3`, func(p *Drilling) { p.Offset = "G53" }},
		{`work offset "G54\nM3", expected G54 to G59, or G59.1 to G59.3`, func(p *Drilling) { p.Offset = "G54\nM3" }},
		{`a comment with '(', expected plain characters without parentheses`, func(p *Drilling) { p.Comment = "a (b)" }},
		{`a comment with '\n', expected plain characters without parentheses`, func(p *Drilling) { p.Comment = "a\nM3" }},
		{`a comment with 'Ø', expected plain characters without parentheses`, func(p *Drilling) { p.Comment = "Ø6" }},
		{`a comment of 255 characters, expected at most 254`, func(p *Drilling) { p.Comment = strings.Repeat("x", 255) }},
		{`clearance height Z0 over a surface at Z0, expected a clearance above the surface`, func(p *Drilling) { p.Clear = p.Surface }},
		{`safe height Z0.5 under the clearance height Z1, expected a safe height at least as high`, func(p *Drilling) { p.Safe = dec("0.5") }},
		{`nothing to drill, expected at least one hole`, func(p *Drilling) { p.Passes = nil }},
		{`no hole for tool 2, expected at least one hole a tool`, func(p *Drilling) { p.Passes[1].Holes = nil }},
		{`no tool line between tool 1 and tool 2, expected a tool line, or one program a tool`, func(p *Drilling) { p.Passes[1].Line = "none" }},
		{`tool -1, expected 0 to 99999`, func(p *Drilling) { p.Passes[0].Tool = -1 }},
		{`tool line "T1 M6 G0 Z-5", expected T and a number, M6, and G43 H and a number where lengths are stored, such as T1 M6`,
			func(p *Drilling) { p.Passes[0].Line = "T1 M6 G0 Z-5" }},
		{`tool line "T1\nM6", expected T and a number, M6, and G43 H and a number where lengths are stored, such as T1 M6`,
			func(p *Drilling) { p.Passes[0].Line = "T1\nM6" }},
		{`spindle speed 0, expected turns a minute over 0`, func(p *Drilling) { p.Passes[0].Speed = dec("0") }},
		{`feed -1, expected a feed over 0`, func(p *Drilling) { p.Passes[0].Feed = dec("-1") }},
		{`peck 0, expected a depth over 0`, func(p *Drilling) { p.Passes[0].Peck = dec("0") }},
		{`hole 2 ends at Z0, not below the surface at Z0, expected a bottom below the surface`, func(p *Drilling) { p.Passes[1].Holes[0].Bottom = dec("0") }},
		{`hole 1 ends at Z-18.001, expected nothing below Z-18`, func(p *Drilling) { p.Passes[0].Holes[0].Bottom = dec("-18.001") }},
		{`hole 1 takes more than 1000 pecks of 0.001, expected a larger peck`, func(p *Drilling) { p.Passes[0].Peck = dec("0.001") }},
		{`holes 1 and 2 are both at X60 Y8, expected each hole once`, func(p *Drilling) { p.Passes[1].Holes[0].Y = dec("8.000") }},
	} {
		p := markers()
		c.do(&p)
		var b bytes.Buffer
		if err := Write(&b, p); err == nil || err.Error() != c.want || b.Len() > 0 {
			t.Errorf("got  %v (%d bytes)\nwant %s", err, b.Len(), c.want)
		}
	}
}

// The tool line as given, and none for the first tool of a machine without a
// changer.
func TestToolLines(t *testing.T) {
	p := markers()
	p.Passes[0].Line, p.Passes[1].Line = "none", "T7 M6 G43 H7"
	text := string(write(t, p))
	if strings.Contains(text, "T1") || !strings.Contains(text, "\nT7 M6\nS8000 M3\nG0 X60.000 Y74.000\nG0 G43 H7 Z10.000\n") || strings.Count(text, "M5\n") != 2 {
		t.Error(text)
	}
	follow(t, []byte(text), p)
}

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestWriteFailure(t *testing.T) {
	if err := Write(failing{}, markers()); err == nil || err.Error() != "disk full" {
		t.Errorf("%v", err)
	}
}
