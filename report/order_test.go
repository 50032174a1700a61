package report

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report/words"
)

// orderText are the order's lines, numbered as they stand on page one.
func orderText(s Setup) string {
	var lines []string
	for _, st := range s.order() {
		lines = append(lines, st.Title)
		for i, t := range st.Ticks {
			lines = append(lines, strings.ReplaceAll(itoa(st.First+i)+" "+t.Text, "\u00a0", " "))
		}
	}
	return strings.Join(lines, "\n")
}

// What is run stands there in order and once: where cycles are merged the sides' own
// programs cut the test piece alone, and the boxes don't name them.
func TestOrder(t *testing.T) {
	merged := markerSetup()
	alone := markerSetup()
	alone.Plan = nil
	drilled := markerSetup()
	drilled.Pins = &PinFit{Drilling: []Drilling{
		{Name: "bed.nc", Where: "bed", Offset: "G54", Holes: []Drilled{{From: d("-12")}}},
		{Name: "blank.nc", Where: "blank", Offset: "G54", Holes: []Drilled{{From: d("0")}}}}}
	bedZero := markerSetup()
	bedZero.Plan, bedZero.Answer.Question.ZZero = nil, registration.Bed
	deep := markerSetup()
	deep.Plan = nil
	deep.Programs[0].Lowest, deep.Programs[1].Lowest = dp("-6"), dp("-6.5")
	turned, mixed := markerSetup(), markerSetup()
	turned.Plan, turned.Stations = nil, []bed.Station{station(1, bed.FaceSide, "G54", "100", "50"), station(1, bed.BackSide, "G55", "240", "50")}
	turned.Stations[0].Turn, turned.Stations[1].Turn = 1, 1
	mixed.Plan, mixed.Stations = nil, append(slices.Clone(turned.Stations), station(2, bed.FaceSide, "G56", "100", "200"), station(2, bed.BackSide, "G57", "240", "200"))
	for _, c := range []struct {
		name string
		s    Setup
		want []string // one after the other
		not  []string
	}{
		{"merged", merged, []string{"Once\n1 Write down G54 and G55:\n2 Run offsets.nc once", "In G54 raise Z", "Test piece: run face.nc\n", "over to G55; seat, clamp, touch off Z in G55", "In G55 raise Z", "Test piece: run back.nc; measure", "Each cycle\n", "New blank on G54", "First cycle: first.nc, face only",
			"Turn the part from G54 over to G55; new blank on G54", "Every cycle: cycle.nc, both", "Last cycle: last.nc, back only"}, []string{"Run face.nc", "Run back.nc", "In G54 and G55 raise Z"}},
		{"alone", alone, []string{"Face\n", "seat it FACE up", "Touch off Z in G54", "raise Z", "Run face.nc (3:32 min)\nBack\n", "Turn: edge B left, D right", "Brush out chips; seat it BACK up; clamp it", "Touch off Z in G55", "Run back.nc (5:40 min)"},
			[]string{"Test piece", "first.nc"}},
		{"drilled", drilled, []string{"2 Run offsets.nc", "Touch off the bare bed as Z-12; run bed.nc", "Each blank, no dowels in the bed: touch off Z, run blank.nc", "Set the dowels"}, nil},
		{"zero on the bed", bedZero, []string{"Touch off Z in G54 on the seating plane", "seat it FACE up"}, nil},
		// A quarter turn counter-clockwise brings the near edge to the right.
		{"turned", turned, []string{"seat it FACE up, edge A right; clamp it", "seat it BACK up, edge A right; clamp it"}, nil},
		{"one pair turned", mixed, []string{"1 Write down all offsets:", "seat it FACE up, turned as on page 2; clamp it", "Touch off Z in G54 and G56"}, nil},
		// 12 thick + 6.5 deep + 10 over it, but the travel leaves 25.
		{"short of travel", deep, []string{"In G54 raise Z by 28 mm; dry run; lower it again", "Blank off. In G55 raise Z by 25 mm"}, nil},
	} {
		text := orderText(c.s)
		from := 0
		for _, w := range c.want {
			i := strings.Index(text[from:], w)
			if i < 0 {
				t.Errorf("%s: no %q behind %d of\n%s", c.name, w, from, text)
				break
			}
			from += i
		}
		for _, n := range c.not {
			if strings.Contains(text, n) {
				t.Errorf("%s: %q in\n%s", c.name, n, text)
			}
		}
		named := slices.ContainsFunc(c.s.zeroBoxes(), func(b zeroBox) bool { return b.Run != "" })
		if named == (c.s.merged() || len(c.s.Stations) > 2) {
			t.Errorf("%s: the boxes name programs: %v", c.name, named)
		}
	}
}

// The box says who stores the zero and what Z to expect, the line over it what is stored.
func TestZeroBoxesSayWhatIsStored(t *testing.T) {
	whole, called := markerSetup(), markerSetup()
	called.Reading[0], called.Reading[1] = dp("-88"), dp("-88")
	for i := range called.Stations {
		called.Stations[i].Zero.Z = nil
	}
	byHand := markerSetup()
	byHand.LinesFile = ""
	for _, c := range []struct {
		name, zero, from, level string
		s                       Setup
	}{
		{"stored", "G54 X100 Y50 Z-30", "offsets.nc stores X, Y and Z (machine coordinates)", "touch off", whole},
		{"lengths called", "G54 X100 Y50", "offsets.nc stores X and Y (machine coordinates)", "touch off, expect Z-88 or stop", called},
		{"by hand", "G54 X100 Y50 Z-30", "type X, Y and Z (machine coordinates)", "touch off", byHand},
	} {
		b := c.s.zeroBoxes()[0]
		if b.Zero != c.zero || b.From != c.from || !strings.HasSuffix(b.Level, c.level) {
			t.Errorf("%s: %+v", c.name, b)
		}
	}
}

// A tool that no program of a side uses is there for the holes, or it isn't used.
func TestToolsSayWhatTheyCut(t *testing.T) {
	s := markerSetup()
	s.Programs = append(s.Programs, Program{Name: "bed.nc", Role: "drilling", Tools: []int{4}})
	for tool, want := range map[int]string{1: ": face, back", 3: ": face", 4: ": holes", 5: ": not used"} {
		if got := s.usedFor(tool); got != want {
			t.Errorf("T%d%s, want %s", tool, got, want)
		}
	}
	if got := s.shortTool(s.Tools[1]); got != "vee 6 mm, 60°" {
		t.Error(got)
	}
}

// Whatever is a warning or a finding on the terminal stands on page one or two; page one
// holds the worst, and says how many are left.
func TestAlarmsStandOnPageOneOrTwo(t *testing.T) {
	all := sheets()
	many := all["findings"]
	for _, text := range []string{"one of them", "two of them", "three of them"} {
		many.Notes = append(many.Notes, Note{Level: "warning", Is: words.PlugMeasures{Why: text}})
	}
	all["many"] = many
	for name, s := range all {
		sections, _ := s.Brief()
		var page bytes.Buffer
		if err := HTML(&page, s); err != nil {
			t.Fatal(err)
		}
		one, rest, _ := strings.Cut(page.String(), `<article class="two"`)
		two, _, _ := strings.Cut(rest, `<article class="record"`)
		n := 0
		for _, sec := range sections {
			for _, b := range sec.Blocks {
				p, ok := b.(Para)
				if !ok || p.Level != "warning" && p.Level != "finding" {
					continue
				}
				n++
				if text := string(prose(p.Text)); !strings.Contains(one, text) && !strings.Contains(two, text) {
					t.Errorf("%s: %q stands on neither page", name, p.Text)
				}
			}
		}
		shared := s.firstPage()
		first, left := shared.alarms, shared.rest
		if n == 0 || n != len(first)+len(left) || len(first) > mostAlarms {
			t.Errorf("%s: %d on the terminal, %d on page one, %d on page two", name, n, len(first), len(left))
		}
		if more := "+" + itoa(len(left)) + " more on page 2"; strings.Contains(one, more) != (len(left) > 0) {
			t.Errorf("%s: %q, or not", name, more)
		}
		if len(left) > 0 && first[0].Level != "finding" {
			t.Errorf("%s: %v comes first", name, first[0])
		}
	}
}
