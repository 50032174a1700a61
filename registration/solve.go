package registration

import (
	"fmt"
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/registration/fit"
)

// Solve finds where the blank lies at both stations, the transform between the
// two programs and the second zero, with everything that they rest on. A question
// that is impossible or has two answers gives an *Error that says what is missing.
// Error.No is true where the question is clear and the answer is no.
func Solve(q Question) (*Answer, error) {
	a := new(Answer)
	nominal, used, full, err := q.sizes()
	if err != nil {
		return nil, err
	}
	a.Used = used
	if q.Flip != FlipX && q.Flip != FlipY {
		return nil, &Error{About: "flip", Found: "missing", Expected: "x or y", Hint: flipHint}
	}
	if err := q.zeros(a); err != nil {
		return nil, err
	}
	if err := q.offsets(a); err != nil {
		return nil, err
	}
	a.FaceZero, a.BackZero = q.named(nominal, used)
	if q.Fit != "" {
		f, err := fit.Parse(q.Fit)
		if err != nil {
			return nil, fitError(err, "hole")
		}
		q.Fit = f.String()
	}
	if q.At != nil {
		at := *q.At
		if q.Lengths == LengthsCalled && at.Z != nil {
			a.add(LevelWarning, ZLeft{*at.Z})
			at.Z = nil
		}
		a.FaceAt = &at
	}

	if err := q.place(a, nominal, used); err != nil {
		return nil, err
	}
	if off := a.FaceZero.Sub(q.Zero.on(used)); !off.X.IsZero() || !off.Y.IsZero() {
		a.add(LevelNote, ZeroMoved(off))
	}
	a.Transform = q.mapping(used, a.FaceZero, a.BackZero)
	a.Rise = q.rise(full)
	if q.Register != NoRegister && (q.Register != Touched || a.Lie != nil) {
		q.second(a)
		if q.Measured != nil {
			q.nominalZero(a, nominal)
		}
	}
	if a.Lie != nil {
		a.Turned(a.Lie.Turn)
	}
	q.remark(a)
	a.Question = q
	return a, nil
}

// place finds where the blank lies at both stations.
func (q *Question) place(a *Answer, nominal, used Blank) error {
	switch q.Register {
	case NoRegister:
		q.corners(a)
		a.add(LevelNote, NoRegisterFact{})
		return nil
	case Dowels:
		return q.dowels(a, used)
	case Plug:
		return q.plug(a, nominal, used)
	case FenceStop:
		return q.fenceStop(a, nominal, used)
	case Touched:
		return q.touched(a, used)
	}
	return &Error{About: "register", Found: fmt.Sprint(uint8(q.Register)), Expected: "dowels, plug, fence or touched"}
}

// sizes gives the nominal blank, the piece in hand with its thickness at the
// turn, and the thickness when the face is touched off.
func (q *Question) sizes() (nominal, used Blank, full decimal.Decimal, err error) {
	if q.Stock == nil {
		return nominal, used, full, &Error{About: "stock", Found: "missing", Expected: "the blank's size WxHxT, such as 120x80x12"}
	}
	nominal = *q.Stock
	if err := nominal.check(); err != nil {
		return nominal, used, full, About(err, "stock")
	}
	used = nominal
	if q.Measured != nil {
		used = *q.Measured
		if err := used.check(); err != nil {
			return nominal, used, full, About(err, "measured")
		}
		if used.off(nominal, half) {
			return nominal, used, full, &Error{About: "measured", Found: fmt.Sprintf("%s of a blank of %s", used, nominal),
				Expected: "sizes within half of the nominal ones", Hint: "another blank, or another unit? ‹stock› is the nominal size"}
		}
	}
	full = used.T
	if q.Skimmed.IsNegative() {
		return nominal, used, full, &Error{About: "skimmed", Found: q.Skimmed.String(), Expected: "0 or more"}
	}
	if least := decimal.Min(full, nominal.T); q.Skimmed.GreaterThanOrEqual(least) {
		return nominal, used, full, &Error{About: "skimmed", Found: fmt.Sprintf("%s off a blank %s thick leaves nothing", q.Skimmed, least), Expected: "less than the thickness"}
	}
	nominal.T = nominal.T.Sub(q.Skimmed)
	used.T = used.T.Sub(q.Skimmed)
	return nominal, used, full, nil
}

// second sets the second zero from the back corner.
func (q *Question) second(a *Answer) {
	z := a.laid(a.BackZero)
	a.Second = &SecondZero{Offset: q.BackOffset, X: z.X, Y: z.Y, Machine: a.Machine}
	switch {
	case !a.Machine:
		rise := a.Rise
		a.Second.Z = &rise
	case q.Lengths == LengthsCalled:
		a.add(LevelNote, ZTouchOff{a.Rise})
	case q.At != nil && q.At.Z != nil:
		z := q.At.Z.Add(a.Rise)
		a.Second.Z = &z
	default:
		a.add(LevelNote, ZUnknown{a.Rise})
	}
}

// laid gives the place of a point of the turned blank, from its near-left corner as it
// lies, in the frame of BackCorner.
func (a *Answer) laid(p Point) Point {
	if a.Lie != nil {
		return a.Lie.At(p)
	}
	return a.BackCorner.Add(p)
}

// nominalZero sets the second zero for a back program that was mirrored with the
// nominal size. The back program's point p lies at the second zero plus its
// transform, so the zero moves by the difference of the two transforms' offsets.
func (q *Question) nominalZero(a *Answer, nominal Blank) {
	m := q.mapping(nominal, q.Zero.on(nominal), q.BackZero.on(nominal))
	n := *a.Second
	at := a.laid(a.BackZero.Add(Point{a.Transform.X.Offset.Sub(m.X.Offset), a.Transform.Y.Offset.Sub(m.Y.Offset)}))
	n.X, n.Y = at.X, at.Y
	dz := a.Transform.Z.Offset.Sub(m.Z.Offset)
	if n.Z != nil {
		z := n.Z.Add(dz)
		n.Z = &z
	}
	if !n.X.Equal(a.Second.X) || !n.Y.Equal(a.Second.Y) || !dz.IsZero() {
		a.NominalZero = &n
	}
}

// remark adds the facts that hold for every register.
func (q *Question) remark(a *Answer) {
	if q.Measured != nil {
		m := *q.Measured
		if !m.W.Equal(q.Stock.W) || !m.H.Equal(q.Stock.H) || !m.T.Equal(q.Stock.T) {
			level := LevelNote
			if m.off(*q.Stock, decimal.New(1, -1)) { // two sizes or two units have probably been mixed up
				level = LevelWarning
			}
			a.add(level, Measured{*q.Stock, m})
		}
	}
	if q.Skimmed.IsPositive() {
		a.add(LevelNote, Skimmed{q.Skimmed, a.Used.T, q.ZZero})
	}
	for _, z := range []struct {
		side string
		Zero
	}{{"face", q.Zero}, {"back", q.BackZero}} {
		if z.At != nil && !z.At.inside(a.Used) {
			a.add(LevelWarning, ZeroOutside{z.side, z.At.X, z.At.Y})
		}
	}
	if unused := q.unused(); len(unused) > 0 {
		a.add(LevelNote, Unused{q.Register, unused})
	}
	if q.Register != NoRegister && q.Register != Touched {
		a.add(LevelCaution, TouchOffEdge{q.Register})
	}
	if q.Register != NoRegister {
		if q.Lengths == LengthsTool {
			a.add(LevelNote, ToolZ{q.Tool, q.TouchOff})
		}
		if q.TouchOff == TouchOffOnce && q.Measured != nil && !q.Measured.T.Equal(q.Stock.T) && (q.ZZero == Top || q.BackZZero == Top) {
			a.add(LevelCaution, TouchOffPiece{q.Measured.T})
		}
	}
}

// off reports whether a measured size is off the nominal one by more than a share of it.
func (b Blank) off(nominal Blank, share decimal.Decimal) bool {
	far := func(v, n decimal.Decimal) bool { return v.Sub(n).Abs().GreaterThan(n.Mul(share)) }
	return far(b.W, nominal.W) || far(b.H, nominal.H) || far(b.T, nominal.T)
}

// unused lists the keys that were given and have no part in the register.
func (q *Question) unused() []string {
	var names []string
	note := func(name string, given bool, parts ...Register) {
		if given && !slices.Contains(parts, q.Register) {
			names = append(names, name)
		}
	}
	note("pin", len(q.Pins) > 0, Dowels)
	note("hole", len(q.Hole) > 0 && !(q.Register == Plug && q.Clock.Kind == ClockPin), Dowels)
	note("fit", q.Fit != "", Dowels, Plug)
	note("back-pin", q.BackPin != nil, Dowels)
	note("drilled", q.DrilledFace, Dowels)
	note("bore", q.Bore != nil, Plug)
	note("plug", q.PlugD != nil, Plug)
	note("plug-at", q.PlugAt != nil, Plug)
	note("clock", q.Clock.Kind != "", Plug)
	note("round", q.Round, Plug)
	clocks := q.Register == Plug && q.Clock.Kind == ClockFence
	note("fence", q.Fence.Side != NoSide && !clocks, FenceStop)
	note("back-fence", q.BackFence.Side != NoSide && !clocks, FenceStop)
	note("stop", q.Stop.Side != NoSide, FenceStop)
	note("contacts", q.Contacts != nil && !clocks, FenceStop)
	note("back-stop", q.BackStop.Side != NoSide, FenceStop)
	note("touched", len(q.Touched) > 0, Touched)
	note("finder", q.Finder != nil, Touched)
	return names
}
