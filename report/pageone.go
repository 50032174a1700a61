package report

import (
	"strings"

	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report/letters"
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
	Reads  []string  // what the numbered points read, an offset a line
	Ticks  []tick
	Tools  []string
	Plan   []string
	Bar    []string // the cautions that concern everything
}

// zeroBox is one side's zero with what belongs to it.
type zeroBox struct {
	Side, Zero, From, Level, Run string
}

// tick is a thing to do before the first cut, with blanks to fill in.
type tick struct {
	Text  string
	Write []string
}

// mostAlarms is how many stops and warnings have room on page one.
const mostAlarms = 4

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
	alarms := s.alarms()
	p.More = max(0, len(alarms)-mostAlarms)
	p.Alarms = alarms[:len(alarms)-p.More]
	for _, f := range []Figure{s.turnFigure(), s.placesFigure()} {
		if f.SVG != "" {
			p.Drawn = append(p.Drawn, f)
		}
	}
	p.Reads = s.readings()
	p.Ticks = s.ticks()
	for _, t := range s.Tools {
		p.Tools = append(p.Tools, "T"+itoa(t.Number)+" "+shortTool(t))
	}
	p.Plan = s.planLines()
	p.Bar = s.bar()
	return p
}

// shortTool is a cutter's shape and size: "vee 6, 60°".
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
		b := zeroBox{Side: strings.ToUpper(st.Side), Zero: st.Offset + " " + xyz(st.Zero.X, st.Zero.Y, st.Zero.Z), From: frameWords(true)}
		if len(s.Stations) > 2 {
			b.Side += ", pair " + itoa(st.Pair)
		}
		boxes = append(boxes, s.filled(b, st.Side == bed.BackSide, st.Pair))
	}
	if len(boxes) > 0 {
		return boxes
	}
	face := zeroBox{Side: "FACE", Zero: a.Question.FaceOffset(), From: zeroWords(a.Question.Zero, a.FaceZero)}
	if at := a.FaceAt; at != nil {
		face.Zero, face.From = face.Zero+" "+xyz(at.X, at.Y, at.Z), frameWords(true)
	}
	boxes = append(boxes, s.filled(face, false, 1))
	back := zeroBox{Side: "BACK", Zero: "not known", From: s.zeroMissing()}
	if z := a.Second; z != nil {
		back.Zero, back.From = z.Offset+" "+xyz(z.X, z.Y, z.Z), frameWords(z.Machine)
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
		b.Level = "Z0 seating plane: touch off before the blank covers it"
	}
	if back && q.TouchOff == registration.TouchOffOnce {
		b.Level = "Z0 follows from the face: see the steps"
	}
	var names []string
	total := 0.0
	for i := range s.Programs {
		p := &s.Programs[i]
		side := isFace(p)
		if back {
			side = isBack(p)
		}
		if !side || strings.HasPrefix(p.Name, "pair") && !strings.HasPrefix(p.Name, "pair"+itoa(pair)+"-") {
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
		total += float64(p.Seconds)
	}
	b.Run = strings.Join(names, ", then ")
	if b.Run != "" && total > 0 {
		b.Run += ", " + clock(total) + " min:s"
	}
	return b
}

// alarms are the sheet's stops and warnings, each once, stops first.
func (s *Setup) alarms() (list []Para) {
	seen := map[string]bool{}
	if s.Check != nil {
		for _, f := range s.Check.Findings {
			if f.Level != "note" && !seen[f.Text] {
				seen[f.Text] = true
				list = append(list, Para{"finding", f.Text + ". " + capital(f.Do)})
			}
		}
	}
	if text := s.unstopped(); text != "" {
		list = append(list, Para{"warning", s.caution("tool-change")})
	}
	for _, sec := range s.text() {
		for _, b := range sec.Blocks {
			if p, ok := b.(Para); ok && p.Level == "warning" && !seen[p.Text] {
				seen[p.Text] = true
				list = append(list, p)
			}
		}
	}
	return list
}

// readings say what the axes must read at the numbered points, an offset a line.
func (s *Setup) readings() (lines []string) {
	last := ""
	for i, p := range s.touchPoints() {
		if p.Offset != last {
			last = p.Offset
			lines = append(lines, "In "+last+": ")
		} else {
			lines[len(lines)-1] += ", "
		}
		lines[len(lines)-1] += p.Says(i + 1)
	}
	return lines
}

// ticks are the things to do before the first cut.
func (s *Setup) ticks() (list []tick) {
	a := s.Answer
	q := a.Question
	add := func(text string, write ...string) { list = append(list, tick{text, write}) }
	if over := s.Overwritten(); len(over) > 0 {
		add("Write down the old "+strings.Join(over, ", "), "values")
	}
	switch {
	case s.LinesFile != "":
		add("Run " + s.LinesFile + " once; compare the offset page")
	case a.Second != nil:
		add("Store the zeros above; read them back")
	}
	switch q.Register {
	case registration.Touched:
		for i, p := range a.Spots {
			if text := "Back up, touch " + itoa(i+1) + ": " + spotWords(p); a.ToTouch() {
				add(text, "machine X", "Y")
			} else {
				add(text + ": " + xy(p.Spot.At))
			}
		}
	case registration.Dowels:
		add("Set the dowels; check them at the numbers")
	case registration.Plug:
		add("Set the plug; check it at the numbers")
	case registration.FenceStop:
		add("Set fence and stop; check them at the numbers")
	}
	add("Seat the blank FACE up, no chips under it; clamp it")
	add("Touch off Z", "tool", "feeler")
	add("Dry run above the work; set Z back", "Z")
	return list
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

// planLines are at most five lines of what runs in which order, with times.
func (s *Setup) planLines() (lines []string) {
	add := func(text string) { lines = append(lines, text) }
	if p := s.Plan; p != nil && len(p.Cycles) > 0 {
		for _, c := range p.Cycles[:min(3, len(p.Cycles))] {
			add(capital(c.Name) + ": " + letters.Plain(c.Program))
		}
		if p.Finish > 0 {
			add(plural(p.Parts, "part", "parts") + " done in " + duration(p.Finish))
		} else if p.Seconds > 0 {
			add("One cycle " + duration(p.Seconds))
		}
	}
	if s.ClearZ != nil {
		add("Clear height: machine Z" + s.ClearZ.String())
	}
	if c := s.Check; c != nil && c.HasWeb {
		add("Least web " + letters.Down(c.WebMin, letters.Places(s.Unit)) + " " + s.Unit.String())
	}
	if b := s.Budget; b != nil && len(lines) < 6 {
		add("Back off by " + letters.Up(b.Likely, letters.Places(s.Unit)) + " likely, " + letters.Up(b.Worst, letters.Places(s.Unit)) + " at most")
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
