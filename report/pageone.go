package report

import (
	"math"
	"path/filepath"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/budget"
	"flipcalc/report/draw"
	"flipcalc/report/letters"
	"flipcalc/report/words"
)

// pageOne is what the sheet's first page holds: what must be seen from a step away.
type pageOne struct {
	Name    string
	Facts   []string     // the blank, the batch, the job
	Zeros   []zeroBox    // face and back of each pair
	Alarms  []Para       // stop and warn
	More    int          // alarms that stand on page two
	Drawn   []pageFigure // the turn, the places
	Moved   Figure       // the turn where it has no room here: on page two
	Ticks   []string     // with blanks to fill in
	Then    string       // over the plan
	Plan    []string
	Tools   []string
	Unit    string // of tools and stick-outs
	Lengths bool   // are called, so the control must know them
	Rest    int    // tools that stand on page two
	Found   []string
	Bar     []string // the cautions that concern everything
	Foot    []string
}

// pageFigure is a figure of page one under its heading, High mm on paper.
type pageFigure struct {
	Title, Key string
	High       float64
	Figure
}

// zeroBox is one side's zero with what belongs to it: the frame, its Z0, and its programs.
type zeroBox struct {
	Side, Zero, From, Level, Run string
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
	paperHigh = 259.4 // of 261, since lines are estimated
	fixedHigh = 57.0  // heads, the bar, the foot, the first row of zeros
	lineHigh  = 4.5
	headHigh  = 7.0
	tickRim   = 1.4
	zeroHigh  = 12.0 // of 25 pt
	alarmRim  = 5.0
	tickWide  = 108.0
	boxWide   = 65.0
	pageWide  = 186.0
	zeroWide  = 93.0 / 25 * 11 / 1.1 // in heavy letters of 25 pt
)

// letterSize is 11 pt in mm, less what Arial and its like are narrower than the letters that
// lines are reckoned with.
const letterSize = 3.88 * 0.77

// A figure's height: with less not every blank leaves its letters 11 pt, and more shows no
// more. The turn takes its part of the room for both.
const (
	leastTurn   = 24.0
	leastPlaces = 34.0
	mostHigh    = 66.0
	turnPart    = 0.42
)

// pageOne gathers the first page, and the alarms that have no room on it; nil where nothing
// is known of the blank. The figures get the room that the text leaves; where that isn't
// enough, alarms go to page two, then the drawing of the turn. The plan, the order of the programs, always stays.
func (s *Setup) pageOne() (p *pageOne, rest []Para) {
	a := s.Answer
	if a == nil {
		return nil, nil
	}
	p = &pageOne{Name: s.Name(), Unit: s.Unit.String(), Lengths: s.callsLengths(), Facts: s.headFacts(), Zeros: s.zeroBoxes(), Then: "Then, in short (whole: page\u00a02)", Found: s.foundInMemory(),
		Bar: s.bar(true), Foot: []string{words.Caution("practice", ""), "Page 2: steps."}}
	p.Ticks, p.Plan = s.inShort()
	if s.Plan != nil && s.Plan.Parts > 0 && s.Plan.Finish > 0 {
		p.Then += ": " + plural(s.Plan.Parts, "part", "parts") + " in " + letters.Duration(s.Plan.Finish)
	}
	for _, t := range s.Tools {
		switch why, used := s.usedFor(t.Number); {
		case !used:
		case len(p.Tools) == mostTools:
			p.Rest++
		default:
			p.Tools = append(p.Tools, "T"+itoa(t.Number)+" "+shortTool(t)+why)
		}
	}
	all := s.alarms()
	for i := range all { // the keys of the job file mean nothing at the machine
		all[i].Text, _, _ = strings.Cut(all[i].Text, "; hint: ")
		if text, _, marked := strings.Cut(all[i].Text, " ["); marked && strings.HasSuffix(all[i].Text, "]") {
			all[i].Text = text
		}
	}
	n := min(len(all), mostAlarms)
	for n > 1 && linesOf(pageWide, all[:n]...) > alarmLines {
		n--
	}
	key, least, keyHigh := draw.StationsKey(s.scene()), leastTurn+leastPlaces, 0.0
	if len(s.places()) == 0 {
		key, least = "", leastTurn
	}
	if key != "" {
		keyHigh = lineHigh * float64(linesOf(pageWide, Para{"", key}))
	}
	left := 0.0
	for ; ; n-- {
		p.Alarms, p.More = all[:n], len(all)-n
		if left = p.left(); n <= 1 || left >= least+keyHigh {
			break
		}
	}
	left -= keyHigh
	turn, places := left, 0.0
	switch {
	case len(s.places()) == 0:
	case left < least: // for both
		left += keyHigh // the key goes too
		key, turn, places = "", mostHigh, left
		p.Moved = s.turnFigure(turn)
	default:
		turn, places = left*turnPart, left*(1-turnPart)
	}
	turn, places = math.Floor(min(turn, mostHigh)), math.Floor(min(places, mostHigh))
	turned := pageFigure{Title: s.turnTitle() + s.staysWords(), High: turn}
	if p.Moved.SVG == "" {
		turned.Figure = s.turnFigure(turn)
	}
	for _, d := range []pageFigure{turned,
		{"Where it stands (machine coordinates, " + s.bedUnit().String() + ")", key, places, s.placesFigure(places)}} {
		if d.SVG != "" || p.Moved.SVG != "" {
			p.Drawn = append(p.Drawn, d)
		}
	}
	return p, all[n:]
}

// left is the room for the figures, mm.
func (p *pageOne) left() float64 {
	lines := func(wide float64, rim float64, list []string) (high float64) {
		for _, l := range list {
			high += rim + lineHigh*float64(linesOf(wide, Para{"", l}))
		}
		return high
	}
	foot := lines(tickWide, tickRim, p.Ticks)
	box := headHigh + lines(boxWide, 0.4, p.Tools) + headHigh + lines(boxWide, 0.4, p.Found)
	left := paperHigh - fixedHigh - max(foot, box)
	if len(p.Plan) > 0 {
		left -= headHigh + lines(pageWide, 0.4, p.Plan)
	}
	if p.More > 0 { // which is told beside the first
		left -= lineHigh
	}
	if len(p.Alarms) > 0 {
		left -= alarmRim + lineHigh*float64(linesOf(pageWide, p.Alarms...))
	}
	for i := 0; i < len(p.Zeros); i += 2 {
		left -= zeroHigh * float64(max(linesOf(zeroWide, Para{"", p.Zeros[i].Zero}), linesOf(zeroWide, Para{"", p.Zeros[i+1].Zero})))
		left -= lineHigh * float64(max(linesOf(pageWide/2, Para{"", p.Zeros[i].Run}), linesOf(pageWide/2, Para{"", p.Zeros[i+1].Run}))-1)
	}
	return left
}

// A line to write on is 18 mm wide (sheet.css), as nine underscores, and doesn't break.
var roomToWrite = strings.Repeat("_", 9)

// linesOf is how many lines paragraphs take on paper, in a column so many mm wide.
func linesOf(wide float64, list ...Para) (n int) {
	for _, p := range list {
		n += draw.Lines(strings.ReplaceAll(labelled(p), blank, roomToWrite), wide/letterSize)
	}
	return n
}

// callsLengths reports whether a program calls its tools' lengths.
func (s *Setup) callsLengths() bool {
	return slices.ContainsFunc(s.Programs, func(p Program) bool {
		return slices.ContainsFunc(p.Stints, func(st motion.Stint) bool { return st.Length })
	})
}

// headFacts are the blank, the batch, and the face program by the head of its check sum.
func (s *Setup) headFacts() []string {
	first := size(s.Answer.Used) + " " + s.Unit.String()
	if s.Material != "" {
		first = s.Material + " " + first
	}
	if s.Plan != nil && s.Plan.Parts > 0 {
		// Before the run a first piece is cut and measured at each place, and one more.
		first += ", " + plural(s.Plan.Parts, "part", "parts") + " + " + itoa(2*max(1, len(s.Stations)/2)) + " test pieces"
	}
	var second []string
	if s.Job != "" {
		second = append(second, filepath.Base(s.Job))
	}
	if i := slices.IndexFunc(s.Programs, func(p Program) bool { return isFace(&p) && len(p.SHA256) > 8 }); i >= 0 {
		second = append(second, s.Programs[i].Name+" "+s.Programs[i].SHA256[:8])
	}
	if len(second) == 0 {
		return []string{first}
	}
	return []string{first, strings.Join(second, ", ")}
}

// staysWords says which dowel stays where it is in the turn, where that shows.
func (s *Setup) staysWords() string {
	places, q := s.dowelPlaces(), s.Answer.Question
	if places == nil {
		return ""
	}
	big := 0
	if q.Pins[1].Dia.GreaterThan(q.Pins[0].Dia) {
		big = 1
	}
	return " Big dowel stays " + places[big] + "."
}

// shortTool is a cutter's shape and size, without the unit: "vee 6, 60°".
func shortTool(t Tool) string {
	text := t.Shape + " " + t.Dia.String()
	switch {
	case t.X == nil:
	case t.Shape == "bull":
		text += ", corner " + t.X.String()
	default:
		text += ", " + t.X.String() + "°"
	}
	return text
}

// usedFor reports whether a known program uses a tool, where any is known, and says of one
// that cuts neither side what it is there for.
func (s *Setup) usedFor(tool int) (why string, used bool) {
	known := false
	uses := func(pass func(*Program) bool) bool {
		return slices.ContainsFunc(s.Programs, func(p Program) bool {
			known = known || pass(&p) && len(p.Tools) > 0
			return pass(&p) && slices.Contains(p.Tools, tool)
		})
	}
	switch {
	case uses(isFace), uses(isBack):
		return "", true
	case uses(func(p *Program) bool { return p.Role == "drilling" }):
		return " (dowel holes)", true
	}
	return "", !known
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
				b.Side += " " + itoa(pair)
			}
			unit, from := s.bedUnit().String(), ""
			places := s.placesOf(back)
			switch {
			case len(places) >= pair:
				st := places[pair-1]
				b.Zero, from = st.Offset+" "+xyz(st.Zero.X, st.Zero.Y, st.Zero.Z), words.Frame(true)
				b.Level = s.level(back, st.Zero.Z != nil)
			case !back:
				b.Zero, from = a.Question.FaceOffset(), words.Zero(a.Question.Zero, a.FaceZero)
				b.Level = s.level(back, false)
			case a.Second != nil:
				b.Zero, from = a.Second.Offset+" "+xyz(a.Second.X, a.Second.Y, a.Second.Z), words.Frame(a.Second.Machine)
				b.Level = s.level(back, a.Second.Machine && a.Second.Z != nil)
				unit = s.Unit.String()
			default:
				b.Zero, from = "not known", s.zeroMissing()
				b.Level = s.level(back, false)
			}
			if b.From, b.Run = unit+", "+from, s.runs(back); pair > 1 { // as the first pair's
				b.Side, b.From, b.Level, b.Run = itoa(pair), "", "", ""
			}
			boxes = append(boxes, b)
		}
	}
	return boxes
}

// level says what a side's Z0 is and how it is set; stored, that its offset has one already.
func (s *Setup) level(back, stored bool) string {
	q := s.Answer.Question
	text := "Z0 top of blank: touch off"
	switch {
	case back && q.TouchOff == registration.TouchOffOnce:
		return "Z0 follows from the face's: page\u00a02"
	case q.ZLevel(back) == registration.Bed:
		text = "Z0 on the bed: touch off"
	}
	if stored {
		text += ", replacing its Z"
	}
	return text
}

// runs names a side's programs with time and tools, in the order in which they are run.
func (s *Setup) runs(back bool) string {
	pass := s.firstPair(back)
	text := s.programs(pass)
	if text == "" {
		return ""
	}
	text += s.takes(pass)
	var tools []string
	for i := range s.Programs {
		if p := &s.Programs[i]; pass(p) {
			for _, t := range p.Tools {
				if name := "T" + itoa(t); len(tools) == 0 || tools[len(tools)-1] != name {
					tools = append(tools, name)
				}
			}
		}
	}
	if len(tools) > 0 {
		text += ": " + strings.Join(tools, " ")
	}
	return text
}

// alarms are the sheet's stops and warnings, each once, what hurts most first, since the last
// go to page two: what stops, what spoils every cut, what is doubtful of the job's numbers and
// of the cut, then of the answer's, then an offset that may not be free, then the rest.
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
	notes := s.Notes
	if s.Check != nil {
		notes = slices.Concat(notes, s.Check.Notes)
	}
	for _, n := range notes {
		if n.Level == registration.LevelWarning {
			add(n.Level, notePara(n, s.Unit).Text)
		}
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

// offPlace is how far off its place a locator may stand: as far as the budget counts on. It moves
// the back by as much, or by twice that where the turn mirrors it.
func (s *Setup) offPlace() string {
	v := s.tolerance(budget.Locator)
	if b := s.Budget; b != nil && b.Locator.IsPositive() {
		v = b.Locator
	}
	return s.onBed(v)
}

// ruleRead is how far a stick-out that was measured with a rule may be off: half a division of
// 1 mm, or of 1/32 in, at either end (common practice), 1 mm or 0.03 in.
func ruleRead(u transform.Unit) decimal.Decimal {
	if u == transform.Inch {
		return decimal.New(3, -2)
	}
	return decimal.NewFromInt(1)
}

// farOff is how far off the expected Z may be read: by what a rule misreads the stick-out, and by
// the thickness of the blank where Z0 is its top.
func (s *Setup) farOff(back bool) string {
	v := ruleRead(s.Unit)
	switch b := s.Budget; {
	case s.Answer.Question.ZLevel(back) == registration.Bed:
	case b != nil:
		v = v.Add(b.Thickness)
	default:
		v = v.Add(s.tolerance(budget.Thickness))
	}
	return s.onBed(v)
}

// tolerance is what the budget takes where nothing is given.
func (s *Setup) tolerance(name string) decimal.Decimal {
	all := budget.All()
	i := slices.IndexFunc(all, func(t budget.Tolerance) bool { return t.Name == name })
	return all[i].Default(s.Answer.Question).Amount
}

// onBed writes a limit in the bed's unit, rounded down.
func (s *Setup) onBed(v decimal.Decimal) string {
	v, _ = transform.Convert(v, s.Unit, s.bedUnit(), 6)
	return v.RoundFloor(int32(letters.Places(s.bedUnit()))).String() + " " + s.bedUnit().String()
}

// located names what is checked at the touch points.
func (s *Setup) located() string {
	switch q := s.Answer.Question; {
	case q.Register == registration.FenceStop:
		return "fence and stop"
	case q.Register == registration.Dowels:
		return "the dowels"
	case q.Clock.Kind == registration.ClockFence:
		return "plug and fence"
	}
	return "the plug"
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

// foundInMemory is what cutting in memory found, and what hands must keep: what must be
// left, what goes through and what holds it, how far off the back can be, and the clear height.
func (s *Setup) foundInMemory() (lines []string) {
	add := func(text string) { lines = append(lines, text) }
	unit, places := " "+s.Unit.String(), letters.Places(s.Unit)
	if c := s.Check; c != nil {
		if !c.OK() {
			add(c.Verdict() + ": don't cut")
		}
		if c.HasWeb {
			text := "Least wood left between face and back: " + letters.Down(c.WebMin, places) + unit
			if c.Least != nil {
				text += ", " + c.Least.String() + " wanted"
				if float64(c.WebMin) >= c.Least.InexactFloat64() {
					text += ": good"
				}
			}
			add(text)
		}
		if n := len(c.Through); n > 0 {
			add(plural(n, "cut", "cuts") + " right through; " + c.holds())
		}
	}
	if b := s.Budget; b != nil {
		add("Back lies off the face: " + letters.Up(b.Likely, places) + unit + " likely, " + letters.Up(b.Worst, places) + " at most")
	}
	if s.ClearZ != nil {
		add("Clear height: machine Z" + s.ClearZ.String())
	}
	return lines
}

// free reports parts that are cut free.
func (c *Check) free() bool { return c != nil && (c.Tabs != nil || len(c.Loose) > 0) }

// holds says what holds what is cut free.
func (c *Check) holds() string {
	var parts []string
	if t := c.Tabs; t != nil {
		parts = append(parts, plural(t.Count, "tab", "tabs")+" "+word(t.Count, "holds", "hold")+" the part")
	}
	if n := len(c.Loose); n > 0 {
		parts = append(parts, plural(n, "piece comes", "pieces come")+" loose: hold "+word(n, "it", "them"))
	}
	if len(parts) == 0 {
		return "nothing comes loose"
	}
	return strings.Join(parts, "; ")
}

// bar are the cautions that concern everything, in one breath each; on the sheet with the
// one against the blank's own edge, where something locates it.
func (s *Setup) bar(sheet bool) (list []string) {
	r := s.Answer.Question.Register
	if r != registration.NoRegister {
		list = append(list, s.locatorsNamed()+" do not hold: clamp first.")
	}
	if sheet && r != registration.NoRegister && r != registration.Touched {
		list = append(list, "Never touch off X Y on the blank's edge.")
	}
	list = append(list,
		"Stop the spindle before a hand goes in.",
		"Goggles, ear defenders, dust extraction.")
	if !sheet { // which has it at its foot
		list = append(list, "The machine's maker and local rules come first.")
	}
	return list
}
