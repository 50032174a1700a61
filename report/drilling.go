package report

import (
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// Drilling is one program that drills holes for dowels or an index pin, in the setup's unit.
type Drilling struct {
	Name   string // of its file
	Where  string // "blank", "bed", "through" or "back-bed"
	Offset string
	Holes  []Drilled
	Safe   decimal.Decimal // the Z at which the drill moves across
}

// Drilled is one hole in its program's coordinates.
type Drilled struct {
	Pin           int // from 1
	X, Y          decimal.Decimal
	From, Bottom  decimal.Decimal // Z
	Dia           decimal.Decimal
	Tool          int // -1: no tool line is written
	Speed, Plunge decimal.Decimal
	Peck          decimal.Decimal
}

// The codes of what drilling programs rest on.
const (
	DrillPeck     = "peck-assumed"   // each peck is one diameter
	DrillSafe     = "safe-assumed"   // height over the blank
	DrillClear    = "drill-clear"    // height over the surface down to which rapids go
	DrillEnd      = "drill-end"      // depths are those of the cutting end
	DrillLevel    = "drill-level"    // holes end level with the blank's underside
	DrillBeyond   = "drill-beyond"   // how far the drill goes out under the blank
	DrillSnug     = "drill-snug"     // the bed's holes have the pins' nominal diameter
	DrillWide     = "drill-wide"     // the bed's holes are as wide as the blank's
	DrillBed      = "drill-bed-z"    // Z of the bed, thickness, files: Z0 is the top of a blank
	DrillListed   = "drill-listed"   // diameter, tool: taken from the tools listed
	DrillOrder    = "drill-order"    // hold the blank, clear the bed
	DrillIndex    = "drill-index"    // a plug's index pin: no blank there, its hole cut with the bore
	DrillOdd      = "drill-odd"      // diameter, files: no drill has it, so its holes are left out
	DrillUp       = "drill-up"       // machine Z at which drills are changed
	DrillAcross   = "drill-across"   // no such height is known
	DrillUncalled = "drill-uncalled" // files that call no tool length, beside programs that do
	DrillOneTool  = "drill-one-tool" // where no length is called there is a file for each drill
)

// DrillingNote says what a drilling program rests on.
func DrillingNote(level, code string, unit transform.Unit, v ...string) Note {
	return Note{Code: code, Level: level, Values: v, Text: sayCode(drillingSentences, code, v, unit)}
}

var drillingSentences = map[string]sentence{
	DrillPeck: fixed("no --peck was given: a peck is as deep as the drill is wide (common practice)"),
	DrillSafe: func(v values, u string) string {
		return "no --safe was given: the drill moves across " + v.at(0) + " " + u + " over the blank's top (common practice); clamps must be lower"
	},
	DrillClear: func(v values, u string) string {
		return "rapids go down to " + v.at(0) + " " + u + " over the surface and never into a hole, except as the control's own cycle does"
	},
	DrillEnd:   fixed("depths are those of the drill's end: use flat-ended cutters in the bed, over a pointed hole a pin stands higher by the point and may come out at the blank's top"),
	DrillLevel: fixed("the blank's holes end level with its underside, so the drill's end doesn't enter the bed: for a pointed drill or a clean edge say how far it goes on with --beyond"),
	DrillBeyond: func(v values, u string) string {
		return "the drill goes out " + v.at(0) + " " + u + " under the blank, into what lies there"
	},
	DrillSnug: fixed("the bed's holes have the pins' nominal diameter, so that the pins stand firm; a pin that is loose in the bed lets the blank move"),
	DrillWide: fixed("drilled in one go, the bed's holes are as wide as the blank's: a pin that is loose in the bed lets the blank move"),
	DrillUncalled: func(v values, _ string) string {
		return list(v) + ": no tool length is called, but the job's programs call theirs (G43): one Z can't serve both, so have lengths called with --tool-line \"T# M6 G43 H#\", or touch off Z anew before and after drilling, on every blank"
	},
	DrillBed: func(v values, u string) string {
		return "the bed lies at Z" + v.at(0) + " in " + list(v.from(2)) + ": Z0 is the top of a blank " + v.at(1) + " " + u + " thick that lies there"
	},
	DrillListed: func(v values, u string) string {
		return "the drill of " + v.at(0) + " " + u + " is T" + v.at(1) + " of the tools listed"
	},
	DrillOrder: fixed("drill the bed's holes with nothing on the bed; drill a blank, held flat with the clamps out of the way, only while no pin stands in the bed, or the drill runs into it; all from the zeros of the programs that follow"),
	DrillIndex: fixed("drill the bed for the index pin with no blank there; cut its hole in the blank in one clamping with the bore"),
	DrillOdd: func(v values, u string) string {
		return "holes of " + v.at(0) + " " + u + " are left out of " + list(v.from(1)) + ", since no drill of that size is named: bore or mill them to it by hand, a helix with a flat cutter, from the same zero and at the dowels' places; or name the drill with --drill N=" + v.at(0)
	},
	DrillUp: func(v values, _ string) string {
		return "the drill is changed, goes to its first hole and ends at the clear height, machine Z" + v.at(0) + " (G53)"
	},
	DrillAcross:  fixed("after a tool change, and at the start, the drill goes across to its first hole at the height where it stands, then down: that height must be clear of everything; with G53 and a clear height (--longest or --clear) it goes up first"),
	DrillOneTool: fixed("no tool length is called, so each drill has programs of its own: fit the drill, touch off Z, then run them; with lengths stored and called (--tool-line \"T# M6 G43 H#\") one does for all drills"),
}

// drillingBlocks show each hole of the drilling programs.
func drillingBlocks(programs []Drilling, unit transform.Unit) []Block {
	if len(programs) == 0 {
		return nil
	}
	t := Table{Caption: "Drilling programs, " + unit.String() + ", each from its own zero", Head: []string{"File", "Offset", "Pin", "X", "Y", "From Z", "To Z", "Drill"},
		Right: []int{2, 3, 4, 5, 6}}
	for _, p := range programs {
		for i, h := range p.Holes {
			name, offset := p.Name, p.Offset
			if i > 0 {
				name, offset = "", ""
			}
			drill := h.Dia.String()
			if h.Tool >= 0 {
				drill = "T" + itoa(h.Tool) + ", " + drill
			}
			t.Rows = append(t.Rows, []string{name, offset, itoa(h.Pin), h.X.String(), h.Y.String(), h.From.String(), h.Bottom.String(), drill})
		}
	}
	return []Block{t}
}

// fitBlocks show a pattern of dowels or a plug, the programs that drill it, and
// what all that rests on.
func (s *Setup) fitBlocks(p *PinFit) []Block {
	var blocks []Block
	switch {
	case p.Layout != nil:
		blocks = s.layoutBlocks(p)
	case p.Stud != nil:
		blocks = s.studBlocks(p)
	}
	if p.Index != nil {
		blocks = append(blocks, Pairs{[][2]string{indexRow(p.Index, " "+s.Unit.String())}})
	}
	blocks = append(blocks, drillingBlocks(p.Drilling, s.Unit)...)
	for _, level := range []string{"warning", "caution", "note", "assumed"} {
		for _, n := range p.Notes {
			// What the answer rests on is told with it.
			if n.Level == level && (s.Answer == nil || !slices.ContainsFunc(s.Answer.Facts, func(f registration.Fact) bool { return f.Code == n.Code })) {
				blocks = append(blocks, notePara(n, s.Unit))
			}
		}
	}
	return blocks
}

type drilledJSON struct {
	Pin    int    `json:"pin"`
	X      Length `json:"x"`
	Y      Length `json:"y"`
	From   Length `json:"from_z"`
	Bottom Length `json:"to_z"`
	Dia    Length `json:"dia"`
	Tool   *int   `json:"tool"`
	Speed  Length `json:"speed"`
	Plunge Length `json:"plunge"`
	Peck   Length `json:"peck"`
}

type drillingJSON struct {
	Name   string        `json:"name"`
	Where  string        `json:"where"`
	Offset string        `json:"offset"`
	Safe   Length        `json:"safe_z"`
	Holes  []drilledJSON `json:"holes"`
}

func drillingOf(programs []Drilling) []drillingJSON {
	out := []drillingJSON{}
	for _, p := range programs {
		j := drillingJSON{Name: p.Name, Where: p.Where, Offset: p.Offset, Safe: Length{p.Safe}, Holes: []drilledJSON{}}
		for _, h := range p.Holes {
			e := drilledJSON{Pin: h.Pin, X: Length{h.X}, Y: Length{h.Y}, From: Length{h.From}, Bottom: Length{h.Bottom}, Dia: Length{h.Dia},
				Speed: Length{h.Speed}, Plunge: Length{h.Plunge}, Peck: Length{h.Peck}}
			if h.Tool >= 0 {
				e.Tool = &h.Tool
			}
			j.Holes = append(j.Holes, e)
		}
		out = append(out, j)
	}
	return out
}
