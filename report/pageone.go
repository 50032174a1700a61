package report

import (
	"math"
	"slices"
	"strings"

	"flipcalc/registration"
	"flipcalc/report/draw"
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

// firstPage is how the room of page one is shared out.
type firstPage struct {
	alarms, rest []Para // on page one, and on page two
	sides        [2]column
	high         float64 // of each figure on paper, mm
}

// How much page one holds: alarms, in so many lines, and tools, of which more stand on page
// two.
const (
	mostAlarms = 4
	alarmLines = 8
	mostTools  = 6
)

// Sizes on paper, in mm, as sheet.css has them on Letter, the lower sheet: its height
// between its margins; what stands on every page one; a line of 11 pt, and what goes round
// it; the widths of text.
const (
	paperHigh = 258.0 // of 261, since lines are estimated
	fixedHigh = 65.0  // heads, the bar, the first row of zeros
	lineHigh  = 4.5
	headHigh  = 7.2
	tickRim   = 0.6
	limitRim  = 0.9
	toolHigh  = 6.0  // with room to write
	zeroHigh  = 12.0 // of 25 pt
	alarmRim  = 5.0
	tickWide  = 84.0
	limitWide = 95.0
	pageWide  = 186.0
	zeroWide  = 93.0 / 25 * 11 / 1.1 // in heavy letters of 25 pt
	writeText = " write: _______"    // as wide as a blank to fill in
)

// letterSize is 11 pt in mm, less what Arial and its like are narrower than the letters that
// lines are reckoned with.
const letterSize = 3.88 * 0.77

// A figure's height: with less not every blank leaves its letters 11 pt, and more shows no
// more.
const (
	leastHigh = 42.0
	lastHigh  = 39.0 // where nothing else makes room
	mostHigh  = 54.0
)

// firstPage gives the figures the room that the text leaves. Where that isn't enough, the
// limits that hands don't need make room, then the list of tools, for which one line stands
// in, then the alarms.
func (s *Setup) firstPage() (f firstPage) {
	all, limits, hands := s.alarms(), s.limits(), len(s.handLimits())
	n := min(len(all), mostAlarms)
	for n > 1 && linesOf(pageWide, all[:n]...) > alarmLines {
		n--
	}
	for ; ; n-- {
		f.alarms, f.rest = all[:n], all[n:]
		for _, list := range []struct {
			tools int
			line  []string
		}{{tools: min(len(s.Tools), mostTools)}, {line: s.toolsInLine()}, {}} {
			for k := len(limits); k >= hands; k-- {
				var high float64
				f.sides, high = s.columns(list.tools, slices.Concat(list.line, limits[:k]))
				f.high = math.Floor(min(s.figureHigh(high, f.alarms), mostHigh))
				if f.high >= leastHigh {
					return f
				}
			}
		}
		if n <= 1 {
			f.high = max(f.high, lastHigh)
			return f
		}
	}
}

// linesOf is how many lines paragraphs take on paper, in a column so many mm wide.
func linesOf(wide float64, list ...Para) (n int) {
	for _, p := range list {
		n += draw.Lines(labelled(p), wide/letterSize)
	}
	return n
}

// columns puts so many tools and limits under the shorter stage, and says how high the
// longer column then is.
func (s *Setup) columns(tools int, limits []string) (out [2]column, longest float64) {
	high := [2]float64{}
	for i, st := range s.order() {
		out[i].stage = st
		for _, t := range st.Ticks {
			high[i] += tickRim + lineHigh*float64(linesOf(tickWide, Para{"", t.Text + strings.Repeat(writeText, len(t.Write))}))
		}
	}
	shorter := func() int {
		if high[0] < high[1] {
			return 0
		}
		return 1
	}
	if len(s.Tools) > 0 {
		i := shorter()
		for _, t := range s.Tools[:tools] {
			out[i].Tools = append(out[i].Tools, "T"+itoa(t.Number)+" "+s.shortTool(t)+s.usedFor(t.Number))
		}
		if tools > 0 {
			out[i].More = len(s.Tools) - tools
			high[i] += headHigh + toolHigh*float64(min(len(s.Tools), tools+1))
		}
	}
	i := shorter()
	out[i].Limits = limits
	high[i] += headHigh
	for _, l := range out[i].Limits {
		high[i] += limitRim + lineHigh*float64(linesOf(limitWide, Para{"", l}))
	}
	return out, max(high[0], high[1])
}

// figureHigh is the room of each figure: what columns of a height, alarms, zeros and the
// readings leave.
func (s *Setup) figureHigh(columns float64, alarms []Para) float64 {
	left := paperHigh - fixedHigh - columns
	if len(alarms) > 0 {
		left -= alarmRim + lineHigh*float64(linesOf(pageWide, alarms...))
	}
	boxes := s.zeroBoxes()
	for i := 0; i < len(boxes); i += 2 {
		left -= zeroHigh * float64(max(linesOf(zeroWide, Para{"", boxes[i].Zero}), linesOf(zeroWide, Para{"", boxes[i+1].Zero})))
	}
	if slices.ContainsFunc(boxes, func(b zeroBox) bool { return b.Run != "" }) {
		left -= lineHigh
	}
	left -= lineHigh * float64(linesOf(pageWide, Para{"", strings.Join(s.readings(), ". ")}))
	figures := 2.0
	if len(s.places()) == 0 {
		figures = 1
	}
	return left / figures
}

// pageOne gathers the first page; nil where nothing is known of the blank.
func (s *Setup) pageOne() *pageOne {
	a := s.Answer
	if a == nil {
		return nil
	}
	p := &pageOne{Name: s.Name(), Turn: s.turnTitle()}
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
	page := s.firstPage()
	p.Alarms, p.More = page.alarms, len(page.rest)
	for _, f := range []Figure{s.turnFigure(page.high), s.placesFigure(page.high)} {
		if f.SVG != "" {
			p.Drawn = append(p.Drawn, f)
		}
	}
	p.Check = s.readings()
	p.High, p.Sides = page.high, page.sides
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

// toolsInLine is the list of tools as one line, where there are few.
func (s *Setup) toolsInLine() []string {
	if len(s.Tools) == 0 {
		return nil
	}
	if len(s.Tools) > mostTools {
		return []string{itoa(len(s.Tools)) + " tools: page 2"}
	}
	var tools []string
	for _, t := range s.Tools {
		tools = append(tools, "T"+itoa(t.Number)+" "+s.shortTool(t))
	}
	return []string{strings.Join(tools, "; ")}
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

// turnWords says the flip as hands do it where the blank lies turned by so many quarters.
func turnWords(f registration.Flip, k registration.Quarter) string {
	if (f == registration.FlipX) == (k%2 == 0) {
		return "Turn it away from you. Near edge goes far."
	}
	return "Turn like a page. Left edge goes right."
}

// zeroBoxes are the zeros of the first pair, and of the others where there are more. Where
// a side has no place in machine coordinates, its zero is known from the other or not yet.
func (s *Setup) zeroBoxes() (boxes []zeroBox) {
	a := s.Answer
	for pair := 1; pair == 1 || pair <= len(s.Stations)/2; pair++ {
		for _, back := range []bool{false, true} {
			b := zeroBox{Side: strings.ToUpper(sideOf(back))}
			if len(s.Stations) > 2 {
				b.Side += ", pair " + itoa(pair)
			}
			if pair > 1 {
				b.Side = itoa(pair)
			}
			places := s.placesOf(back)
			switch {
			case len(places) >= pair:
				st := places[pair-1]
				b.Zero, b.From = st.Offset+" "+xyz(st.Zero.X, st.Zero.Y, st.Zero.Z), s.storedBy(st.Zero.Z != nil)
			case !back:
				b.Zero, b.From = a.Question.FaceOffset(), words.Zero(a.Question.Zero, a.FaceZero)
			case a.Second != nil:
				b.Zero, b.From = a.Second.Offset+" "+xyz(a.Second.X, a.Second.Y, a.Second.Z), words.Frame(a.Second.Machine)
			default:
				b.Zero, b.From = "not known", s.zeroMissing()
			}
			if b.Level = s.level(back); pair > 1 { // as the first pair's
				b.From, b.Level = "", ""
			}
			if len(s.Stations) <= 2 && !s.merged() { // else the order says what is run
				b.Run = s.runs(back)
			}
			boxes = append(boxes, b)
		}
	}
	return boxes
}

// level says what a side's Z0 is, and what is read there.
func (s *Setup) level(back bool) string {
	q := s.Answer.Question
	level := q.ZZero
	if back {
		level = q.BackZZero
	}
	text := "Z0 top of blank: touch off"
	switch {
	case back && q.TouchOff == registration.TouchOffOnce:
		text = "Z0 follows from the face: see the steps"
	case level == registration.Bed:
		text = "Z0 seating plane: touch off"
	}
	if reading := s.expected(back); reading != nil {
		text += ", expect Z" + reading.String() + " or stop"
	}
	return text
}

// runs names a side's programs with their tools, in the order in which they are run.
func (s *Setup) runs(back bool) string {
	var names []string
	for i := range s.Programs {
		p := &s.Programs[i]
		if !p.cuts(back) {
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
	return strings.Join(names, ", then ")
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

// alarms are the sheet's stops and warnings, each once: what stops first, then what
// spoils every cut, then numbers that are typed at the machine, then the rest.
func (s *Setup) alarms() (list []Para) {
	said := words.Said{}
	add := func(level, text string) {
		if said.First(text) {
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
	if len(points) > 0 {
		if len(s.Stations) > 2 {
			lines = append(lines, "Other pairs: by the record")
		}
		lines = append(lines, "If one is off, stop and find why: don't correct it by hand")
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

// handLimits are what hands must keep: the clear height, how deep is cut, where clamps stand.
func (s *Setup) handLimits() (lines []string) {
	if s.ClearZ != nil {
		lines = append(lines, "Clear height: keep all below machine Z"+s.ClearZ.String())
	}
	return append(lines, s.reachLimits()...)
}

// limits are those and what must be left, how far off the back can be, and how long it all
// takes.
func (s *Setup) limits() []string {
	lines := s.handLimits()
	add := func(text string) { lines = append(lines, text) }
	unit, places := " "+s.Unit.String(), letters.Places(s.Unit)
	if c := s.Check; c != nil && c.HasWeb {
		add("Least left between face and back: " + letters.Down(c.WebMin, places) + unit)
	}
	if b := s.Budget; b != nil {
		add("Back against face: " + letters.Up(b.Likely, places) + unit + " likely, " + letters.Up(b.Worst, places) + " at most")
	}
	if s.merged() {
		switch p := s.Plan; {
		case p.Finish > 0:
			add(plural(p.Parts, "part", "parts") + " done in " + letters.Duration(p.Finish))
		case p.Seconds > 0:
			add("One cycle " + letters.Duration(p.Seconds))
		}
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
