package report

import (
	"bytes"
	"encoding/json"
	"math"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/fit"
	"flipcalc/report/letters"
)

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

// Note is one thing to tell.
type Note struct {
	Level string // one of package fact
	File  string // the program that it is about, "" for none
	Line  int    // of it, 0 for none
	Is    any    // a struct that words has a sentence for
}

// noteJSON is a note in words, with its code and values for machines.
type noteJSON struct {
	Code   string   `json:"code,omitempty"`
	Level  string   `json:"level"`
	File   string   `json:"file,omitempty"`
	Line   int      `json:"line,omitempty"`
	Text   string   `json:"text"`
	Values []string `json:"values,omitempty"`
}

// Budget is how far off the back can be at one point, in the setup's unit.
type Budget struct {
	At       registration.Point `json:"at"`     // in the face's as-laid frame
	Worst    Estimate           `json:"worst"`  // the sum of the limits
	Likely   Estimate           `json:"likely"` // expanded uncertainty, k = 2, at most Worst
	Terms    List[BudgetTerm]   `json:"terms"`  // the greatest first
	Dominant string             `json:"dominant,omitempty"`
	Halve    string             `json:"halve,omitempty"` // what halving the dominant term's value would give
	Web      []string           `json:"web,omitempty"`
	Notes    []Note             `json:"-"`

	Locator, Thickness decimal.Decimal `json:"-"` // how far off its place, and how much thicker or thinner
}

// BudgetTerm is one contribution, as a limit to both sides at the budget's point.
type BudgetTerm struct {
	Code   string   `json:"code"`
	Name   string   `json:"name"`
	X      Estimate `json:"x"`
	Y      Estimate `json:"y"`
	Worst  Estimate `json:"worst"`
	Sides  string   `json:"sides,omitempty"` // "face", "back", "both" for one error on both sides, or ""
	Reason string   `json:"reason,omitempty"`
}

// Place is a point in the part, found on a grid and so only as exact as it.
type Place struct {
	X Estimate `json:"x"`
	Y Estimate `json:"y"`
}

// Check is what cutting both sides in memory found. Lengths are in the setup's
// unit, areas in its square. Places are in the face program's coordinates, X and
// Y from the face zero.
type Check struct {
	Cell     Estimate         `json:"cell"`
	HasWeb   bool             `json:"-"`
	WebMin   Estimate         `json:"-"`
	WebAt    Place            `json:"-"`
	Least    *decimal.Decimal `json:"-"`       // the least web asked for
	WebLess  *Estimate        `json:"-"`       // the least web with the budget taken off
	Islands  List[Island]     `json:"islands"` // where the two sides meet and shouldn't
	Tabs     *Tabs            `json:"tabs"`    // nil where there are none
	Through  List[Through]    `json:"through"` // cuts that are meant to go through
	Loose    List[Loose]      `json:"loose"`   // parts that come loose
	Findings []Finding        `json:"-"`       // what hurts most first
	Travel   []Travel         `json:"-"`       // empty where it isn't known
	Notes    []Note           `json:"-"`       // what it rests on and what was left out
	Standing []Standing       `json:"-"`       // the locators as they were taken
	Bored    bool             `json:"-"`       // the face program cuts a plug's bore
	Indexed  bool             `json:"-"`       // and the hole of its index pin
	Blind    bool             `json:"-"`       // no outline goes through, and how many should wasn't said
}

// Island is a hole that nothing asked for.
type Island struct {
	X       Estimate `json:"x"`
	Y       Estimate `json:"y"`
	Area    Estimate `json:"area"`
	Overlap Estimate `json:"overlap"`
	Cuts
}

// Cuts are the lines of the two programs that meet, 0 for none, and their files.
type Cuts struct {
	FaceFile string `json:"face_file,omitempty"`
	FaceLine int    `json:"face_line,omitempty"`
	BackFile string `json:"back_file,omitempty"`
	BackLine int    `json:"back_line,omitempty"`
}

// Through is one cut that goes through on purpose.
type Through struct {
	Kind    string   `json:"kind"`
	Both    bool     `json:"both"` // cut from both sides
	X       Estimate `json:"x"`
	Y       Estimate `json:"y"`
	Overlap Estimate `json:"overlap"`
	Step    Estimate `json:"step"`
	Cuts
}

// Tabs are the bridges that hold parts in cuts that are meant to go through.
type Tabs struct {
	Count int      `json:"count"`
	Least Estimate `json:"least"` // height of the lowest
	Place          // on it
}

// Loose is a part of the blank that comes loose.
type Loose struct {
	X    Estimate `json:"x"`
	Y    Estimate `json:"y"`
	Area Estimate `json:"area"`
	Side string   `json:"side"`
	File string   `json:"file,omitempty"`
	Line int      `json:"line"`
}

// Finding is one thing that check found.
type Finding struct {
	Number int       `json:"number"` // from 1, in the answer
	Code   string    `json:"code"`
	Level  string    `json:"level"`          // "finding" makes the answer no; "note" does not
	Hit    bool      `json:"-"`              // the cutter or its shank runs into something it shouldn't touch
	Side   string    `json:"side,omitempty"` // "face", "back" or "both"
	*Place           // nil where it has none
	Back   *Place    `json:"back,omitempty"` // where the back's cut lies, if that is another place
	Depth  *Estimate `json:"depth,omitempty"`
	Cuts
	Text string `json:"text"`
	Do   string `json:"do,omitempty"`
}

// Travel is what is left of the travel on one axis at one station, in the
// setup's unit; below 0 it is exceeded.
type Travel struct {
	Station string   `json:"station"` // for example "G55", or "face"
	Axis    string   `json:"axis"`    // X, Y or Z
	Low     Estimate `json:"low"`
	High    Estimate `json:"high"`
	OK      bool     `json:"ok"`
	Room    Estimate `json:"-"` // left above the moves that go with the offset, by which it can be raised
}

// Standing is a locator as check takes it, in the answer's unit: the steps say the same.
type Standing struct {
	Name   string
	Pin    bool // it stands in a hole of the blank, at At on the blank face up; else a fence or a stop
	At     registration.Point
	Dia    decimal.Decimal // zero for a fence or a stop, or where it isn't known
	Height decimal.Decimal // greatest, over the seat
}

// PinFit is the verdict on a dowel or plug layout.
type PinFit struct {
	Fit       string          `json:"fit,omitempty"` // for example "H7/m6"
	Pin       decimal.Decimal `json:"pin"`
	Least     decimal.Decimal `json:"least_clearance"` // diametral; negative is interference
	Most      decimal.Decimal `json:"most_clearance"`
	Foolproof bool            `json:"foolproof"`
	Cure      string          `json:"cure,omitempty"`

	Layout   *Layout        `json:"layout,omitempty"`    // dowels: the whole pattern
	Stud     *Stud          `json:"plug,omitempty"`      // plug: its measures
	Index    *Dowel         `json:"index_pin,omitempty"` // plug: its index pin, where its hole in the bed is asked for
	Drilling List[Drilling] `json:"drilling"`
	Notes    []Note         `json:"-"`
}

// Layout is a pattern of dowels with its verdict, in the setup's unit.
type Layout struct {
	Pattern  string               `json:"pattern"`  // "line", "pair" or "given"
	Standard string               `json:"standard"` // of the pins, such as "ISO 8734 m6"
	Dowels   List[Dowel]          `json:"dowels"`
	Spacing  decimal.Decimal      `json:"spacing"`   // between the two pins farthest apart
	Strip    decimal.Decimal      `json:"strip"`     // width of the strip round the blank that the holes take
	FlipLine *decimal.Decimal     `json:"flip_line"` // from the left edge (flip y) or the near one; nil with a second station
	Edge     string               `json:"-"`         // "left" or "near"
	LayUps   []registration.LayUp `json:"-"`
	Keys     []string             `json:"-"` // a proposed pattern as pins of a job file
}

// Dowel is one pin with its holes, its place in the face's as-laid frame. Lengths
// are zero where the depth in the bed isn't known.
type Dowel struct {
	registration.Point
	Dia             decimal.Decimal `json:"dia"`
	Label           string          `json:"label"` // the size as it is ordered, such as "1/4"
	Length          decimal.Decimal `json:"length,omitzero"`
	LengthLabel     string          `json:"-"`
	LengthTolerance decimal.Decimal `json:"length_tolerance,omitzero"`
	InBlank         decimal.Decimal `json:"in_blank,omitzero"`
	InBed           decimal.Decimal `json:"in_bed,omitzero"`
	Hole            decimal.Decimal `json:"hole"`
	Least           decimal.Decimal `json:"least_clearance"` // diametral; negative is interference
	Most            decimal.Decimal `json:"most_clearance"`
}

// Stud is a plug with its measures, in the setup's unit.
type Stud struct {
	BoreDia  decimal.Decimal      `json:"bore_dia"` // nominal
	Bore     fit.Limits           `json:"bore"`     // least and greatest diameters
	Dia      fit.Limits           `json:"stud"`
	Height   decimal.Decimal      `json:"height"`   // over the shoulder
	Lead     decimal.Decimal      `json:"lead"`     // the chamfer at the stud's top
	Relief   decimal.Decimal      `json:"relief"`   // least width and depth where stud and shoulder meet
	Shoulder decimal.Decimal      `json:"shoulder"` // least diameter
	Clocking string               `json:"clocking"` // its kind
	Turn     *registration.Turn   `json:"turn"`
	Side     string               `json:"-"` // of a fence or a flat that clocks
	LayUps   []registration.LayUp `json:"-"`
	BoreAt   registration.Point   `json:"-"` // in the face's as-laid frame
	ClockPin *registration.Point  `json:"-"`
}

// Drilling is one program that drills holes for dowels or an index pin, in the setup's unit.
type Drilling struct {
	Name   string          `json:"name"`  // of its file
	Where  string          `json:"where"` // "blank", "bed", "through" or "back-bed"
	Offset string          `json:"offset"`
	Safe   decimal.Decimal `json:"safe_z"` // the Z at which the drill moves across
	Holes  List[Drilled]   `json:"holes"`
}

// Drilled is one hole in its program's coordinates.
type Drilled struct {
	Pin    int             `json:"pin"` // from 1
	X      decimal.Decimal `json:"x"`
	Y      decimal.Decimal `json:"y"`
	From   decimal.Decimal `json:"from_z"`
	Bottom decimal.Decimal `json:"to_z"`
	Dia    decimal.Decimal `json:"dia"`
	Tool   *int            `json:"tool"` // nil: no tool line is written
	Speed  decimal.Decimal `json:"speed"`
	Plunge decimal.Decimal `json:"plunge"`
	Peck   decimal.Decimal `json:"peck"`
}

// Landed is a correction after a measured mismatch.
type Landed struct {
	Measured List[Measured]           `json:"measured"`
	Shift    registration.Point       `json:"shift"` // the mean mismatch
	From     string                   `json:"from"`  // how the zero that the piece was cut with is known
	Before   *registration.SecondZero `json:"before"`
	After    *registration.SecondZero `json:"second_zero"`
	Line     string                   `json:"line,omitempty"` // the block that stores it; "" where none can
	Offsets  bool                     `json:"-"`              // the job has an offsets program, which sets the zero too
	// Turn is the rotation that two or more measurements show, in degrees,
	// counter-clockwise; nil where it can't be told or isn't clear.
	Turn *Estimate `json:"turn_degrees"`
	// Ways are the ways to correct, of which one is chosen: the zero alone first. Best is
	// the index of the one that is recommended, whose zero After is.
	Ways  List[Way] `json:"ways"`
	Best  int       `json:"best"`
	Notes []Note    `json:"-"`
}

// Way is one way to correct, with the zero that goes with it and with no other.
type Way struct {
	Do      string                   `json:"do"`                     // "" is nothing but the zero
	Program *decimal.Decimal         `json:"program_turn,omitempty"` // turn of the back programs in degrees, counter-clockwise
	Zero    *registration.SecondZero `json:"second_zero"`
	Keep    string                   `json:"corrections,omitempty"` // the line of the job that keeps it, "" where nothing changes in it
	Remains List[registration.Point] `json:"remains"`               // what it leaves at each measurement
	Most    Estimate                 `json:"most"`                  // the greatest of them
}

// Measured is where the back lay minus where it should.
type Measured struct {
	DX decimal.Decimal     `json:"dx"`
	DY decimal.Decimal     `json:"dy"`
	At *registration.Point `json:"at"`
}

// Mirrored is what the mirror did to one program.
type Mirrored struct {
	In         string        `json:"in"`
	Out        string        `json:"out"`
	Map        transform.Map `json:"transform"`
	WrittenOut bool          `json:"-"` // run and written as plain blocks: its moves are proved, not the reading of its macros
	Blocks     int64         `json:"blocks"`
	Moves      int64         `json:"moves"`
	Inserted   string        `json:"inserted_offset,omitempty"` // offset word that was added, "" if none
	Before     Motion        `json:"before"`
	After      Motion        `json:"after"`
	Notes      []Note        `json:"-"`
}

// Motion is the summary of what a program does, lengths in the setup's unit.
type Motion struct {
	Known          bool         `json:"-"`
	Least          [3]Estimate  `json:"least"` // of the cutting moves
	Greatest       [3]Estimate  `json:"greatest"`
	CutLength      Estimate     `json:"cut_length"`
	RapidLength    Estimate     `json:"rapid_length"`
	Seconds        Estimate     `json:"seconds"`
	Tools          List[int]    `json:"tools"`
	Offsets        List[string] `json:"offsets"`
	Spindles       List[string] `json:"spindles"` // senses while cutting: M3, M4 or M5
	From           [3]Estimate  `json:"-"`        // of all moves, rapids too
	To             [3]Estimate  `json:"-"`
	FromOK         [3]bool      `json:"-"`                          // whether they are known
	Deepest        Estimate     `json:"deepest"`                    // cut, below the surface
	RapidsBelow    int          `json:"rapids_below_surface"`       // rapid moves below the surface
	FirstRapidLine int          `json:"first_rapid_line,omitempty"` // the first of them
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

// Plan is the order of work in a production run. Times are in seconds.
type Plan struct {
	Load   string    `json:"load,omitempty"`   // "held" or "guarded"
	Order  string    `json:"order,omitempty"`  // "tools" or "stations"
	Hidden bool      `json:"hidden,omitempty"` // loading hides behind cutting
	Pause  string    `json:"pause,omitempty"`  // "M0" or "M1" between faces and backs, or ""
	Park   string    `json:"-"`                // where the cutter stands at a pause and at the end, "" where it isn't taken aside
	Ends   [3]string `json:"-"`                // offsets over which the three programs then leave it
	Pairs  int       `json:"pairs,omitempty"`
	// TouchOffs is how often Z is touched off anew in each cycle, which no time counts.
	TouchOffs int `json:"-"`
	Parts     int `json:"parts,omitempty"` // of the batch; 0 where it isn't said

	// Tool changes of each program, of a steady cycle from the second on, and of
	// the programs run one after the other, station by station.
	FirstChanges int `json:"-"`
	Changes      int `json:"-"`
	LastChanges  int `json:"-"`
	Separate     int `json:"-"`

	FaceSeconds   Estimate `json:"face_seconds,omitempty"` // of one face, ramps included, tool changes not
	BackSeconds   Estimate `json:"back_seconds,omitempty"`
	LoadSeconds   Estimate `json:"load_seconds,omitempty"`
	ChangeSeconds Estimate `json:"change_seconds,omitempty"`
	SetupSeconds  Estimate `json:"setup_seconds,omitempty"`

	Cycles  List[Cycle] `json:"cycles"`
	Count   int         `json:"cycle_count,omitempty"` // in all; 0 where the batch isn't said
	Seconds Estimate    `json:"seconds,omitempty"`     // one steady cycle with its loading
	Finish  Estimate    `json:"finish,omitempty"`
	// BreakEven is the least batch from which on the pairs are never slower than
	// one station; 0 if they never are faster for good.
	BreakEven int         `json:"-"`
	Orders    []PlanOrder `json:"orders,omitempty"` // both orders of cutting, then one station
	Notes     []Note      `json:"-"`
}

// PlanOrder is one way of cutting, for comparison.
type PlanOrder struct {
	Name         string   `json:"name"` // "tools", "stations" or "one station"
	Chosen       bool     `json:"chosen"`
	Changes      int      `json:"tool_changes"`   // in one cycle; at one station for one part
	Machine      Estimate `json:"machine"`        // seconds that the machine takes for it
	Seconds      Estimate `json:"seconds"`        // with hands
	PerHour      Estimate `json:"parts_per_hour"` // parts
	SpindleWaits Estimate `json:"spindle_waits"`  // in one cycle
	HandsWait    Estimate `json:"hands_wait"`
	Finish       Estimate `json:"finish,omitempty"` // of the batch
}

// Cycle is one start of the machine, or a row of starts that are alike.
type Cycle struct {
	Name    string   `json:"name"`             // "first cycle", "cycles 2 to 20"
	Repeats bool     `json:"-"`                // it stands for several
	Lies    string   `json:"lies,omitempty"`   // what lies where while it runs
	Before  string   `json:"before,omitempty"` // what the operator's hands do
	Does    []string `json:"-"`                // what is done and run, one after the other
	Program string   `json:"program,omitempty"`
	Cuts    string   `json:"cuts,omitempty"`  // what the machine cuts
	Gives   string   `json:"gives,omitempty"` // what is finished
	Ends    Estimate `json:"ends,omitempty"`  // since the first hand on the first blank; 0 is unknown
}
