package report

import (
	"io"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report/words"
)

// placeJSON is a place with what it is measured from.
type placeJSON struct {
	registration.Point
	From string `json:"from"`
}

func placeOf(p *registration.Point, machine bool) *placeJSON {
	if p == nil {
		return nil
	}
	return &placeJSON{*p, registration.Frame(machine)}
}

var halfTurn = decimal.New(180, 0)

// mapJSON is the map of an answer, whose turn a touched blank always has.
type mapJSON struct {
	transform.Map
	Turn *decimal.Decimal `json:"turn,omitempty"`
}

type touchJSON struct {
	registration.Touch
	FaceFrom string `json:"face_from"`
	BackFrom string `json:"back_from"`
	Text     string `json:"text"`
}

type layUpJSON struct {
	registration.LayUp
	Shift *registration.Point `json:"shift,omitempty"`
	Miss  *decimal.Decimal    `json:"miss,omitempty"` // how much more radial clearance a push must make up
	Text  string              `json:"text"`
}

type zeroJSON struct {
	Name string `json:"name,omitempty"`
	registration.Point
	Z      string `json:"z"`
	Offset string `json:"offset,omitempty"`
}

// originJSON is what `origin --json` writes, and the key "origin" of the sheet.
type originJSON struct {
	Schema      int                      `json:"schema,omitempty"`
	Units       string                   `json:"units"`
	Flip        registration.Flip        `json:"flip"`
	FlipWords   string                   `json:"flip_words"`
	Blank       *registration.Blank      `json:"blank"`
	Nominal     *registration.Blank      `json:"nominal,omitempty"`
	Register    string                   `json:"register,omitempty"`
	Zero        zeroJSON                 `json:"zero"`
	BackZero    zeroJSON                 `json:"back_zero"`
	At          *registration.Position   `json:"at"`
	Transform   mapJSON                  `json:"transform"`
	Formula     string                   `json:"formula"`
	SwapsArcs   []string                 `json:"swaps_arcs"`
	Second      *registration.SecondZero `json:"second_zero"`
	NominalZero *registration.SecondZero `json:"second_zero_for_nominal,omitempty"`
	Rise        decimal.Decimal          `json:"rise"`
	FaceCorner  *placeJSON               `json:"face_corner"`
	BackCorner  *placeJSON               `json:"back_corner"`
	FlipLine    *decimal.Decimal         `json:"flip_line,omitempty"`
	PlugAt      *placeJSON               `json:"plug_at,omitempty"`
	ClockAt     *placeJSON               `json:"clock_at,omitempty"`
	Lie         *registration.Lie        `json:"lie,omitempty"`
	Touches     List[touchJSON]          `json:"touches"`
	LayUps      List[layUpJSON]          `json:"lay_ups"`
	Foolproof   *bool                    `json:"foolproof,omitempty"`
	FacePins    []registration.Pin       `json:"face_pins,omitempty"`
	BackPins    []registration.Pin       `json:"back_pins,omitempty"`
	Facts       List[noteJSON]           `json:"facts"`
	Budget      *budgetJSON              `json:"budget,omitempty"`
}

func originOf(a *registration.Answer) *originJSON {
	q := &a.Question
	j := &originJSON{
		Units: q.Unit.String(), Flip: q.Flip, FlipWords: words.Flip(q.Flip), Blank: &a.Used, Register: q.Register.String(), At: q.At,
		Zero:      zeroJSON{q.Zero.Name, a.FaceZero, q.ZZero.String(), a.Question.FaceOffset()},
		BackZero:  zeroJSON{q.BackZero.Name, a.BackZero, q.BackZZero.String(), ""},
		Transform: mapJSON{Map: a.Transform}, Formula: a.Transform.String(), SwapsArcs: swappedPlanes(a.Transform),
		Second: a.Second, NominalZero: a.NominalZero, Rise: a.Rise, FlipLine: a.FlipLine, Lie: a.Lie, FacePins: a.FacePins, BackPins: a.BackPins,
		FaceCorner: placeOf(&a.FaceCorner, a.FaceMachine), BackCorner: placeOf(a.BackCorner, a.Machine), PlugAt: placeOf(a.PlugAt, a.Machine), ClockAt: placeOf(a.ClockAt, a.Machine),
	}
	if a.Lie != nil || !a.Transform.Turn.IsZero() {
		if a.BackTurn.Equal(halfTurn) { // told as a turn, as any other is, and not by the signs
			j.Transform.Map = a.Transform.Turned(halfTurn)
			j.Transform.Map.Turn = halfTurn
		}
		j.Transform.Turn = &j.Transform.Map.Turn
	}
	if q.Measured != nil {
		j.Nominal = q.Stock
	}
	if a.Second != nil {
		j.BackZero.Offset = a.Second.Offset
	}
	if len(a.LayUps) > 0 {
		j.Foolproof = &a.Foolproof
	}
	for _, t := range a.Touches {
		j.Touches = append(j.Touches, touchJSON{t, registration.Frame(t.CoordKnown), registration.Frame(t.BackKnown), words.Touch(t)})
	}
	for _, l := range a.LayUps {
		u := layUpJSON{LayUp: l, Text: words.LayUp(l, q.Unit)}
		if l.Fits {
			u.Shift = &l.Shift
		} else {
			u.Pairing, u.Turn = nil, decimal.Zero
		}
		if l.Near {
			u.Miss = &l.Miss
		}
		j.LayUps = append(j.LayUps, u)
	}
	for _, f := range a.Facts {
		j.Facts = append(j.Facts, said([]Note{factNote(f)}, q.Unit)...)
	}
	return j
}

// OriginJSON writes the answer of `origin --json`.
func OriginJSON(w io.Writer, a *registration.Answer) error { return OriginBudgetJSON(w, a, nil) }

// OriginBudgetJSON writes the answer of `origin --budget --json`: that of origin
// with the misalignment budget.
func OriginBudgetJSON(w io.Writer, a *registration.Answer, b *Budget) error {
	j := originOf(a)
	j.Schema, j.Budget = schema, budgetOf(b, a.Question.Unit)
	return writeJSON(w, j)
}

type budgetJSON struct {
	Units string `json:"units"`
	*Budget
	Notes List[noteJSON] `json:"notes"`
}

func budgetOf(b *Budget, unit transform.Unit) *budgetJSON {
	if b == nil {
		return nil
	}
	return &budgetJSON{unit.String(), b, said(b.Notes, unit)}
}

type fitJSON struct {
	*PinFit
	Verdict string         `json:"verdict,omitempty"`
	Notes   List[noteJSON] `json:"notes"`
}

func fitOf(p *PinFit, unit transform.Unit) *fitJSON {
	if p == nil {
		return nil
	}
	return &fitJSON{p, p.verdict(), said(p.Notes, unit)}
}

type pinsJSON struct {
	*originJSON
	Pins List[registration.Pin] `json:"pins"`
	Fit  *fitJSON               `json:"fit"`
}

// PinsJSON writes the answer of `pins --json`: that of origin, with the pins in
// the face's as-laid frame and their fit.
func PinsJSON(w io.Writer, s Setup) error {
	j := pinsJSON{originJSON: &originJSON{}, Fit: fitOf(s.Pins, s.Unit)}
	if s.Answer != nil {
		j.originJSON, j.Pins = originOf(s.Answer), s.Answer.Question.Pins
	}
	j.Schema = schema
	return writeJSON(w, j)
}

// swappedPlanes names the planes whose arcs change sense.
func swappedPlanes(m transform.Map) []string {
	s := []string{}
	for _, p := range []transform.Plane{transform.XY, transform.ZX, transform.YZ} {
		if m.SwapsArcs(p) {
			s = append(s, p.String())
		}
	}
	return s
}
