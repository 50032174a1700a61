// Package job works out what was asked: it calls the engines, and gives report what there
// is to tell. It finds no words and knows no form.
package job

import (
	"math"
	"slices"
	"strconv"

	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror/cut"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/registration/budget"
	"flipcalc/report"
	"flipcalc/report/words"
)

// cutting is a check of one pair of stations in the making. It carries what was asked, exact
// lengths, to the millimetres in floating point that cutting in memory works with; nowhere
// else does a length leave its decimals.
type cutting struct {
	*Job
	answer       *registration.Answer // of the pair
	misalignment *budget.Result       // nil without a second zero
	// tops are the heights over the seat of the dowels in their order, or of the plug,
	// where no pin-height is given; nil where their lengths aren't known.
	tops       []decimal.Decimal
	face, back []cut.Program // in the order in which they run

	mm    func(decimal.Decimal) float64
	q     cut.Request
	notes []report.Note
}

// request is the question that cut.Check answers, with notes on what it rests on
// and what it leaves out.
func (w *cutting) request() (cut.Request, []report.Note) {
	a := w.answer
	q := a.Question
	w.mm, w.notes = inMM(q.Unit), nil
	w.q = cut.Request{
		W: w.mm(a.Used.W), H: w.mm(a.Used.H), T: w.mm(a.Uncut()), Skimmed: w.mm(q.Skimmed),
		Map: a.Transform, FaceZero: w.point(a.FaceZero), FaceTurn: a.FaceTurn.Degrees().InexactFloat64(),
		FaceLevel: levelOf(q.ZZero), BackLevel: levelOf(q.BackZZero),
		Tools: w.tools(), Web: w.mm(w.Length("web")), Cell: w.mm(w.Length("cell")),
		BedDepth: w.length("bed-depth"), Breakthrough: w.length("breakthrough"), Neck: w.length("neck"),
	}
	if flute := w.length("flute"); flute != nil {
		for i := range w.q.Tools {
			w.q.Tools[i].Flute = *flute
		}
	}
	if q.Stock != nil {
		w.q.Nominal = w.mm(q.Stock.T)
	}
	for _, t := range ask.Values[ask.Through](w.Ask, "through") {
		if t.Count != nil {
			w.q.Count = t.Count
		} else {
			w.q.Through = append(w.q.Through, w.point(*t.Place))
		}
	}
	var held []registration.Point
	held, w.q.HeldAll = w.held()
	for _, place := range held {
		w.q.Held = append(w.q.Held, w.point(place))
	}
	w.locators()
	w.stations()
	w.programs()
	w.tolerances()
	return w.q, w.notes
}

// inMM carries lengths in unit to millimetres.
func inMM(unit transform.Unit) func(decimal.Decimal) float64 {
	return func(v decimal.Decimal) float64 {
		mm, _ := transform.Convert(v, unit, transform.MM, 12) // always exact
		return mm.InexactFloat64()
	}
}

func (w *cutting) note(level string, is any) {
	w.notes = append(w.notes, report.Note{Level: level, Is: is})
}

func (w *cutting) point(p registration.Point) [2]float64 {
	return [2]float64{w.mm(p.X), w.mm(p.Y)}
}

// length gives a length that was asked for, nil where none was.
func (w *cutting) length(key string) *float64 {
	v := w.OptionalLength(key)
	if v == nil {
		return nil
	}
	mm := w.mm(*v)
	return &mm
}

// held gives the places that are held to the end beside clamps; all is all of the blank.
func (j *Job) held() (places []registration.Point, all bool) {
	for _, place := range ask.Values[*registration.Point](j.Ask, "held") {
		if place == nil {
			return nil, true
		}
		places = append(places, *place)
	}
	return places, false
}

func levelOf(z registration.ZZero) cut.Level {
	if z == registration.Bed {
		return cut.Bed
	}
	return cut.Top
}

// standing lists the dowels, or the plug and its index pin, in the order in which check
// has them, and then the fence and the stop of either side. What isn't given is level
// with the blank as it lies at the turn, and as thick as its hole.
func (w *cutting) standing() []report.Standing {
	q, pinHeight := w.answer.Question, w.OptionalLength("pin-height")
	var list []report.Standing
	pin := func(name string, at registration.Point, dia decimal.Decimal, hole *decimal.Decimal) {
		height := w.answer.Used.T
		switch i := len(list); {
		case pinHeight != nil:
			height = *pinHeight
		case i < len(w.tops) && w.tops[i].IsPositive():
			height = w.tops[i]
		}
		if dia.IsZero() && hole != nil {
			dia = *hole
		}
		list = append(list, report.Standing{Name: name, Pin: true, At: at, Dia: dia, Height: height})
	}
	for i, p := range q.Pins {
		pin("dowel "+strconv.Itoa(i+1), p.At, p.Dia, q.HoleOf(i))
	}
	if b := q.Bore; b != nil {
		dia := b.Dia
		if q.PlugD != nil {
			dia = *q.PlugD
		}
		pin("plug", b.At, dia, nil)
		if q.Clock.Kind == registration.ClockPin {
			pin("index pin", q.Clock.Pin, q.Clock.Dia, &q.Clock.Hole)
		}
	}
	for _, t := range w.answer.Touches {
		height := w.answer.Used.T
		if v := w.OptionalLength("fence-height"); v != nil {
			height = *v
		}
		list = append(list, report.Standing{Name: t.Locator, Height: height})
	}
	return list
}

// locators fills in what stands in the blank's holes, and the edges that fence and
// stop touch on either side.
func (w *cutting) locators() {
	q := w.answer.Question
	standing := w.standing()
	rails := standing[len(standing)-len(w.answer.Touches):]
	for _, s := range standing[:len(standing)-len(rails)] {
		w.q.Pins = append(w.q.Pins, cut.Pin{X: w.mm(s.At.X), Y: w.mm(s.At.Y), Dia: w.mm(s.Dia), Height: w.mm(s.Height), Drilled: q.DrilledFace && q.Bore == nil})
	}
	if b := q.Bore; b != nil {
		w.q.Bore = &cut.Circle{X: w.mm(b.At.X), Y: w.mm(b.At.Y), Dia: w.mm(b.Dia)}
		if q.Round && (q.Clock.Kind == "" || q.Clock.Kind == registration.ClockNone) {
			w.q.FreeTurn = &[2]float64{w.q.Bore.X, w.q.Bore.Y}
		}
	}
	if n := len(w.tops); n > 0 && !w.Given("pin-height") && len(q.Pins) > 0 {
		least, most := decimal.Min(w.tops[0], w.tops[1:]...), decimal.Max(w.tops[0], w.tops[1:]...)
		if full := w.answer.Uncut(); slices.ContainsFunc(w.tops, full.LessThan) {
			w.note(fact.Warning, words.PinHeights{Least: least, Most: most, Thick: &full})
		} else {
			w.note(fact.Note, words.PinHeights{Least: least, Most: most})
		}
	}
	edges := map[registration.Side]cut.Edge{registration.Near: cut.NearEdge, registration.Far: cut.FarEdge,
		registration.Left: cut.LeftEdge, registration.Right: cut.RightEdge}
	for i, t := range w.answer.Touches {
		for side, edge := range [2]registration.Side{t.FaceEdge, t.BackEdge} {
			w.q.Locators[side] = append(w.q.Locators[side], cut.Locator{Edge: edges[edge], Height: w.mm(rails[i].Height)})
		}
	}
	if len(w.answer.Touches) > 0 && !w.Given("fence-height") {
		locators := "fence and stop"
		if len(w.answer.Touches) == 1 {
			locators = "fence"
		}
		w.note(fact.Assumed, words.FenceHeight{Locators: locators, Height: w.answer.Used.T})
	}
}

// stations fills in where the two stations lie in machine coordinates, as far as
// that is known, with the travel and the no-go areas.
func (w *cutting) stations() {
	a := w.answer
	// The travel in Z is that of the spindle as it is read with the tool on the zero.
	_, reading := w.Machine.Levels(a, w.OptionalLength("stick-out"))
	zero := func(p registration.Point, over decimal.Decimal) *cut.Zero {
		out := &cut.Zero{X: w.mm(p.X), Y: w.mm(p.Y), ZKnown: reading != nil}
		if reading != nil {
			out.Z = w.mm(reading.Add(over))
		}
		return out
	}
	if a.FaceMachine {
		w.q.Zeros[0] = zero(a.FacePlace(a.FaceZero), decimal.Zero)
	}
	if s := a.Second; s != nil && s.Machine {
		w.q.Zeros[1] = zero(registration.Point{X: s.X, Y: s.Y}, a.Rise)
		for _, f := range a.Facts {
			if c, is := f.Is.(registration.Corrected); is {
				w.q.Zeros[1].Moved = [2]float64{w.mm(c.X), w.mm(c.Y)}
			}
		}
	}
	for _, r := range w.Ask.Standing(w.Machine) {
		w.q.NoGo = append(w.q.NoGo, w.area(r))
	}
	w.q.Clamps, w.q.Seats = len(w.Clamps()), [2]float64{w.mm(a.Question.Seat), w.mm(a.Question.BackSeat)}
	w.travel()
	w.unplaced()
	w.unlevelled()
	if !w.Machine.Known {
		w.note(fact.Note, words.TravelUnknown{})
	}
}

// unplaced says what isn't checked for want of a station's place.
func (w *cutting) unplaced() {
	var what []string
	if w.Machine.Known {
		what = append(what, "travel")
	}
	if len(w.NoGo(w.Machine)) > 0 {
		what = append(what, "no-go areas")
	}
	if w.Given("clamp") {
		what = append(what, "clamps")
	}
	if slices.ContainsFunc(w.Machine.Others(w.Name()), func(o bed.InUse) bool { return o.Rect != nil }) {
		what = append(what, "other fixtures")
	}
	side, keys := "", []string{"at"}
	switch {
	case len(what) == 0 || w.q.Zeros[0] != nil && w.q.Zeros[1] != nil:
		return
	case w.answer.ToTouch() && w.q.Zeros[0] != nil:
		side, keys = "back", nil
	case w.q.Zeros[0] != nil:
		side, keys = "back", []string{"register"}
	case w.q.Zeros[1] != nil:
		side = "face"
	}
	w.note(fact.Warning, words.StationUnknown{Side: side, What: what, Keys: keys})
}

// unlevelled says that the travel in Z isn't checked, and for want of what.
func (w *cutting) unlevelled() {
	var sides []string
	var ends [][2]decimal.Decimal
	boxes, _ := w.extents(w.answer) // a program that can't be read is refused elsewhere
	for side, name := range [2]string{"face", "back"} {
		if at := w.q.Zeros[side]; at != nil && w.Machine.Known && !at.ZKnown {
			sides = append(sides, name)
			if z := boxes[side]; z.Any {
				ends = append(ends, [2]decimal.Decimal{z.Least[2], z.Greatest[2]})
			}
		}
	}
	if len(sides) == 0 {
		return
	}
	keys := []string{"at"}
	switch w.answer.Question.Lengths {
	case registration.LengthsWhole:
		keys = []string{"stick-out"}
	case registration.LengthsCalled:
		keys = []string{"table", "stick-out"}
	}
	w.note(fact.Warning, words.LevelUnknown{Sides: sides, Ends: ends, Keys: keys})
}

// travel fills in the machine's travel and the zeros of the other offsets, where they are
// known.
func (w *cutting) travel() {
	m := w.Machine
	if !m.Known {
		return
	}
	mm := inMM(m.Unit)
	w.q.Travel = &cut.Travel{}
	for i, r := range []bed.Range{m.X, m.Y, m.Z} {
		w.q.Travel.Least[i], w.q.Travel.Greatest[i] = mm(r.Least), mm(r.Greatest)
	}
	w.q.OtherZeros = map[int]cut.Zero{}
	for _, u := range m.InUse {
		if u.X != nil && u.Y != nil && u.Z != nil {
			w.q.OtherZeros[transform.OffsetCode(u.Offset)] = cut.Zero{X: mm(*u.X), Y: mm(*u.Y), Z: mm(*u.Z), ZKnown: true}
		}
	}
}

// area gives a no-go area with its height over the bed, 0 up to the spindle.
func (w *cutting) area(a bed.Area) cut.Rect {
	out := cut.Rect{X: w.mm(a.X), Y: w.mm(a.Y), W: w.mm(a.W), H: w.mm(a.H)}
	if a.Height != nil {
		out.Height = w.mm(*a.Height)
	}
	return out
}

// programs fills in the programs of both sides with their offsets. Where the two
// zeros are one place, either offset will do.
func (w *cutting) programs() {
	a := w.answer
	keep := w.On("keep-offset")
	chain := func(list []cut.Program, own, other int) cut.Program {
		if len(list) == 0 {
			return cut.Program{}
		}
		out := append([]cut.Program(nil), list...)
		for i := range out {
			if !keep {
				out[i].Offset = own
			}
			if other != 0 {
				out[i].Also = []int{other}
			}
		}
		out[0].Then = out[1:]
		return out[0]
	}
	if a.Second == nil {
		w.q.Face, w.q.Back = chain(w.face, 0, 0), chain(w.back, 0, 0)
		return
	}
	face, back := transform.OffsetCode(a.Question.FaceOffset()), transform.OffsetCode(a.Second.Offset)
	s := a.Second
	from := registration.Point{}
	if s.Machine && a.FaceMachine {
		from = registration.Point{X: a.FaceAt.X, Y: a.FaceAt.Y}
	}
	if s.Machine == a.FaceMachine && a.Rise.IsZero() && s.X.Equal(from.X) && s.Y.Equal(from.Y) {
		w.q.Face, w.q.Back = chain(w.face, face, back), chain(w.back, back, face)
		return
	}
	w.q.Face, w.q.Back = chain(w.face, face, 0), chain(w.back, back, 0)
}

// tolerances fills in how far the back can be off, at worst, and by how much the
// web can be thinner for thickness and touching off alone.
func (w *cutting) tolerances() {
	b := w.misalignment
	if b == nil {
		w.note(fact.Note, words.NoBudget{})
		return
	}
	perUnit := w.mm(decimal.New(1, 0))
	w.q.Misalignment = b.Worst * perUnit
	w.q.ThicknessTol = w.mm(b.Web.Off)
}

// ClearOf tells whether neither side of a blank that was cut in memory is cut deeper
// than over, or than the skim, within a radius of a place on it. A cell counts that the
// circle reaches with a cell to spare, since the rim of a cut is only known to half of
// a cell's diagonal.
func ClearOf(g *cut.Grid, a *registration.Answer, over decimal.Decimal) func(registration.Point, decimal.Decimal) bool {
	mm := inMM(a.Question.Unit)
	face := mm(decimal.Max(over, a.Question.Skimmed))
	back := face - mm(a.Question.Skimmed)
	const slack = 1e-4 // of a depth in 24 bits, on a blank up to 1 m thick
	return func(at registration.Point, radius decimal.Decimal) bool {
		x, y, r := mm(at.X), mm(at.Y), mm(radius)+g.Cell
		for j := max(0, int((y-r)/g.Cell)); j < min(g.NY, int((y+r)/g.Cell)+1); j++ {
			for i := max(0, int((x-r)/g.Cell)); i < min(g.NX, int((x+r)/g.Cell)+1); i++ {
				if u, v := g.Centre(i, j); math.Hypot(u-x, v-y) <= r && (g.T-g.Face(i, j) > face+slack || g.Back(i, j) > back+slack) {
					return false
				}
			}
		}
		return true
	}
}
