package report

import (
	"io"

	"flipcalc/mirror/transform"
)

type cycleJSON struct {
	Name    string   `json:"name"`
	Lies    string   `json:"lies,omitempty"`
	Before  string   `json:"before,omitempty"`
	Program string   `json:"program,omitempty"`
	Cuts    string   `json:"cuts,omitempty"`
	Gives   string   `json:"gives,omitempty"`
	Ends    measured `json:"ends,omitempty"`
}

type planOrderJSON struct {
	Name         string   `json:"name"`
	Chosen       bool     `json:"chosen"`
	Changes      int      `json:"tool_changes"`
	Machine      measured `json:"machine"`
	Seconds      measured `json:"seconds"`
	PerHour      measured `json:"parts_per_hour"`
	SpindleWaits measured `json:"spindle_waits"`
	HandsWait    measured `json:"hands_wait"`
	Finish       measured `json:"finish,omitempty"`
}

type toolChangesJSON struct {
	First    int `json:"first"`
	Steady   int `json:"steady"`
	Last     int `json:"last"`
	Separate int `json:"separate"`
}

type planJSON struct {
	Load      string           `json:"load,omitempty"`
	Order     string           `json:"order,omitempty"`
	Hidden    bool             `json:"hidden,omitempty"`
	Pause     string           `json:"pause,omitempty"`
	Pairs     int              `json:"pairs,omitempty"`
	Parts     int              `json:"parts,omitempty"`
	Changes   *toolChangesJSON `json:"tool_changes,omitempty"`
	Face      measured         `json:"face_seconds,omitempty"`
	Back      measured         `json:"back_seconds,omitempty"`
	LoadTime  measured         `json:"load_seconds,omitempty"`
	Change    measured         `json:"change_seconds,omitempty"`
	Setup     measured         `json:"setup_seconds,omitempty"`
	Cycles    []cycleJSON      `json:"cycles"`
	Count     int              `json:"cycle_count,omitempty"`
	Seconds   measured         `json:"seconds,omitempty"`
	Finish    measured         `json:"finish,omitempty"`
	BreakEven *int             `json:"break_even,omitempty"`
	Orders    []planOrderJSON  `json:"orders,omitempty"`
	Notes     []noteJSON       `json:"notes,omitempty"`
}

func planOf(p *Plan, unit transform.Unit) *planJSON {
	if p == nil {
		return nil
	}
	j := &planJSON{Load: p.Load, Order: p.Order, Hidden: p.Hidden, Pause: p.Pause, Pairs: p.Pairs, Parts: p.Parts, Cycles: []cycleJSON{},
		Face: measured(p.FaceSeconds), Back: measured(p.BackSeconds), LoadTime: measured(p.LoadSeconds), Change: measured(p.ChangeSeconds),
		Setup: measured(p.SetupSeconds), Count: p.Count, Seconds: measured(p.Seconds), Finish: measured(p.Finish)}
	for _, c := range p.Cycles {
		j.Cycles = append(j.Cycles, cycleJSON{c.Name, c.Lies, c.Before, c.Program, c.Cuts, c.Gives, measured(c.Ends)})
	}
	if len(p.Orders) > 0 {
		j.Changes = &toolChangesJSON{p.FirstChanges, p.Changes, p.LastChanges, p.Separate}
		j.BreakEven = &p.BreakEven
	}
	for _, o := range p.Orders {
		j.Orders = append(j.Orders, planOrderJSON{o.Name, o.Chosen, o.Changes, measured(o.Machine), measured(o.Seconds), measured(o.PerHour),
			measured(o.SpindleWaits), measured(o.HandsWait), measured(o.Finish)})
	}
	if len(p.Notes) > 0 {
		j.Notes = notesOf(p.Notes, unit)
	}
	return j
}

type pairedJSON struct {
	Schema   int           `json:"schema,omitempty"`
	Units    string        `json:"units"`
	Pairs    []pairJSON    `json:"pairs"`
	ClearZ   *Length       `json:"clear_z"`
	Proved   bool          `json:"proved"`
	Programs []programJSON `json:"programs"`
	Plan     *planJSON     `json:"plan"`
	Notes    []noteJSON    `json:"notes"`
}

type pairJSON struct {
	Pair int    `json:"pair"`
	Face string `json:"face"`
	Back string `json:"back"`
}

// PairJSON writes the answer of `pair --json`: the three programs, which are proved
// or there is no answer, and the plan of the run.
func PairJSON(w io.Writer, s Setup) error {
	j := pairedJSON{Schema: schema, Units: s.bedUnit().String(), Pairs: []pairJSON{}, ClearZ: lengthOf(s.ClearZ), Proved: true, Programs: programsOf(s.Programs),
		Plan: planOf(s.Plan, s.Unit), Notes: notesOf(s.Notes, s.Unit)}
	for i, p := range s.Offsets {
		j.Pairs = append(j.Pairs, pairJSON{i + 1, p[0], p[1]})
	}
	return writeJSON(w, j)
}

func programsOf(programs []Program) []programJSON {
	out := []programJSON{}
	for _, p := range programs {
		out = append(out, programJSON{p.Name, p.Role, p.From, p.Offset, p.Bytes, p.SHA256, p.Blocks, p.Moves, measured(p.Seconds), p.Tools, p.Changes})
	}
	return out
}
