package report

import (
	"math"
	"slices"
	"strings"

	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report/letters"
	"flipcalc/report/words"
)

// pageOne is what the sheet's first page holds: what must be seen from a step away.
type pageOne struct {
	Name   string
	Facts  []string  // the blank, the batch, the job
	Zeros  []zeroBox // face and back of each pair
	Turn   string    // the flip in a sentence
	Alarms []Para    // stop and warn
	More   int       // alarms that stand on page two
	Drawn  []Figure  // the turn, the places
	Check  []string  // how the locators are checked, and what each offset must read at the touch points
	High   float64   // of each figure on paper, mm
	Sides  [2]column
	Bar    []string // the cautions that concern everything
}

// zeroBox is one side's zero with what belongs to it: who stores it, its Z0, and the
// programs where they are run by themselves.
type zeroBox struct {
	Side, Zero, From, Level, Run string
}

// column is one half of the page's foot: a stage of the order, and what else has room.
type column struct {
	stage
	Tools  []string
	More   int      // tools that stand on page two
	Limits []string // what must be left, and how far off the back can be
}

// columns puts tools and limits under the shorter stage, and says how many lines the
// longer column then takes.
func (s *Setup) columns() (out [2]column, longest int) {
	rows := [2]int{}
	for i, st := range s.order() {
		out[i].stage = st
		for _, t := range st.Ticks {
			rows[i] += 1 + (len(t.Text)+writeWide*len(t.Write))/stepWide
		}
	}
	shorter := func() int {
		if rows[0] < rows[1] {
			return 0
		}
		return 1
	}
	if n := len(s.Tools); n > 0 && len(s.Stations) <= 2 { // beside more pairs the steps' list is enough
		i := shorter()
		for _, t := range s.Tools[:min(n, mostTools)] {
			out[i].Tools = append(out[i].Tools, "T"+itoa(t.Number)+" "+s.shortTool(t)+s.usedFor(t.Number))
		}
		out[i].More = max(0, n-mostTools)
		rows[i] += 2 + min(n, mostTools+1)*6/5 // with room to write
	}
	i := shorter()
	out[i].Limits = s.limits()
	rows[i] += 1 + len(out[i].Limits)
	return out, max(rows[0], rows[1])
}

// How much page one holds: letters in a line of a step and in a blank to fill in, and
// tools, of which more stand on page two.
const (
	stepWide  = 45
	writeWide = 12
	mostTools = 6
)

// figureHigh is the room of each figure on page one, in mm: what the lines of text leave of
// Letter, the lower sheet. That is 261 mm between its margins, less 64 for the heads, the
// bar and one row of zeros. Under 42 mm not every blank leaves its letters 11 pt.
func (s *Setup) figureHigh() float64 {
	const line, step, zeros, frame = 4.5, 5.2, 16.0, 4.0
	_, rows := s.columns()
	left := 261 - 64 - step*float64(rows)
	if one, _ := s.alarmsByPage(); len(one) > 0 {
		left -= frame + line*float64(alarmRows(one))
	}
	boxes := s.zeroBoxes()
	left -= zeros * float64(len(boxes)/2-1)
	if slices.ContainsFunc(boxes, func(b zeroBox) bool { return b.Run != "" }) {
		left -= line
	}
	left -= line * float64(len(strings.Join(s.readings(), ". "))/alarmWide)
	figures := 2.0
	if a := s.Answer; len(s.Stations) == 0 && !a.FaceMachine && !a.Machine {
		figures = 1 // no place in the machine is known
	}
	return math.Floor(min(54, max(42, left/figures)))
}

// mostAlarms is how many stops and warnings have room on page one, in so many lines of so
// many letters; the rest stands on page two.
const (
	mostAlarms = 4
	alarmLines = 8
	alarmWide  = 100
)

// pageOne gathers the first page; nil where nothing is known of the blank.
func (s *Setup) pageOne() *pageOne {
	a := s.Answer
	if a == nil {
		return nil
	}
	p := &pageOne{Name: s.Name(), Turn: turnWords(a.Question.Flip)}
	blank := size(a.Used) + " " + s.Unit.String()
	if s.Material != "" {
		blank = s.Material + " " + blank
	}
	if s.Plan != nil && s.Plan.Parts > 0 {
		blank += ", " + plural(s.Plan.Parts, "part", "parts")
	}
	p.Facts = append(p.Facts, blank)
	if s.Job != "" {
		p.Facts = append(p.Facts, s.Job)
	}
	p.Zeros = s.zeroBoxes()
	var rest []Para
	p.Alarms, rest = s.alarmsByPage()
	p.More = len(rest)
	for _, f := range []Figure{s.turnFigure(), s.placesFigure()} {
		if f.SVG != "" {
			p.Drawn = append(p.Drawn, f)
		}
	}
	p.Check = s.readings()
	p.High = s.figureHigh()
	p.Sides, _ = s.columns()
	p.Bar = s.bar()
	return p
}

// shortTool is a cutter's shape and size: "vee 6 mm, 60°".
func (s *Setup) shortTool(t Tool) string {
	text := t.Shape + " " + t.Dia.String() + " " + s.Unit.String()
	switch {
	case t.X == nil:
	case t.Shape == "bull":
		text += ", corner " + t.X.String() + " " + s.Unit.String()
	default:
		text += ", " + t.X.String() + "°"
	}
	return text
}

// usedFor says what a tool cuts, of the programs that are known: ": face, holes".
func (s *Setup) usedFor(tool int) string {
	var uses []string
	known := false
	for _, kind := range []struct {
		name string
		pass func(*Program) bool
	}{{"face", isFace}, {"back", isBack}, {"holes", func(p *Program) bool { return p.Role == "drilling" }}} {
		for i := range s.Programs {
			p := &s.Programs[i]
			if !kind.pass(p) {
				continue
			}
			known = known || len(p.Tools) > 0
			if slices.Contains(p.Tools, tool) {
				uses = append(uses, kind.name)
				break
			}
		}
	}
	switch {
	case len(uses) > 0:
		return ": " + strings.Join(uses, ", ")
	case known:
		return ": not used"
	}
	return ""
}

// turnWords says the flip as hands do it.
func turnWords(f registration.Flip) string {
	if f == registration.FlipX {
		return "Turn it away from you. Near edge goes far."
	}
	return "Turn like a page. Left edge goes right."
}

// zeroBoxes are the zeros of the first pair, and of the others where there are more.
func (s *Setup) zeroBoxes() (boxes []zeroBox) {
	a := s.Answer
	for _, st := range s.Stations {
		b := zeroBox{Side: strings.ToUpper(st.Side), Zero: st.Offset + " " + xyz(st.Zero.X, st.Zero.Y, st.Zero.Z), From: s.storedBy(st.Zero.Z != nil)}
		if len(s.Stations) > 2 {
			b.Side += ", pair " + itoa(st.Pair)
		}
		b = s.filled(b, st.Side == bed.BackSide, st.Pair)
		if st.Pair > 1 { // as the first pair's
			b.From, b.Level = "", ""
		}
		boxes = append(boxes, b)
	}
	if len(boxes) > 0 {
		return boxes
	}
	face := zeroBox{Side: "FACE", Zero: a.Question.FaceOffset(), From: words.Zero(a.Question.Zero, a.FaceZero)}
	if at := a.FaceAt; at != nil {
		face.Zero, face.From = face.Zero+" "+xyz(at.X, at.Y, at.Z), words.Frame(true)
	}
	boxes = append(boxes, s.filled(face, false, 1))
	back := zeroBox{Side: "BACK", Zero: "not known", From: s.zeroMissing()}
	if z := a.Second; z != nil {
		back.Zero, back.From = z.Offset+" "+xyz(z.X, z.Y, z.Z), words.Frame(z.Machine)
	}
	return append(boxes, s.filled(back, true, 1))
}

// filled says what a side's Z0 is and which programs run there.
func (s *Setup) filled(b zeroBox, back bool, pair int) zeroBox {
	q := s.Answer.Question
	level := q.ZZero
	if back {
		level = q.BackZZero
	}
	b.Level = "Z0 top of the blank: touch off"
	if level == registration.Bed {
		b.Level = "Z0 bare seating plane: touch off"
	}
	if back && q.TouchOff == registration.TouchOffOnce {
		b.Level = "Z0 follows from the face: see the steps"
	}
	if reading := s.expected(back); reading != nil {
		b.Level += "; expect Z" + reading.String()
	}
	if s.merged() { // the order says what is run
		return b
	}
	var names []string
	mine := func(p *Program) bool {
		side := isFace(p)
		if back {
			side = isBack(p)
		}
		return side && (!strings.HasPrefix(p.Name, "pair") || strings.HasPrefix(p.Name, "pair"+itoa(pair)+"-"))
	}
	for i := range s.Programs {
		p := &s.Programs[i]
		if !mine(p) {
			continue
		}
		run := p.Name
		for k, t := range p.Tools {
			if k == 0 {
				run += ":"
			}
			run += " T" + itoa(t)
		}
		names = append(names, run)
	}
	b.Run = strings.Join(names, ", then ")
	return b
}

// storedBy says who puts a station's zero into its offset.
func (s *Setup) storedBy(z bool) string {
	axes := "X and Y"
	if z {
		axes = "X, Y and Z"
	}
	if s.LinesFile == "" {
		return "type " + axes + " (" + words.Frame(true) + ")"
	}
	return s.LinesFile + " stores " + axes + " (" + words.Frame(true) + ")"
}

// alarmsByPage parts the alarms into those that have room on page one and the rest.
func (s *Setup) alarmsByPage() (one, two []Para) {
	all := s.alarms()
	n := min(len(all), mostAlarms)
	for n > 1 && alarmRows(all[:n]) > alarmLines {
		n--
	}
	return all[:n], all[n:]
}

// alarmRows is how many lines alarms take on page one.
func alarmRows(list []Para) (rows int) {
	for _, p := range list {
		rows += 1 + len(labelled(p))/alarmWide
	}
	return rows
}

// alarms are the sheet's stops and warnings, each once: what stops first, then what
// spoils every cut, then numbers that are typed at the machine, then the rest.
func (s *Setup) alarms() (list []Para) {
	seen := map[string]bool{}
	add := func(level, text string) {
		if !seen[text] {
			seen[text] = true
			list = append(list, Para{level, text})
		}
	}
	if s.Check != nil {
		for _, f := range s.Check.Findings {
			if f.Level != "note" {
				add("finding", f.Text+". "+capital(f.Do))
			}
		}
	}
	if s.unstopped() != "" {
		add("warning", s.caution("tool-change"))
	}
	for _, text := range s.answerWarnings() {
		add("warning", text)
	}
	for _, sec := range s.text() {
		for _, b := range sec.Blocks {
			if p, ok := b.(Para); ok && p.Level == "warning" {
				add(p.Level, p.Text)
			}
		}
	}
	return list
}

// readings say how the locators are checked, and what the axes must read at the touch
// points, an offset a line.
func (s *Setup) readings() (lines []string) {
	points := s.touchPoints()
	centred, beside := false, false
	for _, p := range points {
		centred, beside = centred || p.Centred, beside || !p.Centred
	}
	with := ""
	if s.TouchTool > 0 {
		with = " with T" + itoa(s.TouchTool)
	}
	switch {
	case centred && beside:
		lines = append(lines, "center over a dowel or plug, else touch"+with)
	case centred:
		lines = append(lines, "center over each point")
	case beside:
		lines = append(lines, "touch each point"+with)
	}
	last := ""
	for i, p := range points {
		if p.Offset != last {
			last = p.Offset
			lines = append(lines, last+" reads ")
		} else {
			lines[len(lines)-1] += ", "
		}
		lines[len(lines)-1] += p.Says(i + 1)
	}
	return lines
}

// zeroMissing says why the second zero isn't known.
func (s *Setup) zeroMissing() string {
	if s.Answer.ToTouch() {
		return "touch the turned blank first"
	}
	return "no register was given"
}

// spotWords says what is touched on the turned blank.
func spotWords(p registration.Place) string {
	if p.Spot.Edge == registration.NoSide {
		return "hole at " + xy(p.On) + " of the blank as it lies"
	}
	along := "X" + p.On.X.Round(0).String()
	if p.Spot.Edge == registration.Left || p.Spot.Edge == registration.Right {
		along = "Y" + p.On.Y.Round(0).String()
	}
	return p.Spot.Edge.String() + " edge, about " + along + " from its near-left corner"
}

// limits are what must be left, how far off the back can be, and how long it all takes.
func (s *Setup) limits() (lines []string) {
	add := func(text string) { lines = append(lines, text) }
	unit, places := " "+s.Unit.String(), letters.Places(s.Unit)
	if s.merged() {
		switch p := s.Plan; {
		case p.Finish > 0:
			add(plural(p.Parts, "part", "parts") + " done in " + letters.Duration(p.Finish))
		case p.Seconds > 0:
			add("One cycle " + letters.Duration(p.Seconds))
		}
	}
	if s.ClearZ != nil {
		add("Keep all on the bed below machine Z" + s.ClearZ.String() + " (clear height)")
	}
	if c := s.Check; c != nil && c.HasWeb {
		add("Least left between face and back: " + letters.Down(c.WebMin, places) + unit)
	}
	if b := s.Budget; b != nil {
		add("Back against face: " + letters.Up(b.Likely, places) + unit + " likely, " + letters.Up(b.Worst, places) + " at most")
	}
	return lines
}

// bar are the cautions that concern everything, in one breath each.
func (s *Setup) bar() (list []string) {
	if s.Answer.Question.Register != registration.NoRegister {
		list = append(list, s.locatorsNamed()+" do not hold: clamp first.")
	}
	list = append(list,
		"Stop the spindle before a hand goes in.",
		"Goggles, ear defenders, dust extraction.",
		"The machine's maker and local rules come first.")
	return list
}
