package report

import (
	"fmt"
	"math"

	"flipcalc/mirror/cycle"
	"flipcalc/registration/bed"
	"flipcalc/report/letters"
)

// Run is a production run as it was worked out: both orders of cutting, each with
// its programs and its plan.
type Run struct {
	Merged [2]*cycle.Result // by cycle.Order
	Plans  [2]*cycle.Plan
	Chosen cycle.Order
	Pairs  []cycle.Pair
	Names  [3]string // files of the first, the steady and the last program
	Pause  string
	Times  cycle.Measured // of the chosen order
	Clear  *bed.Clear     // how the clear height was reckoned; nil where it was given

	// Placed says that the stations were placed on the bed; Left are the offsets that
	// then remain free, Extended that the control has G59.1 to G59.3.
	Placed, Extended bool
	Left             []string

	Park *cycle.Place // nil where the tool isn't taken aside
	// ChangesHere says that tools are taken to be changed where the cutter stands, with no-go
	// areas on the bed.
	ChangesHere bool
	Touched     [2]bool // on which sides of each part, face and back, Z is touched off anew

	// What was not said and took its default.
	LoadAssumed, ChangeAssumed, RatesAssumed, G53Assumed bool
}

// TimesOf gives a merge's times and tools; change is the seconds of one tool change.
func TimesOf(m *cycle.Result, change float64) cycle.Measured {
	return cycle.Measured{First: m.First.Seconds, Steady: m.Steady.Seconds, Last: m.Last.Seconds,
		FirstTools: m.First.Tools, SteadyTools: m.Steady.Tools, LastTools: m.Last.Tools,
		Face: m.FaceSeconds, Back: m.BackSeconds, Change: change}
}

// PlanOf puts a run into words.
func PlanOf(r Run) *Plan {
	plan, merged := r.Plans[r.Chosen], r.Merged[r.Chosen]
	q, changes := plan.Batch, r.Times.Changes()
	p := &Plan{Order: orderName(r.Chosen), Load: "held", Hidden: plan.Hidden, Pause: r.Pause, Pairs: q.Pairs, Parts: q.Parts,
		FirstChanges: changes.First, Changes: changes.Steady, LastChanges: changes.Last, Separate: q.Pairs * (changes.Face + changes.Back),
		FaceSeconds: Estimate(merged.FaceSeconds), BackSeconds: Estimate(merged.BackSeconds),
		LoadSeconds: Estimate(q.Load), ChangeSeconds: Estimate(r.Times.Change), SetupSeconds: Estimate(q.Setup - q.SingleSetup),
		Seconds: Estimate(plan.CycleSeconds), Count: plan.Cycles, Finish: Estimate(plan.Finish), BreakEven: plan.BreakEven}
	if q.Loading == cycle.Guarded {
		p.Load = "guarded"
	}
	p.Ends = [3]string{merged.First.Ends, merged.Steady.Ends, merged.Last.Ends}
	for _, touched := range r.Touched {
		if touched {
			p.TouchOffs += q.Pairs
		}
	}
	if r.Park != nil {
		p.Park = "machine X" + r.Park.X.String() + " Y" + r.Park.Y.String() + " " + r.Park.Unit.String()
	}
	for o, pl := range r.Plans {
		p.Orders = append(p.Orders, PlanOrder{Name: orderName(cycle.Order(o)), Chosen: cycle.Order(o) == r.Chosen, Changes: TimesOf(r.Merged[o], 0).Changes().Steady,
			Machine: Estimate(pl.Batch.Steady), Seconds: Estimate(pl.CycleSeconds), PerHour: Estimate(pl.PartsPerHour), SpindleWaits: Estimate(pl.SpindleWaits), HandsWait: Estimate(pl.HandsWait), Finish: Estimate(pl.Finish)})
	}
	machine, hands := q.SingleFace+q.SingleBack, q.Load+q.Turn
	p.Orders = append(p.Orders, PlanOrder{Name: "one station", Changes: changes.Face + changes.Back, Machine: Estimate(machine), Seconds: Estimate(machine + hands),
		PerHour: Estimate(plan.SinglePerHour), SpindleWaits: Estimate(hands), HandsWait: Estimate(machine), Finish: Estimate(plan.SingleFinish)})
	rows := plan.Rows
	if len(rows) == 0 {
		rows = []cycle.Cycle{
			{From: 1, To: 1, Faces: q.Pairs, Program: "first", Loads: q.Pairs},
			{From: 2, To: math.MaxInt, Faces: q.Pairs, Backs: q.Pairs, Program: "steady", Loads: q.Pairs, Turns: q.Pairs},
			{From: math.MaxInt, To: math.MaxInt, Backs: q.Pairs, Program: "last", Turns: q.Pairs},
		}
	}
	for _, c := range rows {
		p.Cycles = append(p.Cycles, r.cycle(c))
	}
	r.notes(p)
	return p
}

func orderName(o cycle.Order) string {
	if o == cycle.ByStations {
		return "stations"
	}
	return "tools"
}

func (s *Setup) planSection() Section {
	sec := Section{ID: "plan", Title: "Run plan"}
	p := s.Plan
	if p == nil || len(p.Cycles) == 0 {
		return sec
	}
	if rows := s.figures(); len(rows) > 0 {
		sec.Blocks = append(sec.Blocks, Pairs{rows})
	} else if p.Seconds > 0 {
		sec.Blocks = append(sec.Blocks, Para{"", "One cycle takes about " + letters.Duration(p.Seconds) + "."})
	}
	if len(p.Orders) > 0 {
		t := Table{Caption: "Orders compared, one steady cycle of " + plural(p.Pairs, "part", "parts") + ", times in min:s",
			Head: []string{"Order", "Tool changes", "Machine", "With hands", "Parts an hour", "Spindle waits", "Hands wait"}, Right: []int{2, 3, 4, 5, 6}}
		if p.Parts > 0 {
			t.Head, t.Right = append(t.Head, itoa(p.Parts)+" done in"), append(t.Right, len(t.Head))
		}
		for _, o := range p.Orders {
			name, changes := o.Name, itoa(o.Changes)
			if o.Chosen {
				name += " (chosen)"
			}
			if o.Name == "one station" {
				changes += " a part"
			}
			row := []string{name, changes, letters.Clock(o.Machine), letters.Clock(o.Seconds), letters.Rounded(o.PerHour, 1), letters.Clock(o.SpindleWaits), letters.Clock(o.HandsWait)}
			if p.Parts > 0 {
				row = append(row, letters.Clock(o.Finish))
			}
			t.Rows = append(t.Rows, row)
		}
		sec.Blocks = append(sec.Blocks, t)
	}
	sec.Blocks = append(sec.Blocks, p.cycleTable())
	for _, n := range p.Notes {
		sec.Blocks = append(sec.Blocks, notePara(n, s.Unit))
	}
	return sec
}

// figures are the plan's main numbers.
func (s *Setup) figures() (rows [][2]string) {
	p := s.Plan
	if len(p.Orders) == 0 {
		return nil
	}
	chosen, single := p.Orders[0], p.Orders[len(p.Orders)-1]
	for _, o := range p.Orders {
		if o.Chosen {
			chosen = o
		}
	}
	row := func(name, value string) { rows = append(rows, [2]string{name, value}) }
	row("Tool changes", fmt.Sprintf("%d in a steady cycle, against %d with the programs one after the other; %d in the first cycle, %d in the last",
		p.Changes, p.Separate, p.FirstChanges, p.LastChanges))
	row("Cutting", "face "+letters.Seconds(p.FaceSeconds)+", back "+letters.Seconds(p.BackSeconds)+" at one station, without tool changes")
	load := "with the machine held"
	if p.Hidden {
		load = "while the other side is cut"
	}
	row("Loading", letters.Seconds(p.LoadSeconds)+" a station, "+load)
	if s.ClearZ != nil {
		row("Clear height", "machine Z"+s.ClearZ.String()+" "+s.bedUnit().String()+" between stations")
	}
	hour := letters.Rounded(chosen.PerHour, 1) + ", against " + letters.Rounded(single.PerHour, 1) + " flipping at one station"
	if p.TouchOffs > 0 {
		hour += ", less where touching off Z isn't in the loading time"
	}
	row("Parts an hour", hour)
	waits := "the spindle " + letters.Seconds(chosen.SpindleWaits) + " for hands, hands " + letters.Seconds(chosen.HandsWait) + " for the machine"
	row("Waiting in a cycle", waits)
	if p.BreakEven > 0 {
		row("Pays", "from "+plural(p.BreakEven, "part", "parts")+" on")
	} else {
		row("Pays", "never: one station is as fast with these times")
	}
	if p.Parts > 0 {
		row("Batch", fmt.Sprintf("%s in %d cycles, done in %s", plural(p.Parts, "part", "parts"), p.Count, letters.Seconds(p.Finish)))
	}
	return rows
}

// cycleTable lists what lies where, and who does what.
func (p *Plan) cycleTable() Table {
	t := Table{Caption: "Cycles", Head: []string{"Cycle", "Lies there", "Hands", "Machine", "Gives"}}
	ends, lies := false, false
	for _, c := range p.Cycles {
		ends, lies = ends || c.Ends > 0, lies || c.Lies != ""
	}
	if !lies {
		t.Head = []string{"Cycle", "Before it", "Program", "Gives"}
	}
	if ends {
		t.Caption = "Cycle times from first load"
		t.Head, t.Right = append(t.Head, "Done at"), []int{len(t.Head)}
	}
	for _, c := range p.Cycles {
		row := []string{c.Name}
		if lies {
			row = append(row, c.Lies)
		}
		machine := letters.Plain(c.Program)
		if c.Cuts != "" {
			machine += ": " + c.Cuts
		}
		row = append(row, c.Before, machine, c.Gives)
		if ends {
			row = append(row, letters.Clock(c.Ends))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
