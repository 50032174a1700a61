package report

import (
	"io"

	"flipcalc/mirror/transform"
)

type programJSON struct {
	Name    string   `json:"name"`
	Role    string   `json:"role"`
	From    string   `json:"from,omitempty"`
	Offset  string   `json:"offset,omitempty"`
	Bytes   int64    `json:"bytes"`
	SHA256  string   `json:"sha256,omitempty"`
	Blocks  int64    `json:"blocks,omitempty"`
	Moves   int64    `json:"moves,omitempty"`
	Seconds measured `json:"seconds,omitempty"`
	Tools   []int    `json:"tools,omitempty"`
	Changes int      `json:"tool_changes,omitempty"`
}

type toolJSON struct {
	Number int     `json:"number"`
	Shape  string  `json:"shape"`
	Dia    Length  `json:"dia"`
	X      *Length `json:"x,omitempty"`
	Flute  *Length `json:"flute,omitempty"`
	Used   string  `json:"used,omitempty"`
}

type areaJSON struct {
	X      Length  `json:"x"`
	Y      Length  `json:"y"`
	W      Length  `json:"w"`
	H      Length  `json:"h"`
	Height *Length `json:"height,omitempty"`
	Name   string  `json:"name,omitempty"`
}

func areaOf(a *Area) *areaJSON {
	if a == nil {
		return nil
	}
	j := &areaJSON{X: Length{a.At.X}, Y: Length{a.At.Y}, W: Length{a.W}, H: Length{a.H}, Name: a.Name}
	if a.Height != nil {
		j.Height = &Length{*a.Height}
	}
	return j
}

type takenJSON struct {
	Offset string    `json:"offset"`
	Area   *areaJSON `json:"area"`
}

type machineJSON struct {
	Units    string      `json:"units"`
	Name     string      `json:"name,omitempty"`
	Least    [3]Length   `json:"least"`
	Greatest [3]Length   `json:"greatest"`
	Bed      *areaJSON   `json:"bed"`
	NoGo     []areaJSON  `json:"no_go"`
	Taken    []takenJSON `json:"taken"`
}

func machineOf(m *Machine, unit transform.Unit) *machineJSON {
	if m == nil {
		return nil
	}
	j := &machineJSON{Units: unit.String(), Name: m.Name, Bed: areaOf(m.Bed), NoGo: []areaJSON{}, Taken: []takenJSON{}}
	for i := range 3 {
		j.Least[i], j.Greatest[i] = Length{m.Least[i]}, Length{m.Greatest[i]}
	}
	for i := range m.NoGo {
		j.NoGo = append(j.NoGo, *areaOf(&m.NoGo[i]))
	}
	for _, t := range m.Taken {
		j.Taken = append(j.Taken, takenJSON{t.Offset, areaOf(t.Area)})
	}
	return j
}

type cautionJSON struct {
	Code string `json:"code"`
	Text string `json:"text"`
}

type stepJSON struct {
	Number   int      `json:"number"`
	Phase    string   `json:"phase"`
	Text     string   `json:"text"`
	Write    []string `json:"write,omitempty"`
	Cautions []string `json:"cautions,omitempty"` // codes
}

type sheetJSON struct {
	Schema   int            `json:"schema"`
	Title    string         `json:"title"`
	Job      string         `json:"job,omitempty"`
	Material string         `json:"material,omitempty"`
	Version  string         `json:"version,omitempty"`
	Units    string         `json:"units"`
	Origin   *originJSON    `json:"origin"`
	Machine  *machineJSON   `json:"machine"`
	Stations *stationsJSON  `json:"stations"`
	Fit      *fitJSON       `json:"fit"`
	Programs []programJSON  `json:"programs"`
	Tools    []toolJSON     `json:"tools"`
	Feeler   *Length        `json:"feeler"`
	Mirrored []mirroredJSON `json:"mirrored"`
	Budget   *budgetJSON    `json:"budget"`
	Plan     *planJSON      `json:"plan"`
	Check    *checkJSON     `json:"check"`
	Landed   *landedJSON    `json:"correction"`
	Notes    []noteJSON     `json:"notes"`
	Cautions []cautionJSON  `json:"cautions"`
	Steps    []stepJSON     `json:"steps"`
}

// JSON writes the whole sheet. Its shape is fixed by the schema in
// sheet.schema.json beside this file.
func JSON(w io.Writer, s Setup) error {
	j := sheetJSON{Schema: schema, Title: s.Name(), Job: s.Job, Material: s.Material, Version: s.Version, Units: s.Unit.String(),
		Machine: machineOf(s.Machine, s.bedUnit()), Fit: fitOf(s.Pins), Programs: programsOf(s.Programs), Tools: []toolJSON{}, Feeler: lengthOf(s.Feeler),
		Mirrored: []mirroredJSON{}, Budget: budgetOf(s.Budget, s.Unit), Plan: planOf(s.Plan, s.Unit),
		Notes: notesOf(s.Notes, s.Unit), Cautions: []cautionJSON{}, Steps: []stepJSON{}}
	if s.Answer != nil {
		o := originOf(s.Answer)
		j.Origin = &o
	}
	if len(s.Stations) > 0 || len(s.Lines) > 0 {
		st := stationsOf(&s)
		j.Stations = &st
	}
	for _, t := range s.Tools {
		j.Tools = append(j.Tools, toolJSON{t.Number, t.Shape, Length{t.Dia}, lengthOf(t.X), lengthOf(t.Flute), t.Used})
	}
	for i := range s.Mirrors {
		j.Mirrored = append(j.Mirrored, mirroredOf(&s.Mirrors[i]))
	}
	if s.Check != nil {
		c := checkOf(s.Check, s.Unit)
		j.Check = &c
	}
	if s.Landed != nil {
		l := landedOf(s.Landed, s.Unit)
		j.Landed = &l
	}
	for _, c := range s.Cautions() {
		j.Cautions = append(j.Cautions, cautionJSON(c))
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
