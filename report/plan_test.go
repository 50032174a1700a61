package report

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/cycle"
	"flipcalc/mirror/fact"
	"flipcalc/report/letters"
)

// A face with tools 1 and 2 and a back with 2 and 3, so that tool 2 is called once
// in a cycle.
const (
	planFace = "G21 G90 G54\nT1 M6\nS9000 M3\nG0 G43 H1 Z20.\nX5. Y5.\nG1 Z-1. F600\nX65.\nG0 Z20.\nT2 M6\nM3\nG0 G43 H2 Z20.\nX5. Y5.\nG1 Z-1. F600\nX65.\nG0 Z20.\nM30\n"
	planBack = "G21 G90 G54\nT2 M6\nS9000 M3\nG0 G43 H2 Z20.\nX5. Y5.\nG1 Z-1. F600\nX65.\nG0 Z20.\nT3 M6\nM3\nG0 G43 H3 Z20.\nX5. Y5.\nG1 Z-1. F600\nX65.\nG0 Z20.\nM30\n"
)

// ranOn works out a run of n parts on some pairs.
func ranOn(t *testing.T, n, pairs int, order cycle.Order, loading cycle.Loading, pause string) Run {
	t.Helper()
	clear := decimal.New(-5, 0)
	o := cycle.Options{Face: cycle.Source{Name: "face.nc", Text: []byte(planFace)}, Back: cycle.Source{Name: "back.nc", Text: []byte(planBack)},
		Clear: &clear, G53: true, Pause: pause}
	for i := range pairs {
		o.Pairs = append(o.Pairs, cycle.Pair{Face: cycle.Station{Offset: fmt.Sprintf("G5%d", 4+2*i)}, Back: cycle.Station{Offset: fmt.Sprintf("G5%d", 5+2*i)}})
	}
	r := Run{Chosen: order, Pairs: o.Pairs, Names: [3]string{"first.nc", "steady.nc", "last.nc"}, Pause: pause,
		LoadAssumed: true, ChangeAssumed: true, RatesAssumed: true}
	for i := range 2 {
		o.Order = cycle.Order(i)
		m, err := cycle.Merge(o)
		if err != nil {
			t.Fatal(err)
		}
		q := cycle.Batch{Parts: n, Pairs: pairs, Order: cycle.Order(i), Loading: loading, Load: 60, Turn: 60}
		times := TimesOf(m, 30)
		times.Fill(&q)
		p, err := q.Plan()
		if err != nil {
			t.Fatal(err)
		}
		r.Merged[i], r.Plans[i] = m, p
		if cycle.Order(i) == order {
			r.Times = times
		}
	}
	return r
}

// What the operator does in each cycle, as a machinist would say it (common
// practice): nothing is finished before the second cycle has run, the back stations
// are empty in the first cycle and the face stations in the last.
func TestPlanCycles(t *testing.T) {
	rows := []struct {
		name  string
		run   Run
		wants []string // name | lies | before | program | cuts | gives
	}{
		{"one pair, five parts", ranOn(t, 5, 1, cycle.ByTools, cycle.Held, ""), []string{
			"first cycle | G54: new blank; G55: empty | lay a new blank on G54 | first.nc | the faces | ",
			"cycles 2 to 5 | G54: new blank; G55: turned blank | take the finished part off G55 (from cycle 3); turn the blank over from G54 to G55; lay a new blank on G54 | steady.nc | faces and backs | 4 parts finished",
			"last cycle, 6 | G55: turned blank; G54: empty | take the finished part off G55; turn the blank over from G54 to G55; no new blank | last.nc | the backs | 5 parts finished",
		}},
		{"two pairs, three parts", ranOn(t, 3, 2, cycle.ByTools, cycle.Held, ""), []string{
			"first cycle | G54 and G56: new blanks; G55 and G57: empty | lay new blanks on G54 and G56 | first.nc | the faces | ",
			"cycle 2 | G54: new blank; G55 and G57: turned blanks; G56: empty | turn the blanks over from G54 to G55 and G56 to G57; lay a new blank on G54 | steady.nc | faces and backs | 2 parts finished",
			"last cycle, 3 | G55: turned blank; G54, G56 and G57: empty | take the finished parts off G55 and G57; turn the blank over from G54 to G55; no new blank | last.nc | the backs | 3 parts finished",
		}},
		{"no batch said", ranOn(t, 0, 1, cycle.ByTools, cycle.Held, ""), []string{
			"first cycle | G54: new blank; G55: empty | lay a new blank on G54 | first.nc | the faces | ",
			"every further cycle | G54: new blank; G55: turned blank | take the finished part off G55 (from cycle 3); turn the blank over from G54 to G55; lay a new blank on G54 | steady.nc | faces and backs | 1 finished part",
			"last cycle | G55: turned blank; G54: empty | take the finished part off G55; turn the blank over from G54 to G55; no new blank | last.nc | the backs | 1 finished part",
		}},
		{"behind a guard", ranOn(t, 5, 1, cycle.ByStations, cycle.Guarded, "M0"), []string{
			"first cycle | G54: new blank; G55: empty | lay a new blank on G54; when it has ended: take the blank off G54, turn it over; keep it in hand, lay new ones on, if any, and clamp them | first.nc | the faces | ",
			"cycles 2 to 5 | G54: new blank; G55: turned blank | while the faces are cut: take the finished part off G55 (from cycle 3), seat the turned blank from the hand, back up, on G55 and hold it; while the backs are cut: take the blank off G54, turn it over; keep it in hand, lay new ones on, if any, and clamp them | steady.nc | the faces, stops (M0), then the backs | 4 parts finished",
			"last cycle, 6 | G55: turned blank; G54: empty | take the finished part off G55; seat the turned blank from the hand, back up, on G55 and hold it; no new blank | last.nc | the backs | 5 parts finished",
		}},
	}
	for _, r := range rows {
		p := PlanOf(r.run)
		if len(p.Cycles) != len(r.wants) {
			t.Errorf("%s: %d rows, want %d", r.name, len(p.Cycles), len(r.wants))
			continue
		}
		for i, c := range p.Cycles {
			if got := strings.Join([]string{c.Name, c.Lies, c.Before, c.Program, c.Cuts, c.Gives}, " | "); got != r.wants[i] {
				t.Errorf("%s:\ngot  %s\nwant %s", r.name, got, r.wants[i])
			}
		}
	}
}

// Loading while the machine moves is spoken of only where it was asked for, and then
// with its caution.
func TestPlanCautions(t *testing.T) {
	codes := func(p *Plan) (s string) {
		for _, n := range p.Notes {
			s += n.Level + " " + fact.Code(n.Is) + "\n"
		}
		return s
	}
	for _, r := range []struct {
		name      string
		run       Run
		has, lack []string
	}{
		{"held", ranOn(t, 4, 2, cycle.ByStations, cycle.Held, ""), []string{"caution dry-run-each", "assumed load-time-default", "assumed change-time-default", "assumed rates-default", "note set-up-not-counted"},
			[]string{"loading-while-moving", "guard-without-use", "air-at-empty-stations", "optional-stop", "pause-without-use"}},
		{"guarded", ranOn(t, 3, 2, cycle.ByStations, cycle.Guarded, "M1"), []string{"caution loading-while-moving", "caution optional-stop", "caution air-at-empty-stations"}, []string{"guard-without-use", "pause-without-use"}},
		{"guarded for nothing", ranOn(t, 0, 1, cycle.ByTools, cycle.Guarded, "M0"), []string{"note guard-without-use", "note pause-without-use"}, []string{"loading-while-moving", "air-at-empty-stations"}},
	} {
		got := codes(PlanOf(r.run))
		for _, h := range r.has {
			if !strings.Contains(got, h+"\n") {
				t.Errorf("%s: no %q in\n%s", r.name, h, got)
			}
		}
		for _, l := range r.lack {
			if strings.Contains(got, " "+l+"\n") {
				t.Errorf("%s: %q in\n%s", r.name, l, got)
			}
		}
		var b bytes.Buffer
		if err := Terminal(&b, Setup{Plan: PlanOf(r.run)}, Options{}); err != nil {
			t.Fatal(err)
		}
		if moving := strings.Contains(b.String(), "the machine moves while you load"); moving != (r.name == "guarded") {
			t.Errorf("%s: says %v of loading while the machine moves:\n%s", r.name, moving, b.String())
		}
	}
}

// The comparison: T1, T2, T3 are three changes, against four one after the other
// (T1, T2, then T2 stays, T3: three; with T3 to T1 in the next cycle no fewer), and
// cutting by stations changes as often as the programs one after the other.
func TestPlanOrders(t *testing.T) {
	p := PlanOf(ranOn(t, 10, 2, cycle.ByTools, cycle.Held, ""))
	if p.Changes != 3 || p.Separate != 6 || p.FirstChanges != 2 || p.LastChanges != 2 {
		t.Errorf("changes: first %d, steady %d, last %d, separate %d", p.FirstChanges, p.Changes, p.LastChanges, p.Separate)
	}
	if len(p.Orders) != 3 || !p.Orders[0].Chosen || p.Orders[1].Chosen || p.Orders[2].Changes != 3 {
		t.Errorf("%+v", p.Orders)
	}
	// Behind a guard, as a plan of its own has it.
	guarded := PlanOf(ranOn(t, 10, 2, cycle.ByStations, cycle.Guarded, ""))
	said := ""
	for _, n := range p.Notes {
		if fact.Code(n.Is) == "more-parts-an-hour" {
			said = NoteWords(n, 0)
		}
	}
	if want := letters.Rounded(guarded.Orders[1].PerHour, 1) + " with --order stations and load guarded"; !strings.Contains(said, want) {
		t.Errorf("%q, want %q", said, want)
	}
	for _, n := range guarded.Notes {
		if fact.Code(n.Is) == "more-parts-an-hour" {
			t.Errorf("better than the best: %q", NoteWords(n, 0))
		}
	}
	// By hand: two parts a cycle, four hands of 60 s.
	o := p.Orders[0]
	if want := 3600 * 2 / (o.Machine + 240); o.PerHour != want {
		t.Errorf("%g parts an hour, by hand %g", o.PerHour, want)
	}
}

func TestPlanFitsTheSchema(t *testing.T) {
	v := &validator{root: decode(t, Schema())}
	for _, s := range []Setup{
		{Plan: PlanOf(ranOn(t, 3, 2, cycle.ByStations, cycle.Guarded, "M1")), ClearZ: dp("-5"), Offsets: [][2]string{{"G54", "G55"}, {"G56", "G57"}},
			Programs: []Program{{Name: "first.nc", Role: "first cycle", Bytes: 9, Tools: []int{1, 2}, Changes: 2}}},
		{Plan: PlanOf(ranOn(t, 0, 1, cycle.ByTools, cycle.Held, ""))},
	} {
		for name, write := range map[string]func(*bytes.Buffer) error{
			"paired": func(b *bytes.Buffer) error { return PairJSON(b, s) },
			"sheet":  func(b *bytes.Buffer) error { return JSON(b, s) },
		} {
			var b bytes.Buffer
			if err := write(&b); err != nil {
				t.Fatal(err)
			}
			for _, f := range v.check(v.root["$defs"].(map[string]any)[name].(map[string]any), decode(t, b.Bytes()), name) {
				t.Error(f)
			}
		}
	}
}

// Common practice: hands go to a station only when the spindle stands still and the cutter
// is out of the way; behind a guard they go to the side that isn't being cut alone.
func TestHandsStep(t *testing.T) {
	held, guarded := ranOn(t, 3, 2, cycle.ByTools, cycle.Held, ""), ranOn(t, 3, 2, cycle.ByStations, cycle.Guarded, "M0")
	parked := held
	parked.Park = &cycle.Place{X: d("700"), Y: d("400.5")}
	for _, row := range []struct {
		name string
		run  Run
		want string
	}{
		{"parked", parked, "spindle still; cutter parked at machine X700 Y400.5 mm."},
		{"over a station", held, "spindle still; cutter moved aside from " + held.Pairs[1].Back.Offset},
		{"behind a guard", guarded, "Reach only to a guarded station on the side not being cut. Elsewhere check every time: program ended or stopped; spindle still; cutter moved aside from"},
	} {
		s := Setup{Answer: markerAnswer(), Checklist: true, Plan: PlanOf(row.run)}
		got := text(s.Steps())
		if !strings.Contains(got, "every time") || !strings.Contains(got, row.want) {
			t.Errorf("%s: no %q in\n%s", row.name, row.want, got)
		}
	}
}

// What is done in a cycle stands in the order in which it is done (common practice): what
// is to be cut is laid on and touched off before its program is started; loaded while the
// machine moves, a back is touched off where the program has stopped before the backs, a
// face after its end, since the spindle is busy in between.
func TestCyclesAreInOrder(t *testing.T) {
	each := func(r Run) Run { r.Touched = [2]bool{true, true}; return r }
	guarded := each(ranOn(t, 5, 1, cycle.ByStations, cycle.Guarded, "M0"))
	optional := each(ranOn(t, 5, 1, cycle.ByStations, cycle.Guarded, "M1"))
	for _, row := range []struct {
		name  string
		run   Run
		cycle int
		want  []string
		lack  string
	}{
		{"guarded, first", guarded, 0, []string{"First cycle: lay a new blank on G54; hold it; touch off Z of G54", "hands out of reach; run first.nc", "when it has ended: take the blank off G54, turn it over", "lay new ones on, if any", "touch off Z of G54"}, ""},
		{"guarded, steady", guarded, 1, []string{"Cycles 2 to 5: run steady.nc", "while the faces are cut: take the finished part off G55 (from cycle 3), seat the turned blank from the hand, back up, on G55",
			"at the stop after the faces (M0), spindle still: touch off Z of G55", "raise the tool clear (to the clear height), hands out of reach, start it again", "while the backs are cut: take the blank off G54",
			"lay new ones on, if any, and clamp them", "when it has ended: touch off Z of G54", "repeat for cycles 2 to 5", "4 parts finished"}, ""},
		{"guarded, last", guarded, 2, []string{"Last cycle, 6: take the finished part off G55; seat the turned blank from the hand", "touch off Z of G55", "run last.nc", "when it has ended: take the finished part off G55", "5 parts finished"}, ""},
		{"guarded, optional stop", optional, 1, []string{"at the stop after the faces (M1: switch the optional stop on)"}, ""},
		{"guarded, touched off once", ranOn(t, 5, 1, cycle.ByStations, cycle.Guarded, "M0"), 1, []string{"run steady.nc", "at the stop after the faces (M0), spindle still: hands out of reach, start it again"}, "touch off"},
		{"held, first", each(ranOn(t, 5, 1, cycle.ByTools, cycle.Held, "")), 0, []string{"lay a new blank on G54; hold it; touch off Z of G54, raise the tool clear; hands out of reach; run first.nc"}, "stops"},
		{"held, steady", each(ranOn(t, 5, 1, cycle.ByTools, cycle.Held, "")), 1, []string{"turn the blank over from G54 to G55; lay a new blank on G54; hold them; touch off Z of G54 and G55, raise the tool clear; hands out of reach; run steady.nc"}, "stops"},
		{"held, with a stop", ranOn(t, 5, 1, cycle.ByStations, cycle.Held, "M0"), 1, []string{"run steady.nc; at its stop after the faces (M0) start it again for the backs"}, "touch off"},
	} {
		s := Setup{Answer: markerAnswer(), Checklist: true, Plan: PlanOf(row.run)}
		steps := s.Steps()
		step := steps[len(steps)-len(s.Plan.Cycles)+row.cycle]
		inOrder(t, row.name, step.Text, row.want...)
		if row.lack != "" && strings.Contains(step.Text, row.lack) {
			t.Errorf("%s: %q in %q", row.name, row.lack, step.Text)
		}
	}
}
