package job

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror/cut"
	"flipcalc/mirror/cycle"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/fit"
	"flipcalc/registration/pattern"
	"flipcalc/report"
	"flipcalc/report/words"
)

// Drilling programs: the holes of a pattern of dowels, in the blank and in the bed of every
// station.

// driller is how holes are drilled, in the question's unit.
type driller struct {
	drills      []ask.Drill
	listed      []ask.Drill // those of the drills that are the job's flat cutters
	line        string
	speed, feed decimal.Decimal
	peck        *decimal.Decimal
	clear, safe decimal.Decimal
	beyond      decimal.Decimal
	spoilboard  decimal.Decimal
}

// lengths reports whether the tool line calls each drill's length: without it a second
// drill in one program would go too deep, or not deep enough.
func (d *driller) lengths() bool { return strings.Contains(d.line, "G43") }

// drillNote adds a note on the drilling to the report.
func (j *Job) drillNote(level string, is any) { j.Setup.Pins.Say(level, is) }

// driller is how the job's holes are drilled.
func (j *Job) driller(q registration.Question) (*driller, error) {
	d := &driller{line: j.Text("tool-line"), drills: ask.Values[ask.Drill](j.Ask, "drill"), peck: j.OptionalLength("peck"),
		speed: ask.Value[decimal.Decimal](j.Ask, "speed"), feed: j.Length("plunge"), beyond: j.Length("beyond"), spoilboard: j.Length("spoilboard"),
		clear: decimal.New(1, 0), safe: decimal.New(10, 0)}
	if j.Unit() == transform.Inch {
		d.clear, d.safe = decimal.New(4, -2), decimal.New(4, -1)
	}
	if safe := j.OptionalLength("safe"); safe != nil {
		d.safe = *safe
	} else {
		j.drillNote(fact.Assumed, words.SafeAssumed{Height: d.safe})
	}
	d.clear = decimal.Min(d.clear, d.safe)
	if d.peck == nil {
		j.drillNote(fact.Assumed, words.PeckAssumed{})
	}
	if err := j.toolLine(d.line); err != nil {
		return nil, err
	}
	if err := j.beyond(q, d); err != nil {
		return nil, err
	}
	j.drillNote(fact.Note, words.DrillClear{Height: d.clear})
	j.drillNote(fact.Caution, words.DrillEnd{})
	if q.Register == registration.Plug {
		j.drillNote(fact.Caution, words.DrillIndex{})
	} else {
		j.drillNote(fact.Caution, words.DrillOrder{})
	}
	given := len(d.drills)
	for _, t := range j.tools() {
		dia := report.ToolOf(t, j.Unit()).Dia
		if t.Shape == cut.Flat && !slices.ContainsFunc(d.drills[:given], func(n ask.Drill) bool { return n.Dia.IsZero() || n.Dia.Equal(dia) }) {
			d.drills = append(d.drills, ask.Drill{N: t.Number, Dia: dia})
		}
	}
	d.listed = d.drills[given:]
	return d, nil
}

// toolLine refuses a tool line that calls no drill.
func (j *Job) toolLine(line string) error {
	if line == "none" {
		return nil
	}
	expected := ""
	switch {
	case !strings.Contains(line, "#"):
		expected = "# where the tool's number goes, such as \"T# M6\", or none"
	case cycle.CheckToolLine(strings.ReplaceAll(line, "#", "1")) != nil:
		expected = "T# and M6, and G43 H# where lengths are stored, or none"
	default:
		return nil
	}
	return ask.Wrong(j.Where("tool-line"), fmt.Sprintf("%q", line), expected, "")
}

// beyond says how the holes end under the blank, and refuses what the bed has no room for.
func (j *Job) beyond(q registration.Question, d *driller) error {
	found := d.beyond.String() + " under the blank"
	switch {
	case q.Register == registration.Plug:
		j.drillNote(fact.Note, words.DrillSnug{})
	case q.DrilledFace && d.beyond.IsPositive():
		return ask.Wrong(j.Where("beyond"), found, "no beyond with drilled face", "the drill goes on into the bed, as deep as the pins stand in it")
	case d.beyond.IsNegative() || d.beyond.GreaterThan(d.spoilboard):
		return ask.Wrong(j.Where("beyond"), found, "0 to "+d.spoilboard.String()+", the depth of ‹spoilboard›", "")
	case q.DrilledFace:
		j.drillNote(fact.Note, words.DrillWide{})
	case d.beyond.IsZero():
		j.drillNote(fact.Note, words.DrillLevel{})
		j.drillNote(fact.Note, words.DrillSnug{})
	default:
		j.drillNote(fact.Note, words.DrillBeyond{By: d.beyond})
		j.drillNote(fact.Note, words.DrillSnug{})
	}
	return nil
}

// number finds the tool number of the drill of a diameter, -1 without tool lines. only says
// that no other hole has another diameter.
func (d *driller) number(dia decimal.Decimal, only bool) (n int, ok bool) {
	i := slices.IndexFunc(d.drills, func(n ask.Drill) bool { return n.Dia.Equal(dia) })
	switch {
	case d.line == "none":
		return -1, true
	case i >= 0:
		return d.drills[i].N, true
	case len(d.drills) == 1 && d.drills[0].Dia.IsZero() && only:
		return d.drills[0].N, true
	}
	return 0, false
}

// bits are the tool numbers of the drills, by diameter.
type bits map[string]int

// bits finds the drills of the plans' holes; missing are diameters that no tool number is
// given for. Holes whose diameter is none of the pin standard's either, such as 6.02, are
// taken out of the plans: they are bored or milled instead, and told.
func (j *Job) bits(d *driller, plans []drilled, dias []decimal.Decimal, s fit.Standard) (left []drilled, b bits, missing []string) {
	b = bits{}
	odd := func(bore pattern.Bore) bool {
		_, has := b[bore.Dia.String()]
		return !has
	}
	var listed []any
	for _, dia := range dias {
		n, has := d.number(dia, len(dias) == 1)
		b[dia.String()] = n
		if has && slices.ContainsFunc(d.listed, func(l ask.Drill) bool { return l.Dia.Equal(dia) }) {
			listed = append(listed, words.DrillListed{Dia: dia, Tool: n})
		}
		if has {
			continue
		}
		if _, err := fit.Lookup(s, dia); err == nil {
			missing = append(missing, dia.String())
			continue
		}
		delete(b, dia.String())
		without := words.DrillOdd{Dia: dia}
		for _, p := range plans {
			if slices.ContainsFunc(p.bores, func(b pattern.Bore) bool { return b.Dia.Equal(dia) }) {
				without.Files = append(without.Files, p.name)
			}
		}
		j.drillNote(fact.Warning, without)
	}
	for _, p := range plans {
		if p.bores = slices.DeleteFunc(slices.Clone(p.bores), odd); len(p.bores) > 0 {
			left = append(left, p)
		}
	}
	for _, is := range listed {
		j.drillNote(fact.Note, is)
	}
	return left, b, missing
}

// unasked refuses to drill at a speed, a feed or with a tool that nothing says.
func (j *Job) unasked(d *driller, missing []string) error {
	drills := "no tool number for the drill of " + strings.Join(missing, " and of ")
	if len(missing) > 0 && j.Given("drill") {
		return ask.Wrong(j.Where("drill"), drills, "one for each diameter, as drill N="+strings.Join(missing, " and drill N="), "")
	}
	var none, want []string
	hint := "they depend on drill, wood and machine: common practice for a 6 mm cutter in hardwood is 8000 turns and 300 mm a minute"
	if j.Unit() == transform.Inch {
		hint = "they depend on drill, wood and machine: common practice for a 1/4 in cutter in hardwood is 8000 turns and 12 in a minute"
	}
	if d.speed.IsZero() {
		none, want = append(none, "no spindle speed"), append(want, "speed RPM")
	}
	if d.feed.IsZero() {
		none, want = append(none, "no drilling feed"), append(want, "plunge FEED")
	}
	if len(missing) > 0 {
		if len(none) == 0 {
			hint = "or tool-line none where tools are changed by hand without a tool line"
		}
		none = append(none, drills)
		for _, m := range missing {
			want = append(want, "drill N="+m)
		}
	}
	if len(none) == 0 {
		return nil
	}
	where := j.Where("spoilboard")
	if j.Verb.Name == "pins" {
		where = "-o"
	}
	return ask.Wrong(where, strings.Join(none, ", "), strings.Join(want, ", "), hint)
}

// drilled is one file of drilling as it is planned.
type drilled struct {
	name   string
	where  pattern.Where
	answer *registration.Answer
	bores  []pattern.Bore
}

// whereKeys name what a program goes through.
var whereKeys = map[pattern.Where]string{pattern.Blank: "blank", pattern.Bed: "bed", pattern.Through: "through", pattern.BackBed: "back-bed"}

// addDrilling adds the programs that drill the holes of the patterns, one pattern a
// pair of stations, proved, to the job's files and to the report on its fit.
func (j *Job) addDrilling(patterns []*pattern.Pattern) error {
	d, err := j.driller(patterns[0].Answer.Question)
	if err != nil {
		return err
	}
	plans, dias, err := j.planDrilling(patterns, d)
	if err != nil {
		return err
	}
	plans, b, missing := j.bits(d, plans, dias, patterns[0].Dowels[0].Pin.Standard)
	if plans = d.parted(plans); len(plans) == 0 {
		return nil
	}
	if err := j.unasked(d, missing); err != nil {
		return err
	}
	if !d.lengths() && len(b) > 1 {
		j.drillNote(fact.Note, words.DrillOneTool{})
	}
	up, err := j.drillClear()
	switch {
	case err != nil:
		return err
	case up != nil:
		j.drillNote(fact.Note, words.DrillUp{Z: *up})
	default:
		j.drillNote(fact.Caution, words.DrillAcross{})
	}
	for _, p := range plans {
		prog, shown := d.program(p, b, j.On("cycles"))
		prog.Up, prog.Comment = up, j.comment(prog.Comment)
		if err := j.addDrilled(p, prog, d.line != "none"); err != nil {
			return err
		}
		j.Setup.Pins.Drilling = append(j.Setup.Pins.Drilling, shown)
	}
	j.noteDrilled(d, plans)
	for _, dia := range dias {
		n, has := b[dia.String()]
		if has && n >= 0 && !slices.ContainsFunc(j.Setup.Tools, func(t report.Tool) bool { return t.Number == n }) {
			j.Setup.Tools = append(j.Setup.Tools, report.Tool{Number: n, Shape: "drill", Dia: dia})
		}
	}
	return nil
}

// addDrilled writes a drilling program, and adds it to the files and to the report.
func (j *Job) addDrilled(p drilled, prog cycle.Drilling, called bool) error {
	content, err := cycle.Drill(prog)
	var e *fault.Error
	if errors.As(err, &e) && !e.No {
		return ask.Wrong(j.Where("peck"), e.Found, e.Expected, e.Hint)
	}
	if err != nil {
		return err
	}
	reading := motion.Options{Name: p.name, Unit: prog.Unit}
	s, err := motion.Walk(bytes.NewReader(content), reading, nil)
	if err != nil {
		return err
	}
	r := j.addFile(p.name, "drilling", "", prog.Offset, content)
	r.Blocks, r.Moves = s.Blocks, s.Moves
	r.TakeMoves(s, prog.Unit)
	if r.Stints, err = motion.Stints(bytes.NewReader(content), reading); err != nil {
		return err
	}
	for _, pass := range prog.Passes {
		if called {
			r.Tools = append(r.Tools, pass.Tool)
		}
	}
	return nil
}

// noteDrilled says which of the files call no length though the job's programs do, and
// which go down to a bed that lies under their Z0.
func (j *Job) noteDrilled(d *driller, plans []drilled) {
	var names []string
	var beds []words.DrillBedZ
	for _, p := range plans {
		names = append(names, p.name)
		if top, surface := p.bores[0].Top, p.bores[0].Surface; top.GreaterThan(surface) && top.IsZero() {
			bed := words.DrillBedZ{Z: surface, Thick: top.Sub(surface)}
			i := slices.IndexFunc(beds, func(o words.DrillBedZ) bool { return o.Z.Equal(bed.Z) && o.Thick.Equal(bed.Thick) })
			if i < 0 {
				i = len(beds)
				beds = append(beds, bed)
			}
			beds[i].Files = append(beds[i].Files, p.name)
		}
	}
	calls := func(p report.Program) bool {
		return slices.ContainsFunc(p.Stints, func(s motion.Stint) bool { return s.Length })
	}
	if !d.lengths() && slices.ContainsFunc(j.Setup.Programs, calls) {
		j.drillNote(fact.Warning, words.DrillUncalled{Files: names})
	}
	for _, bed := range beds {
		j.drillNote(fact.Note, bed)
	}
}

// drillClear is the machine Z at which drills are changed and go to their first hole:
// the clear height of the job's other programs, nil where it isn't known or the control
// takes no G53.
func (j *Job) drillClear() (*decimal.Decimal, error) {
	if !j.Machine.G53 {
		return nil, nil
	}
	z, err := j.knownClear()
	var none *noClear
	if errors.As(err, &none) {
		return nil, nil // told where the cycles are merged
	}
	return z, err
}

// planDrilling lists the files with their holes, one pattern a pair, and the diameters of
// all holes.
func (j *Job) planDrilling(patterns []*pattern.Pattern, d *driller) (plans []drilled, dias []decimal.Decimal, err error) {
	for i, p := range patterns {
		q := p.Answer.Question
		prefix := "pins-"
		if len(patterns) > 1 {
			prefix = fmt.Sprintf("pair%d-pins-", i+1)
		}
		type file struct {
			where pattern.Where
			name  string
		}
		files := []file{{pattern.Bed, prefix + "bed"}}
		switch {
		case q.Register == registration.Plug: // the index pin's hole in the blank is cut with its bore
		case q.DrilledFace:
			files = []file{{pattern.Through, prefix + "through"}}
		case i == 0:
			files = append([]file{{pattern.Blank, "pins-blank"}}, files...)
		}
		if p.Back() != nil {
			files = append(files, file{pattern.BackBed, prefix + "back-bed"})
		}
		for _, f := range files {
			bores, err := p.Bores(f.where, d.beyond)
			if err != nil {
				return nil, nil, err
			}
			for _, b := range bores {
				if !slices.ContainsFunc(dias, b.Dia.Equal) {
					dias = append(dias, b.Dia)
				}
			}
			plans = append(plans, drilled{f.name + ".nc", f.where, p.Answer, bores})
		}
	}
	return plans, dias, nil
}

// parted gives each drill a file of its own where no length is called.
func (d *driller) parted(plans []drilled) (out []drilled) {
	for _, p := range plans {
		var own []drilled
		for _, b := range p.bores {
			i := slices.IndexFunc(own, func(o drilled) bool { return o.bores[0].Dia.Equal(b.Dia) })
			if i < 0 {
				i = len(own)
				own = append(own, drilled{strings.TrimSuffix(p.name, ".nc") + "-" + b.Dia.String() + ".nc", p.where, p.answer, nil})
			}
			own[i].bores = append(own[i].bores, b)
		}
		if d.lengths() || len(own) == 1 {
			own = []drilled{p}
		}
		out = append(out, own...)
	}
	return out
}

// program is the drilling program of a plan, and what the report says of it.
func (d *driller) program(p drilled, b bits, cycles bool) (cycle.Drilling, report.Drilling) {
	q := p.answer.Question
	first := p.bores[0]
	prog := cycle.Drilling{Unit: q.Unit, Offset: q.Offset, Surface: first.Surface, Clear: first.Surface.Add(d.clear), Safe: first.Top.Add(d.safe), Cycles: cycles}
	if p.where == pattern.BackBed {
		prog.Offset = p.answer.Second.Offset
	}
	// Nothing goes deeper than was told: under the blank by beyond, into the bed
	// by spoilboard.
	thick := p.answer.Uncut()
	switch p.where {
	case pattern.Blank:
		prog.Floor = first.Surface.Sub(thick).Sub(d.beyond)
	case pattern.Through:
		prog.Floor = first.Surface.Sub(thick).Sub(d.spoilboard)
	default:
		prog.Floor = first.Surface.Sub(d.spoilboard)
	}
	shown := report.Drilling{Name: p.name, Where: whereKeys[p.where], Offset: prog.Offset, Safe: prog.Safe}
	lowest := first.Bottom
	for _, bore := range p.bores {
		n := b[bore.Dia.String()]
		var tool *int
		if n >= 0 {
			tool = &n
		}
		peck := bore.Dia
		if d.peck != nil {
			peck = *d.peck
		}
		i := slices.IndexFunc(prog.Passes, func(pass cycle.Pass) bool { return pass.Tool == n })
		if i < 0 {
			i = len(prog.Passes)
			line := "none"
			if d.line != "none" {
				line = strings.ReplaceAll(d.line, "#", strconv.Itoa(n))
			}
			prog.Passes = append(prog.Passes, cycle.Pass{Tool: n, Line: line, Speed: d.speed, Feed: d.feed, Peck: peck})
		}
		prog.Passes[i].Holes = append(prog.Passes[i].Holes, cycle.Hole{X: bore.X, Y: bore.Y, Bottom: bore.Bottom})
		shown.Holes = append(shown.Holes, report.Drilled{Pin: bore.Dowel + 1, X: bore.X, Y: bore.Y, From: bore.Surface, Bottom: bore.Bottom, Dia: bore.Dia,
			Tool: tool, Speed: d.speed, Plunge: d.feed, Peck: peck})
		lowest = decimal.Min(lowest, bore.Bottom)
	}
	prog.Comment = words.DrillingComment(p.answer, p.where, lowest.String())
	return prog, shown
}
