package job

import (
	"errors"
	"path/filepath"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror/cut"
	"flipcalc/mirror/cycle"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report"
)

// JobName is the name by which the machine file knows the job's own stations.
func (c *Task) JobName() string {
	switch {
	case c.Given("title"):
		return c.Text("title")
	case c.JobFile != "":
		return filepath.Base(c.JobFile)
	}
	return ""
}

// place puts the pairs on the bed.
func (c *Task) place(m *ask.Machine, a *registration.Answer) (*bed.Layout, error) {
	if !m.Known {
		return nil, ask.Wrong("", "the machine's travel isn't known", "--machine FILE or --travel XxYxZ", "'flipcalc help machine' shows one")
	}
	n := 1
	if c.Given("pairs") {
		var err error
		if n, err = ask.ParsePairs(c.Text("pairs")); err != nil {
			return nil, c.At("pairs", err)
		}
	}
	switch {
	case n == ask.MostPairs:
		n = 0
	case n == 0 && c.placing():
		return nil, ask.Wrong(c.Where("pairs"), "0, one station at which the blank is turned over", "1 or more, or max", "flipcalc prepare works it out")
	case n == 0:
		n = 1 // that station for both sides
	}
	q := a.Question
	req, stored, err := c.request(m, a)
	if err != nil {
		return nil, err
	}
	req.Pairs = n
	l, err := bed.Place(&m.Machine, req)
	if err != nil {
		return nil, withoutPairs(err, m, req, q.At != nil)
	}
	l = l.In(q.Unit)
	for i := range l.Stations {
		z := stored
		if i%2 == 1 {
			z = raised(stored, a.Rise)
		}
		l.Stations[i].Zero.Z = z
	}
	return l, nil
}

// request is what stations are placed by, and the Z that the face's offset stores, nil
// where it isn't known.
func (c *Task) request(m *ask.Machine, a *registration.Answer) (req bed.Request, stored *decimal.Decimal, err error) {
	q := a.Question
	req = bed.Request{Unit: q.Unit, Job: c.JobName(), Blank: a.Used, Flip: q.Flip, AllowTurn: c.On("allow-turn")}
	r := c.NewReader()
	if !ask.Read(r, "gap", ask.In(r, ask.ParseRoom), &req.Gap) && r.Err == nil {
		req.Gap, _ = transform.Convert(decimal.New(30, 0), transform.MM, q.Unit, 3)
	}
	var margin decimal.Decimal
	var stick *decimal.Decimal
	if !ask.Read(r, "fixture", ask.In(r, ask.ParseRoom), &margin) && q.Register == registration.FenceStop && q.At == nil {
		// Fence and stop stand beside the blank and need room on the bed.
		margin, _ = transform.Convert(decimal.New(20, 0), transform.MM, q.Unit, 2)
	}
	req.Margin = bed.Reach{Left: margin, Right: margin, Near: margin, Far: margin}
	ask.Optional(r, "stick-out", r.Length, &stick)
	if r.Err != nil {
		return req, nil, r.Err
	}
	if req.NoGo, err = c.NoGo(m); err != nil {
		return req, nil, err
	}
	if req.Touch, err = c.touchRoom(q); err != nil {
		return req, nil, err
	}
	req.Face = bed.Program{Zero: a.FaceZero, Offset: q.Offset}
	req.Back = bed.Program{Zero: a.BackZero}
	if c.Given("back-offset") {
		req.Back.Offset = q.BackOffset
	}
	if stick != nil && m.Table == nil {
		return req, nil, ask.Wrong(c.Where("stick-out"), "the table's height isn't known", "table in the machine file", "measure the machine Z at which the bare spindle nose would meet the table")
	}
	stored, reading := m.Levels(a, stick)
	req.Face.Z, req.Back.Z = reading, raised(reading, a.Rise)
	if err := c.reaches(&req, a); err != nil {
		return req, nil, err
	}
	if q.At != nil && a.BackCorner != nil && a.Machine {
		req.Given = &bed.Given{Face: a.FaceCorner, Back: *a.BackCorner, InPlace: c.inPlace(a)}
		req.Back.Offset = a.Second.Offset
	}
	return req, stored, nil
}

// raised is a height that much higher, nil where it isn't known.
func raised(z *decimal.Decimal, rise decimal.Decimal) *decimal.Decimal {
	if z == nil {
		return nil
	}
	higher := z.Add(rise)
	return &higher
}

// finder is the diameter of what edges are touched with where no flat cutter is given, in
// mm: common practice.
var finder = decimal.New(10, 0)

// touchRoom is how far beyond the blank the tool goes to touch off its edges: half its
// diameter and the feeler, at the two edges that bed.Station.Targets names, where no
// locator is touched in their place.
func (c *Task) touchRoom(q registration.Question) (room bed.Reach, err error) {
	if q.Register != registration.NoRegister {
		return room, nil
	}
	tools, err := c.tools()
	if err != nil {
		return room, err
	}
	r := c.NewReader()
	ask.Read(r, "feeler", ask.In(r, ask.ParseFigure), &room.Left)
	dia, _ := transform.Convert(finder, transform.MM, q.Unit, 6)
	if t := report.TouchTool(tools); t != nil {
		dia = report.ToolOf(*t, q.Unit).Dia
	}
	room.Left = room.Left.Add(dia.Div(decimal.New(2, 0))).RoundCeil(6)
	room.Near = room.Left
	return room, r.Err
}

// withoutPairs says, where not one pair fits on the bed, what does without one, and
// whether less room about the stations would help.
func withoutPairs(err error, m *ask.Machine, req bed.Request, at bool) error {
	var none *bed.NoFit
	if !errors.As(err, &none) || none.Fits > 0 || none.Offsets > 0 || req.Given != nil {
		return err
	}
	hint := "for one station where the blank is turned over in place give --at X,Y[,Z] (at in the job)"
	if at {
		hint = "say with --register how the blank is found again when it is turned over in place at --at"
	}
	_, turned, _ := strings.Cut(none.Reason.Hint, "; ") // with allow-turn it fits
	req.Pairs, req.Gap, req.Margin = 1, decimal.Zero, bed.Reach{}
	if _, tight := bed.Place(&m.Machine, req); tight == nil {
		hint += "; a pair fits with less --gap or fixture"
	}
	if turned != "" {
		hint += "; " + turned
	}
	reason := *none.Reason
	reason.Hint = hint
	return &reason
}

// reaches adds how far the programs of the job go, and how wide their cutters are.
func (c *Task) reaches(req *bed.Request, a *registration.Answer) error {
	tools, err := c.tools()
	if err != nil {
		return err
	}
	radius := cut.Widest(tools, a.Question.Unit)
	req.Face.Radius, req.Back.Radius = radius, radius
	face, err := c.extent("face", a)
	if err != nil {
		return err
	}
	drawn, err := c.extent("mirror", a)
	if err != nil {
		return err
	}
	written, err := c.extent("back", a)
	if err != nil {
		return err
	}
	req.Face.Take(face, a.Used)
	req.Back.Take(a.Transform.Box(drawn).Join(written), a.Used)
	return nil
}

// extent interprets the programs of a flag for how far they go together.
func (c *Task) extent(name string, a *registration.Answer) (transform.Box, error) {
	var box transform.Box
	u := a.Question.Unit
	for _, path := range c.Texts(name) {
		s, err := c.walk(path)
		if err != nil {
			return box, err
		}
		box = box.Join(s.All.Box(u))
	}
	return box, nil
}

// walk interprets a program.
func (c *Task) walk(path string) (*motion.Summary, error) {
	in, name, err := c.open(path)
	if err != nil {
		return nil, err
	}
	o, err := c.motionOptions(name)
	if err != nil {
		return nil, err
	}
	s, err := motion.Walk(in, o, nil)
	return s, c.ofSource(path, name, err)
}

// tools reads the cutters.
func (c *Task) tools() ([]cut.Tool, error) {
	u, err := c.Unit()
	if err != nil {
		return nil, err
	}
	var out []cut.Tool
	for _, s := range c.Texts("tool") {
		t, err := ask.ParseTool(s, u)
		if err != nil {
			return nil, c.At("tool", err)
		}
		out = append(out, t)
	}
	return out, nil
}

// addStations adds the placed stations to the report, with the lines that set
// their offsets.
func (c *Task) addStations(s *report.Setup, m *ask.Machine, l *bed.Layout) error {
	s.SetBed(l, &m.Machine)
	if err := c.addNoGo(s, m); err != nil {
		return err
	}
	r := c.NewReader()
	ask.Optional(r, "feeler", ask.In(r, ask.ParseFigure), &s.Feeler)
	ask.Optional(r, "fixture", ask.In(r, ask.ParseRoom), &s.Fixture)
	if s.Answer != nil {
		tools, err := c.tools()
		if err != nil {
			return err
		}
		programs := c.Given("face") || c.Given("mirror") || c.Given("back")
		s.NoteReach(cut.Widest(tools, s.Answer.Question.Unit), programs)
	}
	if s.Fixture == nil && !c.Given("at") {
		s.NoteTight(l.Tight(&m.Machine))
	}
	var stick decimal.Decimal
	level := decimal.Zero
	if ask.Read(r, "stick-out", r.Length, &stick) {
		level, _ = m.FaceLevel(s.Answer, stick)
	}
	if z := s.Reading[0]; z != nil && m.Table != nil && z.Equal(level) && r.Err == nil {
		table, _ := transform.Convert(*m.Table, m.Unit, l.Unit, 6)
		q := s.Answer.Question
		s.Level = &report.Level{Table: table, StickOut: stick, Seat: q.Seat, BackSeat: q.BackSeat, SeatSaid: c.Given("seat")}
		if q.ZZero != registration.Bed {
			thick := s.Answer.Uncut()
			s.Level.Thick = &thick
		}
	}
	if r.Err != nil || !m.G10 {
		return r.Err
	}
	var settings []cycle.Setting
	for _, st := range l.Stations {
		settings = append(settings, cycle.Setting{Offset: st.Offset, X: st.Zero.X, Y: st.Zero.Y, Z: st.Zero.Z})
	}
	o := cycle.SettingOptions{Unit: l.Unit, Extended: m.Extended, Taken: m.Taken(c.JobName()), Comment: "offsets of the stations: note the old values first, run it once before touching off, corrections go into the job"}
	if c.On("bare") {
		o.Comment = ""
	}
	text, err := cycle.StoreOffsets(settings, o)
	if err != nil {
		return err
	}
	s.Lines = strings.Split(strings.TrimSpace(string(text)), "\n")
	return nil
}

// Stations places the pairs on the bed, with the lines that set their offsets.
func (c *Task) Stations() (*Job, error) {
	m, err := c.Machine()
	if err != nil {
		return nil, err
	}
	a, err := c.solve(m)
	if err != nil {
		return nil, err
	}
	l, err := c.place(m, a)
	if err != nil {
		return nil, err
	}
	j := &Job{Machine: m, Answer: a, Layout: l, Pairs: answersAt(a, l)}
	if err := c.correct(j); err != nil {
		return nil, err
	}
	j.Setup = c.setup(a, m)
	if err := c.addStations(&j.Setup, m, l); err != nil {
		return nil, err
	}
	j.Setup.Answer = nil
	return j, c.addTouchOff(&j.Setup, m, a, l, j.Pairs)
}
