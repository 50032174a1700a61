package report

import (
	"bytes"
	"encoding/json"
	"io"
	"slices"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// schema is the number that every JSON answer carries. It grows when a key
// changes its meaning or goes; new keys alone don't raise it.
const schema = 1

// writeJSON writes v with an indent and one checked write.
func writeJSON(w io.Writer, v any) error {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return err
	}
	_, err := w.Write(b.Bytes())
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

type pointJSON struct {
	X Length `json:"x"`
	Y Length `json:"y"`
}

func pointOf(p registration.Point) pointJSON { return pointJSON{Length{p.X}, Length{p.Y}} }

type positionJSON struct {
	X Length  `json:"x"`
	Y Length  `json:"y"`
	Z *Length `json:"z"`
}

func positionOf(p registration.Position) positionJSON {
	return positionJSON{Length{p.X}, Length{p.Y}, lengthOf(p.Z)}
}

// cornerJSON is a place with what it is measured from, "machine" or "face zero".
type cornerJSON struct {
	X    Length `json:"x"`
	Y    Length `json:"y"`
	From string `json:"from"`
}

func cornerOf(p registration.Point, machine bool) cornerJSON {
	return cornerJSON{Length{p.X}, Length{p.Y}, frameKey(machine)}
}

func frameKey(machine bool) string {
	if machine {
		return "machine"
	}
	return "face zero"
}

type axisJSON struct {
	Sign   int    `json:"sign"`
	Offset Length `json:"offset"`
}

type mapJSON struct {
	X axisJSON `json:"x"`
	Y axisJSON `json:"y"`
	Z axisJSON `json:"z"`
	// Turn, in degrees counter-clockwise about the back zero, follows. Half a turn is two signs.
	Turn *Length `json:"turn,omitempty"`
}

func mapOf(m transform.Map) mapJSON {
	axis := func(a transform.Axis) axisJSON { return axisJSON{a.Sign, Length{a.Offset}} }
	j := mapJSON{X: axis(m.X), Y: axis(m.Y), Z: axis(m.Z)}
	if !m.Turn.IsZero() {
		j.Turn = &Length{m.Turn}
	}
	return j
}

type blankJSON struct {
	W Length  `json:"w"`
	H Length  `json:"h"`
	T *Length `json:"t"`
}

func blankOf(b *registration.Blank) *blankJSON {
	if b == nil {
		return nil
	}
	j := &blankJSON{W: Length{b.W}, H: Length{b.H}}
	if !b.T.IsZero() {
		j.T = lengthOf(&b.T)
	}
	return j
}

type secondZeroJSON struct {
	Offset string  `json:"offset"`
	X      Length  `json:"x"`
	Y      Length  `json:"y"`
	Z      *Length `json:"z"`
	From   string  `json:"from"`
}

func secondZeroOf(z *registration.SecondZero) *secondZeroJSON {
	if z == nil {
		return nil
	}
	return &secondZeroJSON{z.Offset, Length{z.X}, Length{z.Y}, lengthOf(z.Z), frameKey(z.Machine)}
}

type touchJSON struct {
	Locator     string `json:"locator"`
	BackLocator string `json:"back_locator"`
	Side        string `json:"side"`
	BackSide    string `json:"back_side"`
	FaceEdge    string `json:"face_edge"`
	BackEdge    string `json:"back_edge"`
	SameEdge    bool   `json:"same_edge"`
	Across      bool   `json:"across"`
	KeepSide    string `json:"keep_side,omitempty"`
	KeepFlip    string `json:"keep_flip,omitempty"`
	FaceCoord   Length `json:"face_coordinate"`
	FaceFrom    string `json:"face_from"`
	BackCoord   Length `json:"back_coordinate"`
	BackFrom    string `json:"back_from"`
	Text        string `json:"text"`
}

type layUpJSON struct {
	Name    string     `json:"name"`
	Fits    bool       `json:"fits"`
	Wanted  bool       `json:"wanted"`
	Shift   *pointJSON `json:"shift,omitempty"`
	Pairing []int      `json:"pairing,omitempty"`
	Turn    *Length    `json:"turn,omitempty"` // degrees, counter-clockwise
	Miss    *Length    `json:"miss,omitempty"` // how much more radial clearance a push must make up
	Text    string     `json:"text"`
}

type pinJSON struct {
	X   Length  `json:"x"`
	Y   Length  `json:"y"`
	Dia *Length `json:"dia"`
}

func pinsOf(pins []registration.Pin) []pinJSON {
	var out []pinJSON
	for _, p := range pins {
		j := pinJSON{X: Length{p.At.X}, Y: Length{p.At.Y}}
		if !p.Dia.IsZero() {
			j.Dia = lengthOf(&p.Dia)
		}
		out = append(out, j)
	}
	return out
}

type noteJSON struct {
	Code   string   `json:"code,omitempty"`
	Level  string   `json:"level"`
	File   string   `json:"file,omitempty"`
	Line   int      `json:"line,omitempty"`
	Text   string   `json:"text"`
	Values []string `json:"values,omitempty"`
}

func notesOf(notes []Note, unit transform.Unit) []noteJSON {
	out := []noteJSON{}
	for _, n := range notes {
		out = append(out, noteJSON{n.Code, n.Level, n.File, n.Line, NoteWords(n, unit), n.Values})
	}
	return out
}

type zeroJSON struct {
	Name   string `json:"name,omitempty"`
	X      Length `json:"x"`
	Y      Length `json:"y"`
	Z      string `json:"z"`
	Offset string `json:"offset,omitempty"`
}

// originJSON is what `origin --json` writes, and the key "origin" of the sheet.
type originJSON struct {
	Schema      int             `json:"schema,omitempty"`
	Units       string          `json:"units"`
	Flip        string          `json:"flip"`
	FlipWords   string          `json:"flip_words"`
	Blank       *blankJSON      `json:"blank"`
	Nominal     *blankJSON      `json:"nominal,omitempty"`
	Register    string          `json:"register,omitempty"`
	Zero        zeroJSON        `json:"zero"`
	BackZero    zeroJSON        `json:"back_zero"`
	At          *positionJSON   `json:"at"`
	Transform   mapJSON         `json:"transform"`
	Formula     string          `json:"formula"`
	SwapsArcs   []string        `json:"swaps_arcs"`
	Second      *secondZeroJSON `json:"second_zero"`
	NominalZero *secondZeroJSON `json:"second_zero_for_nominal,omitempty"`
	Rise        Length          `json:"rise"`
	FaceCorner  cornerJSON      `json:"face_corner"`
	BackCorner  *cornerJSON     `json:"back_corner"`
	FlipLine    *Length         `json:"flip_line,omitempty"`
	PlugAt      *cornerJSON     `json:"plug_at,omitempty"`
	ClockAt     *cornerJSON     `json:"clock_at,omitempty"`
	Lie         *lieJSON        `json:"lie,omitempty"`
	Touches     []touchJSON     `json:"touches"`
	LayUps      []layUpJSON     `json:"lay_ups"`
	Foolproof   *bool           `json:"foolproof,omitempty"`
	FacePins    []pinJSON       `json:"face_pins,omitempty"`
	BackPins    []pinJSON       `json:"back_pins,omitempty"`
	Facts       []noteJSON      `json:"facts"`
	Budget      *budgetJSON     `json:"budget,omitempty"`
}

func originOf(a *registration.Answer) originJSON {
	q := a.Question
	offset := q.Offset
	if offset == "" {
		offset = "G54"
	}
	j := originJSON{
		Units: q.Unit.String(), Flip: q.Flip.String(), FlipWords: FlipWords(q.Flip),
		Blank: blankOf(&a.Used), Register: q.Register.String(),
		Zero:      zeroJSON{q.Zero.Name, Length{a.FaceZero.X}, Length{a.FaceZero.Y}, q.ZZero.String(), offset},
		BackZero:  zeroJSON{q.BackZero.Name, Length{a.BackZero.X}, Length{a.BackZero.Y}, q.BackZZero.String(), ""},
		Transform: mapOf(a.Transform), Formula: a.Transform.String(), SwapsArcs: swappedPlanes(a.Transform),
		Second: secondZeroOf(a.Second), NominalZero: secondZeroOf(a.NominalZero), Rise: Length{a.Rise}, FaceCorner: cornerOf(a.FaceCorner, a.FaceMachine),
		Touches: []touchJSON{}, LayUps: []layUpJSON{}, FacePins: pinsOf(a.FacePins), BackPins: pinsOf(a.BackPins), FlipLine: lengthOf(a.FlipLine), Facts: []noteJSON{},
	}
	if a.Lie != nil {
		j.Transform.Turn = &Length{a.Transform.Turn}
		j.Lie = lieOf(a.Lie)
	}
	if q.Measured != nil {
		j.Nominal = blankOf(q.Stock)
	}
	if q.At != nil {
		p := positionOf(*q.At)
		j.At = &p
	}
	if a.Second != nil {
		j.BackZero.Offset = a.Second.Offset
	}
	if a.BackCorner != nil {
		p := cornerOf(*a.BackCorner, a.Machine)
		j.BackCorner = &p
	}
	if a.PlugAt != nil {
		p := cornerOf(*a.PlugAt, a.Machine)
		j.PlugAt = &p
	}
	if a.ClockAt != nil {
		p := cornerOf(*a.ClockAt, a.Machine)
		j.ClockAt = &p
	}
	if len(a.LayUps) > 0 {
		j.Foolproof = &a.Foolproof
	}
	for _, t := range a.Touches {
		j.Touches = append(j.Touches, touchJSON{t.Locator, t.BackLocator, t.Side.String(), t.BackSide.String(), t.FaceEdge.String(), t.BackEdge.String(),
			t.SameEdge, t.Across, t.KeepSide.String(), t.KeepFlip.String(), Length{t.FaceCoord}, frameKey(t.CoordKnown), Length{t.BackCoord}, frameKey(t.BackKnown), TouchWords(t)})
	}
	for _, l := range a.LayUps {
		u := layUpJSON{Name: l.Name, Fits: l.Fits, Wanted: l.Wanted, Text: LayUpWords(l, q.Unit)}
		if l.Fits {
			p := pointOf(l.Shift)
			u.Shift, u.Pairing = &p, l.Pairing
			if !l.Turn.IsZero() {
				u.Turn = lengthOf(&l.Turn)
			}
		}
		if l.Near {
			u.Miss = lengthOf(&l.Miss)
		}
		j.LayUps = append(j.LayUps, u)
	}
	for _, f := range a.Facts {
		j.Facts = append(j.Facts, noteJSON{Code: f.Code, Level: f.Level, Text: FactWords(f, q.Unit), Values: f.Values})
	}
	return j
}

// lieJSON is how a touched blank lies: turns in degrees, counter-clockwise.
type lieJSON struct {
	Turn      Length         `json:"turn_found"`
	Error     Length         `json:"turn_limit"`
	Touches   []leftoverJSON `json:"touches"`
	Disagrees int            `json:"disagrees,omitempty"`
	Doubtful  bool           `json:"doubtful"`
	W         *Length        `json:"w,omitempty"`
	H         *Length        `json:"h,omitempty"`
	BlindSide bool           `json:"side_not_shown"`
	BlindEnd  bool           `json:"end_not_shown"`
}

type leftoverJSON struct {
	Touch string `json:"touch"`
	Left  Length `json:"left"`
	Limit Length `json:"limit"`
}

func lieOf(l *registration.Lie) *lieJSON {
	j := &lieJSON{Turn: Length{l.Askew}, Error: Length{l.Error}, Disagrees: l.Disagrees, Doubtful: l.Doubtful,
		W: lengthOf(l.W), H: lengthOf(l.H), BlindSide: l.BlindSide, BlindEnd: l.BlindEnd}
	for _, t := range l.Touches {
		j.Touches = append(j.Touches, leftoverJSON{t.Spot.String(), Length{t.By}, Length{t.Limit}})
	}
	return j
}

// OriginJSON writes the answer of `origin --json`.
func OriginJSON(w io.Writer, a *registration.Answer) error {
	j := originOf(a)
	j.Schema = schema
	return writeJSON(w, j)
}

// OriginBudgetJSON writes the answer of `origin --budget --json`: that of origin
// with the misalignment budget.
func OriginBudgetJSON(w io.Writer, a *registration.Answer, b *Budget) error {
	j := originOf(a)
	j.Schema = schema
	j.Budget = budgetOf(b, a.Question.Unit)
	return writeJSON(w, j)
}

type stationJSON struct {
	Pair    int          `json:"pair"`
	Side    string       `json:"side"`
	Offset  string       `json:"offset"`
	P       int          `json:"p,omitempty"`
	Zero    positionJSON `json:"zero"`
	Corner  pointJSON    `json:"corner"`
	W       Length       `json:"w"`
	H       Length       `json:"h"`
	Turned  bool         `json:"turned"`
	Quarter int          `json:"quarter_turns"`
	Pins    []pinJSON    `json:"pins,omitempty"`
}

type stationsJSON struct {
	Schema     int               `json:"schema,omitempty"`
	Units      string            `json:"units"`
	Pairs      int               `json:"pairs"`
	Stations   []stationJSON     `json:"stations"`
	ClearZ     *Length           `json:"clear_z"`
	Overwrites []string          `json:"overwrites"`
	Lines      []string          `json:"lines"`
	LinesFile  string            `json:"lines_file,omitempty"`
	TouchOff   []touchOffJSON    `json:"touch_off,omitempty"`
	Checks     []offsetCheckJSON `json:"check_lines,omitempty"`
	Notes      []noteJSON        `json:"notes,omitempty"`
}

func stationsOf(s *Setup) stationsJSON {
	j := stationsJSON{Units: s.bedUnit().String(), Stations: []stationJSON{}, ClearZ: lengthOf(s.ClearZ),
		Overwrites: s.Overwritten(), Lines: s.Lines, LinesFile: s.LinesFile}
	if j.Overwrites == nil {
		j.Overwrites = []string{}
	}
	if j.Lines == nil {
		j.Lines = []string{}
	}
	j.TouchOff, j.Checks = touchOffsOf(s)
	for _, st := range s.Stations {
		j.Pairs = max(j.Pairs, st.Pair)
		j.Stations = append(j.Stations, stationJSON{st.Pair, sideOf(st.Back), st.Offset, st.P, positionOf(st.Zero), pointOf(st.Corner),
			Length{st.W}, Length{st.H}, st.Turned, st.Quarter, pinsOf(st.Pins)})
	}
	return j
}

// StationsJSON writes the answer of `stations --json`.
func StationsJSON(w io.Writer, s Setup) error {
	j := stationsOf(&s)
	j.Schema = schema
	j.Notes = notesOf(s.Notes, s.Unit)
	return writeJSON(w, j)
}

type mirroredJSON struct {
	Schema    int         `json:"schema,omitempty"`
	Units     string      `json:"units"`
	In        string      `json:"in"`
	Out       string      `json:"out"`
	Transform mapJSON     `json:"transform"`
	SwapsArcs []string    `json:"swaps_arcs"`
	Proved    any         `json:"proved"` // true, or "moves" where the program was written out
	Blocks    int64       `json:"blocks"`
	Moves     int64       `json:"moves"`
	Inserted  string      `json:"inserted_offset,omitempty"`
	Before    *motionJSON `json:"before"`
	After     *motionJSON `json:"after"`
	Notes     []noteJSON  `json:"notes"`
}

func mirroredOf(m *Mirrored) mirroredJSON {
	var proved any = true
	if m.WrittenOut {
		proved = "moves"
	}
	return mirroredJSON{Units: m.Map.Unit.String(), In: m.In, Out: m.Out, Transform: mapOf(m.Map), SwapsArcs: swappedPlanes(m.Map), Proved: proved,
		Blocks: m.Blocks, Moves: m.Moves, Inserted: m.Inserted, Before: motionOf(m.Before), After: motionOf(m.After), Notes: notesOf(m.Notes, m.Map.Unit)}
}

// MirrorJSON writes the answer of `mirror --json`. Only a proved program has one.
func MirrorJSON(w io.Writer, m Mirrored) error {
	j := mirroredOf(&m)
	j.Schema = schema
	return writeJSON(w, j)
}

type webJSON struct {
	Min     *measured `json:"min"`
	X       *measured `json:"x"`
	Y       *measured `json:"y"`
	Least   *Length   `json:"least,omitempty"`
	LessBud *measured `json:"min_less_budget,omitempty"`
}

type hitJSON struct {
	Number   int       `json:"number"`
	Code     string    `json:"code"`
	Level    string    `json:"level"`
	Side     string    `json:"side,omitempty"`
	X        *measured `json:"x"`
	Y        *measured `json:"y"`
	Depth    *measured `json:"depth"`
	BackX    *measured `json:"back_x,omitempty"`
	BackY    *measured `json:"back_y,omitempty"`
	FaceFile string    `json:"face_file,omitempty"`
	FaceLine int       `json:"face_line,omitempty"`
	BackFile string    `json:"back_file,omitempty"`
	BackLine int       `json:"back_line,omitempty"`
	Text     string    `json:"text"`
	Do       string    `json:"do,omitempty"`
}

type travelAxisJSON struct {
	Station string   `json:"station"`
	Axis    string   `json:"axis"`
	Low     measured `json:"low"`
	High    measured `json:"high"`
	OK      bool     `json:"ok"`
}

type travelJSON struct {
	OK    *bool            `json:"ok"` // nil where it can't be said
	Known bool             `json:"known"`
	Axes  []travelAxisJSON `json:"axes"`
}

type islandJSON struct {
	X        measured `json:"x"`
	Y        measured `json:"y"`
	Area     measured `json:"area"`
	Overlap  measured `json:"overlap"`
	FaceFile string   `json:"face_file,omitempty"`
	FaceLine int      `json:"face_line,omitempty"`
	BackFile string   `json:"back_file,omitempty"`
	BackLine int      `json:"back_line,omitempty"`
}

type throughJSON struct {
	Kind     string   `json:"kind"`
	Both     bool     `json:"both"`
	X        measured `json:"x"`
	Y        measured `json:"y"`
	Overlap  measured `json:"overlap"`
	Step     measured `json:"step"`
	FaceFile string   `json:"face_file,omitempty"`
	FaceLine int      `json:"face_line,omitempty"`
	BackFile string   `json:"back_file,omitempty"`
	BackLine int      `json:"back_line,omitempty"`
}

type looseJSON struct {
	X    measured `json:"x"`
	Y    measured `json:"y"`
	Area measured `json:"area"`
	Side string   `json:"side"`
	File string   `json:"file,omitempty"`
	Line int      `json:"line"`
}

type tabsJSON struct {
	Count int      `json:"count"`
	Least measured `json:"least"`
	X     measured `json:"x"`
	Y     measured `json:"y"`
}

type checkJSON struct {
	Schema        int           `json:"schema,omitempty"`
	Units         string        `json:"units"`
	OK            bool          `json:"ok"`
	Cell          measured      `json:"cell"`
	Web           webJSON       `json:"web"`
	BrokenThrough bool          `json:"broken_through"`
	Islands       []islandJSON  `json:"islands"`
	Tabs          *tabsJSON     `json:"tabs"`
	Through       []throughJSON `json:"through"`
	Loose         []looseJSON   `json:"loose"`
	Hits          []hitJSON     `json:"hits"`
	Findings      []hitJSON     `json:"findings"`
	Travel        travelJSON    `json:"travel"`
	Notes         []noteJSON    `json:"notes"`
	Picture       string        `json:"picture,omitempty"`
}

func measuredIf(v float64, ok bool) *measured {
	if !ok {
		return nil
	}
	m := measured(v)
	return &m
}

func checkOf(c *Check, unit transform.Unit) checkJSON {
	j := checkJSON{Units: unit.String(), OK: c.OK(), Cell: measured(c.Cell), BrokenThrough: len(c.Islands) > 0,
		Web:     webJSON{Min: measuredIf(c.WebMin, c.HasWeb), X: measuredIf(c.WebAt.X, c.HasWeb), Y: measuredIf(c.WebAt.Y, c.HasWeb), Least: lengthOf(c.Least)},
		Islands: []islandJSON{}, Through: []throughJSON{}, Loose: []looseJSON{},
		Hits: []hitJSON{}, Findings: []hitJSON{}, Travel: travelJSON{Known: len(c.Travel) == 2*3, Axes: []travelAxisJSON{}}, // three axes at two stations
		Notes: notesOf(c.Notes, unit)}
	if c.WebLess != nil {
		j.Web.LessBud = measuredIf(*c.WebLess, true)
	}
	if t := c.Tabs; t != nil {
		j.Tabs = &tabsJSON{t.Count, measured(t.Least), measured(t.At.X), measured(t.At.Y)}
	}
	for _, l := range c.Islands {
		j.Islands = append(j.Islands, islandJSON{measured(l.X), measured(l.Y), measured(l.Area), measured(l.Overlap), l.FaceFile, l.FaceLine, l.BackFile, l.BackLine})
	}
	for _, t := range c.Through {
		j.Through = append(j.Through, throughJSON{t.Kind, t.Both, measured(t.X), measured(t.Y), measured(t.Overlap), measured(t.Step), t.FaceFile, t.FaceLine, t.BackFile, t.BackLine})
	}
	for _, l := range c.Loose {
		j.Loose = append(j.Loose, looseJSON{measured(l.X), measured(l.Y), measured(l.Area), l.Side, l.File, l.Line})
	}
	for i, f := range c.Findings {
		h := hitJSON{Number: i + 1, Code: f.Code, Level: f.Level, Side: f.Side, X: measuredIf(f.X, f.HasPlace), Y: measuredIf(f.Y, f.HasPlace),
			Depth: measuredIf(f.Depth, f.HasDepth), FaceFile: f.FaceFile, FaceLine: f.FaceLine, BackFile: f.BackFile, BackLine: f.BackLine, Text: f.Text, Do: f.Do}
		if f.Back != nil {
			h.BackX, h.BackY = measuredIf(f.Back.X, true), measuredIf(f.Back.Y, true)
		}
		j.Findings = append(j.Findings, h)
		if f.Hit {
			j.Hits = append(j.Hits, h)
		}
	}
	ok := !slices.ContainsFunc(c.Travel, func(t Travel) bool { return !t.OK })
	if j.Travel.Known || !ok {
		j.Travel.OK = &ok
	}
	for _, t := range c.Travel {
		j.Travel.Axes = append(j.Travel.Axes, travelAxisJSON{t.Station, t.Axis, measured(t.Low), measured(t.High), t.OK})
	}
	return j
}

// OK reports whether check found nothing that forbids cutting. A nil check, which
// wasn't made, found nothing.
func (c *Check) OK() bool {
	if c == nil {
		return true
	}
	if len(c.Islands) > 0 {
		return false
	}
	for _, f := range c.Findings {
		if f.Level != "note" {
			return false
		}
	}
	for _, t := range c.Travel {
		if !t.OK {
			return false
		}
	}
	return true
}

// CheckJSON writes the answer of `check --json`; picture names the file drawn,
// if any.
func CheckJSON(w io.Writer, c Check, unit transform.Unit, picture string) error {
	j := checkOf(&c, unit)
	j.Schema, j.Picture = schema, picture
	return writeJSON(w, j)
}

type measuredMismatchJSON struct {
	DX Length     `json:"dx"`
	DY Length     `json:"dy"`
	At *pointJSON `json:"at"`
}

type wayJSON struct {
	Do      string          `json:"do"`
	Zero    *secondZeroJSON `json:"second_zero"`
	Keep    string          `json:"corrections,omitempty"`
	Remains []pointJSON     `json:"remains"`
	Most    measured        `json:"most"`
}

type landedJSON struct {
	Schema   int                    `json:"schema,omitempty"`
	Units    string                 `json:"units"`
	Measured []measuredMismatchJSON `json:"measured"`
	Shift    pointJSON              `json:"shift"`
	From     string                 `json:"from"`
	Before   *secondZeroJSON        `json:"before"`
	After    *secondZeroJSON        `json:"second_zero"`
	Line     string                 `json:"line,omitempty"`
	Turn     *measured              `json:"turn_degrees"`
	Ways     []wayJSON              `json:"ways"`
	Notes    []noteJSON             `json:"notes"`
}

func landedOf(l *Landed, unit transform.Unit) landedJSON {
	j := landedJSON{Units: unit.String(), Measured: []measuredMismatchJSON{}, Shift: pointOf(l.Shift), From: l.From, Before: secondZeroOf(l.Before),
		After: secondZeroOf(l.After), Line: l.Line, Ways: []wayJSON{}, Notes: notesOf(l.Notes, unit)}
	for _, m := range l.Measured {
		e := measuredMismatchJSON{DX: Length{m.DX}, DY: Length{m.DY}}
		if m.At != nil {
			p := pointOf(*m.At)
			e.At = &p
		}
		j.Measured = append(j.Measured, e)
	}
	for _, w := range l.Ways {
		e := wayJSON{Do: w.Do, Zero: secondZeroOf(w.Zero), Keep: w.Keep, Remains: []pointJSON{}, Most: measured(w.Most)}
		for _, p := range w.Remains {
			e.Remains = append(e.Remains, pointOf(p))
		}
		j.Ways = append(j.Ways, e)
	}
	if l.Turn != nil {
		j.Turn = measuredIf(*l.Turn, true)
	}
	return j
}

// CorrectJSON writes the answer of `correct --json`.
func CorrectJSON(w io.Writer, l Landed, unit transform.Unit) error {
	j := landedOf(&l, unit)
	j.Schema = schema
	return writeJSON(w, j)
}

type fitJSON struct {
	Fit       string `json:"fit,omitempty"`
	Pin       Length `json:"pin"`
	Least     Length `json:"least_clearance"`
	Most      Length `json:"most_clearance"`
	Foolproof bool   `json:"foolproof"`
	Cure      string `json:"cure,omitempty"`
	Program   string `json:"program,omitempty"`

	Verdict  string         `json:"verdict,omitempty"`
	Layout   *layoutJSON    `json:"layout,omitempty"`
	Plug     *studJSON      `json:"plug,omitempty"`
	Index    *dowelJSON     `json:"index_pin,omitempty"`
	Drilling []drillingJSON `json:"drilling"`
	Notes    []noteJSON     `json:"notes"`
}

func fitOf(p *PinFit) *fitJSON {
	if p == nil {
		return nil
	}
	var index *dowelJSON
	if p.Index != nil {
		d := dowelJSONOf(*p.Index)
		index = &d
	}
	return &fitJSON{p.Fit, Length{p.Pin}, Length{p.Least}, Length{p.Most}, p.Foolproof, p.Cure, p.Program,
		p.verdict(), layoutOf(p.Layout), studOf(p.Stud), index, drillingOf(p.Drilling), notesOf(p.Notes, transform.MM)}
}

type pinsAnswerJSON struct {
	originJSON
	Pins []pinJSON `json:"pins"`
	Fit  *fitJSON  `json:"fit"`
}

// PinsJSON writes the answer of `pins --json`: that of origin, with the pins in
// the face's as-laid frame and their fit.
func PinsJSON(w io.Writer, s Setup) error {
	j := pinsAnswerJSON{Fit: fitOf(s.Pins), Pins: []pinJSON{}}
	if s.Answer != nil {
		j.originJSON = originOf(s.Answer)
		j.Pins = append(j.Pins, pinsOf(s.Answer.Question.Pins)...)
	}
	j.Schema = schema
	return writeJSON(w, j)
}

type budgetJSON struct {
	Units    string     `json:"units"`
	At       pointJSON  `json:"at"`
	Worst    measured   `json:"worst"`
	Likely   measured   `json:"likely"`
	Terms    []termJSON `json:"terms"`
	Dominant string     `json:"dominant,omitempty"`
	Halve    string     `json:"halve,omitempty"`
	Web      []string   `json:"web,omitempty"`
	Notes    []noteJSON `json:"notes"`
}

type termJSON struct {
	Code   string   `json:"code"`
	Name   string   `json:"name"`
	X      measured `json:"x"`
	Y      measured `json:"y"`
	Worst  measured `json:"worst"`
	Sides  string   `json:"sides,omitempty"`
	Reason string   `json:"reason,omitempty"`
}

func budgetOf(b *Budget, unit transform.Unit) *budgetJSON {
	if b == nil {
		return nil
	}
	j := &budgetJSON{Units: unit.String(), At: pointOf(b.At), Worst: measured(b.Worst), Likely: measured(b.Likely), Terms: []termJSON{},
		Dominant: b.Dominant, Halve: b.Halve, Web: b.Web, Notes: notesOf(b.Notes, unit)}
	for _, t := range b.Terms {
		j.Terms = append(j.Terms, termJSON{t.Code, t.Name, measured(t.X), measured(t.Y), measured(t.Worst), t.Sides, t.Reason})
	}
	return j
}
