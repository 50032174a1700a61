package report

import (
	_ "embed"
	"io"
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fact"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
	"flipcalc/registration/bed"
)

// schema is the number that every JSON answer carries. It grows when a key
// changes its meaning or goes; new keys alone don't raise it.
const schema = 2

// Lengths in JSON are plain numbers with all their digits, neither rounded nor in quotes.
// The package of decimals has one switch for it; it is set before main and never again,
// since reading it isn't guarded.
func init() { decimal.MarshalJSONWithoutQuotes = true }

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
	Notes    List[noteJSON]      `json:"notes"`
	Cautions List[Caution]       `json:"cautions"`
	Steps    List[stepJSON]      `json:"steps"`
}

// JSON writes the whole sheet. Its shape is fixed by the schema in
// sheet.schema.json beside this file.
func JSON(w io.Writer, s Setup) error {
	j := sheetJSON{Schema: schema, Title: s.Name(), Job: s.Job, Material: s.Material, Version: s.Version, Units: s.Unit.String(),
		Fit: fitOf(s.Pins, s.Unit), Programs: s.Programs, Tools: s.Tools, Feeler: s.Feeler, Budget: budgetOf(s.Budget, s.Unit), Plan: planOf(s.Plan, s.Unit),
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

//go:embed sheet.schema.json
var sheetSchema []byte

// Schema gives the JSON Schema (draft 2020-12) of what JSON writes. The parts of
// it under $defs are the schemas of the other verbs' answers.
func Schema() []byte { return append([]byte(nil), sheetSchema...) }

// said are notes with their words.
func said(notes []Note, unit transform.Unit) (out List[noteJSON]) {
	for _, n := range notes {
		out = append(out, noteJSON{fact.Code(n.Is), n.Level, n.File, n.Line, NoteWords(n, unit), fact.Values(n.Is)})
	}
	return out
}

// stationJSON is a station with the number of its offset, and its blank as it lies.
type stationJSON struct {
	bed.Station
	P      int             `json:"p,omitempty"` // of G10 L2
	W      decimal.Decimal `json:"w"`
	H      decimal.Decimal `json:"h"`
	Turned bool            `json:"turned"`
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
	Notes      List[noteJSON]    `json:"notes,omitempty"`
}

func stationsOf(s *Setup) *stationsJSON {
	j := &stationsJSON{Units: s.bedUnit().String(), ClearZ: s.ClearZ, Overwrites: s.Overwritten(), Lines: s.Lines, LinesFile: s.LinesFile, Checks: s.OffsetChecks}
	for _, t := range s.touches() {
		if t.Half != 0 { // half the tool isn't known
			t.Reads = nil
		}
		j.TouchOff = append(j.TouchOff, t)
	}
	for _, st := range s.Stations {
		j.Pairs = max(j.Pairs, st.Pair)
		e := stationJSON{Station: st, Turned: st.Turn != 0, W: st.Blank.W, H: st.Blank.H}
		e.P = transform.OffsetNumber(st.Offset)
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

type machineJSON struct {
	Units string `json:"units"`
	*Machine
}

type mirroredJSON struct {
	Schema int    `json:"schema,omitempty"`
	Units  string `json:"units"`
	*Mirrored
	SwapsArcs []string       `json:"swaps_arcs"`
	Proved    any            `json:"proved"` // true, or "moves" where the program was written out
	Notes     List[noteJSON] `json:"notes"`
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
	Says   string `json:"verdict"`
	*Check
	Web           webJSON        `json:"web"`
	BrokenThrough bool           `json:"broken_through"`
	Hits          List[Finding]  `json:"hits"`
	Findings      List[Finding]  `json:"findings"`
	Travel        travelJSON     `json:"travel"`
	Notes         List[noteJSON] `json:"notes"`
	Picture       string         `json:"picture,omitempty"`
}

func checkOf(c *Check, unit transform.Unit) *checkJSON {
	j := &checkJSON{Units: unit.String(), Fine: c.OK(), Says: c.Verdict(), Check: c, BrokenThrough: len(c.Islands) > 0, Web: webJSON{Least: c.Least, LessBud: c.WebLess},
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
	Notes List[noteJSON] `json:"notes"`
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

type planJSON struct {
	*Plan
	Changes   *changesJSON   `json:"tool_changes,omitempty"`
	BreakEven *int           `json:"break_even,omitempty"`
	Notes     List[noteJSON] `json:"notes,omitempty"`
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
	Notes    List[noteJSON]   `json:"notes"`
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
