package report

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report/letters"
)

// schema is the number that every JSON answer carries. It grows when a key
// changes its meaning or goes; new keys alone don't raise it.
const schema = 2

// Lengths in JSON are plain numbers with all their digits, neither rounded nor in quotes.
// The package of decimals has one switch for it; it is set before main and never again,
// since reading it isn't guarded.
func init() { decimal.MarshalJSONWithoutQuotes = true }

// Estimate is a number from a grid, a sum of roots or a clock. JSON shows it rounded to a
// millionth, without an exponent, and as null where there is none.
type Estimate float64

// MarshalJSON writes a plain number.
func (e Estimate) MarshalJSON() ([]byte, error) {
	f := float64(e)
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return []byte("null"), nil
	}
	return []byte(letters.Rounded(f, 6)), nil
}

// List is a list that JSON shows as [] where it is empty.
type List[T any] []T

// MarshalJSON writes the list.
func (l List[T]) MarshalJSON() ([]byte, error) {
	if len(l) == 0 {
		return []byte("[]"), nil
	}
	return encoded([]T(l), "")
}

// encoded is v as JSON that keeps <, > and & as they are.
func encoded(v any, indent string) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", indent)
	err := e.Encode(v)
	return b.Bytes(), err
}

// writeJSON writes v with an indent and one checked write.
func writeJSON(w io.Writer, v any) error {
	b, err := encoded(v, "  ")
	if err != nil {
		return err
	}
	_, err = w.Write(b)
	return err
}

type errorJSON struct {
	Where    string `json:"where,omitempty"`
	Found    string `json:"found"`
	Expected string `json:"expected,omitempty"`
	Hint     string `json:"hint,omitempty"`
	Blocks   int    `json:"blocks,omitempty"` // of which it is true, where more than one
	Exit     int    `json:"exit"`
}

// ErrorJSON writes what every verb answers under --json where it has no answer: the
// error, or a list of several.
func ErrorJSON(w io.Writer, list []*fault.Error) error {
	var all []errorJSON
	for _, f := range list {
		said := errorJSON{Where: f.Where(), Found: f.Found, Expected: f.Expected, Hint: f.Hint, Exit: f.Exit()}
		if f.Count > 1 {
			said.Blocks = f.Count
		}
		all = append(all, said)
	}
	said := map[string]any{"schema": schema, "error": all}
	if len(all) == 1 {
		said["error"] = all[0]
	}
	return writeJSON(w, said)
}

// said are notes with their words.
func said(notes []Note, unit transform.Unit) (out List[Note]) {
	for _, n := range notes {
		n.Text = NoteWords(n, unit)
		out = append(out, n)
	}
	return out
}

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
	Facts       List[Note]               `json:"facts"`
	Budget      *budgetJSON              `json:"budget,omitempty"`
}

func originOf(a *registration.Answer) *originJSON {
	q := &a.Question
	j := &originJSON{
		Units: q.Unit.String(), Flip: q.Flip, FlipWords: FlipWords(q.Flip), Blank: &a.Used, Register: q.Register.String(), At: q.At,
		Zero:      zeroJSON{q.Zero.Name, a.FaceZero, q.ZZero.String(), faceOffset(a)},
		BackZero:  zeroJSON{q.BackZero.Name, a.BackZero, q.BackZZero.String(), ""},
		Transform: mapJSON{Map: a.Transform}, Formula: a.Transform.String(), SwapsArcs: swappedPlanes(a.Transform),
		Second: a.Second, NominalZero: a.NominalZero, Rise: a.Rise, FlipLine: a.FlipLine, Lie: a.Lie, FacePins: a.FacePins, BackPins: a.BackPins,
		FaceCorner: placeOf(&a.FaceCorner, a.FaceMachine), BackCorner: placeOf(a.BackCorner, a.Machine), PlugAt: placeOf(a.PlugAt, a.Machine), ClockAt: placeOf(a.ClockAt, a.Machine),
	}
	if a.Lie != nil || !a.Transform.Turn.IsZero() {
		j.Transform.Turn = &a.Transform.Turn
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
		j.Touches = append(j.Touches, touchJSON{t, registration.Frame(t.CoordKnown), registration.Frame(t.BackKnown), TouchWords(t)})
	}
	for _, l := range a.LayUps {
		u := layUpJSON{LayUp: l, Text: LayUpWords(l, q.Unit)}
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
		j.Facts = append(j.Facts, Note{Code: f.Code, Level: f.Level, Text: FactWords(f, q.Unit), Values: f.Values})
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
	Notes List[Note] `json:"notes"`
}

func budgetOf(b *Budget, unit transform.Unit) *budgetJSON {
	if b == nil {
		return nil
	}
	return &budgetJSON{unit.String(), b, said(b.Notes, unit)}
}

// stationJSON is a station with the number of its offset, and its blank as it lies.
type stationJSON struct {
	bed.Station
	P       int             `json:"p,omitempty"` // of G10 L2
	W       decimal.Decimal `json:"w"`
	H       decimal.Decimal `json:"h"`
	Quarter int             `json:"quarter_turns"`
}

type stationsJSON struct {
	Schema     int               `json:"schema,omitempty"`
	Units      string            `json:"units"`
	Pairs      int               `json:"pairs"`
	Stations   List[stationJSON] `json:"stations"`
	ClearZ     *decimal.Decimal  `json:"clear_z"`
	Overwrites List[string]      `json:"overwrites"`
	Lines      List[string]      `json:"lines"`
	LinesFile  string            `json:"lines_file,omitempty"`
	TouchOff   []TouchOff        `json:"touch_off,omitempty"`
	Checks     []OffsetCheck     `json:"check_lines,omitempty"`
	Notes      List[Note]        `json:"notes,omitempty"`
}

func stationsOf(s *Setup) *stationsJSON {
	j := &stationsJSON{Units: s.bedUnit().String(), ClearZ: s.ClearZ, Overwrites: s.Overwritten(), Lines: s.Lines, LinesFile: s.LinesFile, Checks: s.OffsetChecks}
	for _, t := range s.TouchOffs {
		if t.Half != 0 { // half the tool isn't known
			t.Reads = nil
		}
		j.TouchOff = append(j.TouchOff, t)
	}
	for _, st := range s.Stations {
		j.Pairs = max(j.Pairs, st.Pair)
		e := stationJSON{Station: st, W: st.Blank.W, H: st.Blank.H}
		e.P = transform.OffsetNumber(st.Offset)
		if st.Turned {
			e.Quarter = 1
		}
		j.Stations = append(j.Stations, e)
	}
	return j
}

// StationsJSON writes the answer of `stations --json`.
func StationsJSON(w io.Writer, s Setup) error {
	j := stationsOf(&s)
	j.Schema, j.Notes = schema, said(s.Notes, s.Unit)
	return writeJSON(w, j)
}

type mirroredJSON struct {
	Schema int    `json:"schema,omitempty"`
	Units  string `json:"units"`
	*Mirrored
	SwapsArcs []string   `json:"swaps_arcs"`
	Proved    any        `json:"proved"` // true, or "moves" where the program was written out
	Notes     List[Note] `json:"notes"`
}

func mirroredOf(m *Mirrored) *mirroredJSON {
	j := &mirroredJSON{Units: m.Map.Unit.String(), Mirrored: m, SwapsArcs: swappedPlanes(m.Map), Proved: true, Notes: said(m.Notes, m.Map.Unit)}
	if m.WrittenOut {
		j.Proved = "moves"
	}
	return j
}

// MirrorJSON writes the answer of `mirror --json`. Only a proved program has one.
func MirrorJSON(w io.Writer, m Mirrored) error {
	j := mirroredOf(&m)
	j.Schema = schema
	return writeJSON(w, j)
}

// MarshalJSON writes the summary, null where a program's moves aren't known.
func (m Motion) MarshalJSON() ([]byte, error) {
	if !m.Known {
		return []byte("null"), nil
	}
	type reach struct {
		Least    [3]Estimate `json:"least"`
		Greatest [3]Estimate `json:"greatest"`
	}
	type motion Motion
	j := struct {
		motion
		All *reach `json:"all"` // how far all moves reach, rapids too
	}{motion: motion(m)}
	if m.FromOK == [3]bool{true, true, true} {
		j.All = &reach{m.From, m.To}
	}
	return json.Marshal(j)
}

type webJSON struct {
	Min     *Estimate        `json:"min"`
	X       *Estimate        `json:"x"`
	Y       *Estimate        `json:"y"`
	Least   *decimal.Decimal `json:"least,omitempty"`
	LessBud *Estimate        `json:"min_less_budget,omitempty"`
}

type travelJSON struct {
	OK    *bool        `json:"ok"` // null where it can't be said
	Known bool         `json:"known"`
	Axes  List[Travel] `json:"axes"`
}

type checkJSON struct {
	Schema int    `json:"schema,omitempty"`
	Units  string `json:"units"`
	Fine   bool   `json:"ok"`
	*Check
	Web           webJSON       `json:"web"`
	BrokenThrough bool          `json:"broken_through"`
	Hits          List[Finding] `json:"hits"`
	Findings      List[Finding] `json:"findings"`
	Travel        travelJSON    `json:"travel"`
	Notes         List[Note]    `json:"notes"`
	Picture       string        `json:"picture,omitempty"`
}

func checkOf(c *Check, unit transform.Unit) *checkJSON {
	j := &checkJSON{Units: unit.String(), Fine: c.OK(), Check: c, BrokenThrough: len(c.Islands) > 0, Web: webJSON{Least: c.Least, LessBud: c.WebLess},
		Travel: travelJSON{Known: len(c.Travel) == 2*3, Axes: c.Travel}, Notes: said(c.Notes, unit)} // three axes at two stations
	if c.HasWeb {
		j.Web.Min, j.Web.X, j.Web.Y = &c.WebMin, &c.WebAt.X, &c.WebAt.Y
	}
	for i, f := range c.Findings {
		f.Number = i + 1
		j.Findings = append(j.Findings, f)
		if f.Hit {
			j.Hits = append(j.Hits, f)
		}
	}
	ok := !slices.ContainsFunc(c.Travel, func(t Travel) bool { return !t.OK })
	if j.Travel.Known || !ok {
		j.Travel.OK = &ok
	}
	return j
}

// OK reports whether check found nothing that forbids cutting. A nil check, which
// wasn't made, found nothing.
func (c *Check) OK() bool {
	if c == nil {
		return true
	}
	return len(c.Islands) == 0 && !slices.ContainsFunc(c.Findings, func(f Finding) bool { return f.Level != "note" }) &&
		!slices.ContainsFunc(c.Travel, func(t Travel) bool { return !t.OK })
}

// CheckJSON writes the answer of `check --json`; picture names the file drawn,
// if any.
func CheckJSON(w io.Writer, c Check, unit transform.Unit, picture string) error {
	j := checkOf(&c, unit)
	j.Schema, j.Picture = schema, picture
	return writeJSON(w, j)
}

type landedJSON struct {
	Schema int    `json:"schema,omitempty"`
	Units  string `json:"units"`
	*Landed
	Notes List[Note] `json:"notes"`
}

func landedOf(l *Landed, unit transform.Unit) *landedJSON {
	return &landedJSON{Units: unit.String(), Landed: l, Notes: said(l.Notes, unit)}
}

// CorrectJSON writes the answer of `correct --json`.
func CorrectJSON(w io.Writer, l Landed, unit transform.Unit) error {
	j := landedOf(&l, unit)
	j.Schema = schema
	return writeJSON(w, j)
}

type fitJSON struct {
	*PinFit
	Verdict string     `json:"verdict,omitempty"`
	Notes   List[Note] `json:"notes"`
}

func fitOf(p *PinFit) *fitJSON {
	if p == nil {
		return nil
	}
	return &fitJSON{p, p.verdict(), said(p.Notes, transform.MM)}
}

type pinsJSON struct {
	*originJSON
	Pins List[registration.Pin] `json:"pins"`
	Fit  *fitJSON               `json:"fit"`
}

// PinsJSON writes the answer of `pins --json`: that of origin, with the pins in
// the face's as-laid frame and their fit.
func PinsJSON(w io.Writer, s Setup) error {
	j := pinsJSON{originJSON: &originJSON{}, Fit: fitOf(s.Pins)}
	if s.Answer != nil {
		j.originJSON, j.Pins = originOf(s.Answer), s.Answer.Question.Pins
	}
	j.Schema = schema
	return writeJSON(w, j)
}

type planJSON struct {
	*Plan
	Changes   *changesJSON `json:"tool_changes,omitempty"`
	BreakEven *int         `json:"break_even,omitempty"`
	Notes     List[Note]   `json:"notes,omitempty"`
}

type changesJSON struct {
	First    int `json:"first"`
	Steady   int `json:"steady"`
	Last     int `json:"last"`
	Separate int `json:"separate"`
}

func planOf(p *Plan, unit transform.Unit) *planJSON {
	if p == nil {
		return nil
	}
	j := &planJSON{Plan: p, Notes: said(p.Notes, unit)}
	if len(p.Orders) > 0 {
		j.Changes, j.BreakEven = &changesJSON{p.FirstChanges, p.Changes, p.LastChanges, p.Separate}, &p.BreakEven
	}
	return j
}

type pairedJSON struct {
	Schema   int              `json:"schema,omitempty"`
	Units    string           `json:"units"`
	Pairs    List[pairJSON]   `json:"pairs"`
	ClearZ   *decimal.Decimal `json:"clear_z"`
	Proved   bool             `json:"proved"`
	Programs List[Program]    `json:"programs"`
	Plan     *planJSON        `json:"plan"`
	Notes    List[Note]       `json:"notes"`
}

type pairJSON struct {
	Pair int    `json:"pair"`
	Face string `json:"face"`
	Back string `json:"back"`
}

// PairJSON writes the answer of `pair --json`: the three programs, which are proved
// or there is no answer, and the plan of the run.
func PairJSON(w io.Writer, s Setup) error {
	j := pairedJSON{Schema: schema, Units: s.bedUnit().String(), ClearZ: s.ClearZ, Proved: true, Programs: s.Programs,
		Plan: planOf(s.Plan, s.Unit), Notes: said(s.Notes, s.Unit)}
	for i, p := range s.Offsets {
		j.Pairs = append(j.Pairs, pairJSON{i + 1, p[0], p[1]})
	}
	return writeJSON(w, j)
}

type machineJSON struct {
	Units string `json:"units"`
	*Machine
}

type stepJSON struct {
	Number   int      `json:"number"`
	Phase    string   `json:"phase"`
	Text     string   `json:"text"`
	Write    []string `json:"write,omitempty"`
	Cautions []string `json:"cautions,omitempty"` // codes
}

type sheetJSON struct {
	Schema   int                 `json:"schema"`
	Title    string              `json:"title"`
	Job      string              `json:"job,omitempty"`
	Material string              `json:"material,omitempty"`
	Version  string              `json:"version,omitempty"`
	Units    string              `json:"units"`
	Origin   *originJSON         `json:"origin"`
	Machine  *machineJSON        `json:"machine"`
	Stations *stationsJSON       `json:"stations"`
	Fit      *fitJSON            `json:"fit"`
	Programs List[Program]       `json:"programs"`
	Tools    List[Tool]          `json:"tools"`
	Feeler   *decimal.Decimal    `json:"feeler"`
	Mirrored List[*mirroredJSON] `json:"mirrored"`
	Budget   *budgetJSON         `json:"budget"`
	Plan     *planJSON           `json:"plan"`
	Check    *checkJSON          `json:"check"`
	Landed   *landedJSON         `json:"correction"`
	Notes    List[Note]          `json:"notes"`
	Cautions List[Caution]       `json:"cautions"`
	Steps    List[stepJSON]      `json:"steps"`
}

// JSON writes the whole sheet. Its shape is fixed by the schema in
// sheet.schema.json beside this file.
func JSON(w io.Writer, s Setup) error {
	j := sheetJSON{Schema: schema, Title: s.Name(), Job: s.Job, Material: s.Material, Version: s.Version, Units: s.Unit.String(),
		Fit: fitOf(s.Pins), Programs: s.Programs, Tools: s.Tools, Feeler: s.Feeler, Budget: budgetOf(s.Budget, s.Unit), Plan: planOf(s.Plan, s.Unit),
		Notes: said(s.Notes, s.Unit), Cautions: s.Cautions()}
	if s.Answer != nil {
		j.Origin = originOf(s.Answer)
	}
	if s.Machine != nil {
		j.Machine = &machineJSON{s.bedUnit().String(), s.Machine}
	}
	if len(s.Stations) > 0 || len(s.Lines) > 0 {
		j.Stations = stationsOf(&s)
	}
	for i := range s.Mirrors {
		j.Mirrored = append(j.Mirrored, mirroredOf(&s.Mirrors[i]))
	}
	if s.Check != nil {
		j.Check = checkOf(s.Check, s.Unit)
	}
	if s.Landed != nil {
		j.Landed = landedOf(s.Landed, s.Unit)
	}
	for i, st := range s.Steps() {
		e := stepJSON{Number: i + 1, Phase: st.Phase, Text: st.Text, Write: st.Write}
		for _, c := range st.Cautions {
			e.Cautions = append(e.Cautions, c.Code)
		}
		j.Steps = append(j.Steps, e)
	}
	return writeJSON(w, j)
}
