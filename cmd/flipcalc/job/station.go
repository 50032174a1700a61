package job

import (
	"errors"
	"path/filepath"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror/cut"
	"flipcalc/mirror/cycle"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report"
	"flipcalc/report/words"
)

// Stations places the pairs on the bed, with the lines that set their offsets.
func (j *Job) Stations() error {
	if err := j.start(); err != nil {
		return err
	}
	if err := j.solve(); err != nil {
		return err
	}
	if err := j.place(); err != nil {
		return err
	}
	j.setup()
	_ = j.pairUp() // as many as there are: the places stand without them
	if err := j.correct(); err != nil {
		return err
	}
	j.Setup.Notes = append(j.Setup.Notes, farCorrections(j.Pairs)...)
	if err := j.addStations(); err != nil {
		return err
	}
	j.Setup.Answer = nil
	return j.addTouchOff()
}

// Name is the name by which the machine file knows the job's own stations.
func (j *Job) Name() string {
	switch {
	case j.Given("title"):
		return j.Text("title")
	case j.JobFile != "":
		return filepath.Base(j.JobFile)
	}
	return ""
}

// place puts the pairs on the bed.
func (j *Job) place() error {
	a, m := j.Answer, j.Machine
	if !m.Known {
		return ask.Wrong("machine", "the machine's travel isn't known", "‹machine FILE› or ‹travel XxYxZ›", "'flipcalc help machine' shows one")
	}
	n := 1
	if j.Given("pairs") {
		n = ask.Value[int](j.Ask, "pairs")
	}
	// Stations may show the one place of a job that asks for no pairs.
	if a.Question.At != nil && a.SamePlace() && j.placing() && (j.Given("pairs") || j.Verb.Name != "stations") {
		return ask.Wrong(j.Where("at"), "a place for the face, and pairs of stations to be placed on the bed as well", "one of the two, or the back station's place too",
			"leave out pairs or at, or say where the back's locators stand: back-pin, back-fence, back-stop")
	}
	switch {
	case n == ask.MostPairs:
		n = 0
	case n == 0 && j.placing():
		return ask.Wrong(j.Where("pairs"), "0, one station at which the blank is turned over", "1 or more, or max", "flipcalc prepare works it out")
	case n == 0:
		n = 1 // that station for both sides
	}
	bedded, err := a.Bedded()
	if err != nil {
		return err
	}
	req, stored, err := j.request(bedded)
	if err != nil {
		return err
	}
	req.Pairs = n
	l, err := bed.Place(&m.Machine, req)
	if err != nil {
		return withoutPairs(err, m, req, a.Question.At != nil)
	}
	j.Layout = l.In(a.Question.Unit)
	for i := range j.Layout.Stations {
		z := stored
		if i%2 == 1 {
			z = raised(stored, a.Rise)
		}
		j.Layout.Stations[i].Zero.Z = z
	}
	return nil
}

// request is what stations are placed by, for the blank of Bedded, and the Z that the face's
// offset stores, nil where it isn't known.
func (j *Job) request(a *registration.Answer) (req bed.Request, stored *decimal.Decimal, err error) {
	q, m, stick := a.Question, j.Machine, j.OptionalLength("stick-out")
	req = bed.Request{Unit: q.Unit, Job: j.Name(), Blank: a.Used, Flip: q.Flip, AllowTurn: j.On("allow-turn"),
		Gap: j.Length("gap"), NoGo: j.NoGo(m), Touch: j.touchRoom(q)}
	margin := j.Length("fixture")
	if !j.Given("fixture") && q.At != nil {
		margin = decimal.Zero // the place was said, with what stands beside it
	}
	req.Margin = bed.Reach{Left: margin, Right: margin, Near: margin, Far: margin}
	req.Face = bed.Program{Zero: a.FaceZero, Offset: q.Offset}
	req.Back = bed.Program{Zero: a.BackZero}
	if j.Given("back-offset") {
		req.Back.Offset = q.BackOffset
	}
	if stick != nil && m.Table == nil {
		return req, nil, ask.Wrong(j.Where("stick-out"), "the table's height isn't known", "table in the machine file", "measure the machine Z at which the bare spindle nose would meet the table")
	}
	stored, reading := m.Levels(a, stick)
	req.Face.Z, req.Back.Z = reading, raised(reading, a.Rise)
	if at := ask.Optional[registration.Position](j.Ask, "at"); at != nil {
		req.ZGiven = at.Z != nil && q.Lengths != registration.LengthsCalled
	}
	boxes, err := j.extents(a)
	if err != nil {
		return req, nil, err
	}
	req.Face.Radius = cut.Widest(j.tools(), q.Unit)
	req.Back.Radius = req.Face.Radius
	req.Face.Take(boxes[0], a.Used)
	back := a.Used
	if q.At != nil && a.BackCorner != nil && a.Machine {
		req.Given = &bed.Given{Face: a.FaceCorner, InPlace: j.inPlace()}
		req.Given.Back, back.W, back.H = a.BackLies()
		req.Back.Zero, req.Back.Lies = a.Second.At().Sub(req.Given.Back), &back
		req.Back.Offset = a.Second.Offset
	}
	req.Back.Take(boxes[1], back)
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
func (j *Job) touchRoom(q registration.Question) (room bed.Reach) {
	if q.Register != registration.NoRegister {
		return room
	}
	dia, _ := transform.Convert(finder, transform.MM, q.Unit, 6)
	if t := report.TouchTool(j.tools()); t != nil {
		dia = report.ToolOf(*t, q.Unit).Dia
	}
	beyond := j.Length("feeler").Add(dia.Div(decimal.New(2, 0))).RoundCeil(6)
	return bed.Reach{Left: beyond, Near: beyond}
}

// withoutPairs says, where not one pair fits on the bed, what does without one, and
// whether less room about the stations would help.
func withoutPairs(err error, m *ask.Machine, req bed.Request, at bool) error {
	var none *bed.NoFit
	if !errors.As(err, &none) || none.Fits > 0 || none.Offsets > 0 || req.Given != nil {
		return err
	}
	hint := "for one station where the blank is turned over in place give ‹at X,Y[,Z]›"
	if at {
		hint = "say with ‹register› how the blank is found again when it is turned over in place at ‹at›"
	}
	req.Pairs, req.Gap, req.Margin = 1, decimal.Zero, bed.Reach{}
	if _, tight := bed.Place(&m.Machine, req); tight == nil {
		hint += "; a pair fits with less ‹gap› or ‹fixture›"
	}
	if none.Turned != "" {
		hint += "; " + none.Turned
	}
	reason := *none.Reason
	reason.Hint = hint
	return &reason
}

// extents interprets the programs of face and back for how far each side's go together,
// from its zero, those of the back as an answer has them cut.
func (j *Job) extents(a *registration.Answer) (boxes [2]transform.Box, err error) {
	for _, side := range jobSides {
		for _, path := range j.Texts(side.flag) {
			s, err := j.walk(path)
			if err != nil {
				return boxes, err
			}
			box, to := s.All.Box(j.Answer.Question.Unit), &boxes[1]
			switch side.flag {
			case "face":
				to = &boxes[0]
			case "mirror":
				box = a.Transform.Box(box)
			case "back":
				box = transform.Identity(a.Question.Unit).Turned(a.BackTurn).Box(box)
			}
			*to = to.Join(box)
		}
	}
	return boxes, nil
}

// walk interprets a program.
func (j *Job) walk(path string) (*motion.Summary, error) {
	in, name, err := j.open(path)
	if err != nil {
		return nil, err
	}
	s, err := motion.Walk(in, j.reading(name), nil)
	return s, j.ofSource(path, name, err)
}

// tools are the cutters.
func (j *Job) tools() []cut.Tool { return ask.Values[cut.Tool](j.Ask, "tool") }

// addStations adds the placed stations to the report, with the lines that set
// their offsets.
func (j *Job) addStations() error {
	s, m, l := &j.Setup, j.Machine, j.Layout
	s.SetBed(l, &m.Machine)
	j.addNoGo()
	s.Feeler, s.Fixture = j.OptionalLength("feeler"), j.OptionalLength("fixture")
	s.NoteReach(cut.Widest(j.tools(), j.Unit()), len(j.Programs()) > 0)
	if s.Fixture == nil && !j.Given("at") {
		s.NoteTight(l.Tight(&m.Machine))
	}
	for _, c := range l.Crowds(j.Length("gap")) {
		j.note(fact.Warning, words.Crowded(c))
	}
	j.addLevel()
	if !m.G10 {
		return nil
	}
	var settings []cycle.Setting
	for _, st := range l.Stations {
		settings = append(settings, cycle.Setting{Offset: st.Offset, X: st.Zero.X, Y: st.Zero.Y, Z: st.Zero.Z})
	}
	o := cycle.SettingOptions{Unit: l.Unit, Extended: m.Extended, Taken: m.Taken(j.Name()),
		Comment: j.comment(words.OffsetsComment)}
	text, err := cycle.StoreOffsets(settings, o)
	if err != nil {
		return err
	}
	s.Lines = strings.Split(strings.TrimSpace(string(text)), "\n")
	return nil
}

// addLevel adds what the Z of the face is made of, where it is reckoned from the table.
func (j *Job) addLevel() {
	s, m := &j.Setup, j.Machine
	stick, level := j.Length("stick-out"), decimal.Zero
	if j.Given("stick-out") {
		level, _ = m.FaceLevel(j.Answer, stick)
	}
	if z := s.Reading[0]; z == nil || m.Table == nil || !z.Equal(level) {
		return
	}
	table, _ := transform.Convert(*m.Table, m.Unit, j.Layout.Unit, 6)
	q := j.Answer.Question
	s.Level = &report.Level{Table: table, StickOut: stick, Seat: q.Seat, BackSeat: q.BackSeat, SeatSaid: j.Given("seat")}
	if q.ZZero != registration.Bed {
		thick := j.Answer.Uncut()
		s.Level.Thick = &thick
	}
}

// comment is a comment for a program, "" where none is to be added.
func (j *Job) comment(text string) string {
	if j.On("bare") {
		return ""
	}
	return text
}
