package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"flipcalc/mirror/plain"
)

// flagDef is one row of the flag table, from which come the flags of every verb,
// their help, the man pages, the completions and the keys of a job file.
type flagDef struct {
	name, short string
	arg         string // what the value is called in help; "" for a switch
	usage       string
	def         string // default as shown; "" for none
	many        bool   // may be given more than once
	values      string // completion: words separated by blanks, or @file, @toml, @program, @offset
	verbs       string // verbs that take it, separated by blanks
	jobOnly     bool   // a key of the job file that is no flag
}

// Groups of verbs that share flags.
const (
	onBlank   = "origin stations pins check correct sheet prepare"
	onMirror  = onBlank + " mirror pair"
	onMachine = "origin stations pair check correct sheet prepare pins mirror"
	onBed     = "origin mirror stations pins pair check correct sheet prepare"
	all       = onMachine
)

// flagGroups are the flags as help shows them, each flag once.
var flagGroups = []struct {
	title string
	flags []flagDef
}{
	{"Blank, turn and zeros", blankFlags},
	{"Locators", locatorFlags},
	{"Machine and stations", bedFlags},
	{"Programs and tools", programFlags},
	{"Check", checkFlags},
	{"Misalignment", budgetFlags},
	{"Dowel holes", drillFlags},
	{"Mirroring", mirrorFlags},
	{"Production run", runFlags},
	{"Output", outputFlags},
}

// flagTable lists every flag once, in the order in which help shows them.
var flagTable = func() (all []flagDef) {
	for _, g := range flagGroups {
		all = append(all, g.flags...)
	}
	return all
}()

var blankFlags = []flagDef{
	{name: "stock", short: "s", arg: "WxHxT", usage: "size of the blank along X, along Y, and its thickness", verbs: onMirror},
	{name: "measured", arg: "WxHxT", usage: "size of the piece in hand, used instead of --stock", verbs: onMirror},
	{name: "units", short: "u", arg: "mm|in", usage: "unit of all plain lengths", def: "mm", values: "mm in", verbs: all},
	{name: "flip", short: "f", arg: "x|y", usage: "y: turned like a page, left edge goes right; x: near edge goes far", values: "x y", verbs: onMirror},
	{name: "register", short: "r", arg: "KIND", usage: "how the blank is found again: dowels, plug, fence or touched", values: "dowels plug fence touched", verbs: onMirror},
	{name: "zero", short: "z", arg: "PLACE", usage: "face zero on the blank: near-left, near-right, far-left, far-right, center, or X,Y", def: "near-left", values: "near-left near-right far-left far-right center", verbs: onMirror},
	{name: "back-zero", arg: "PLACE", usage: "back zero on the turned blank; the face's by default", values: "near-left near-right far-left far-right center", verbs: onMirror},
	{name: "z-zero", arg: "top|bed", usage: "level of the face's Z0", def: "top", values: "top bed", verbs: onMirror},
	{name: "back-z-zero", arg: "top|bed", usage: "level of the back's Z0; the face's by default", values: "top bed", verbs: onMirror},
	{name: "at", short: "a", arg: "X,Y[,Z]", usage: "face zero in machine coordinates", verbs: onMirror},
	{name: "offset", arg: "OFFSET", usage: "work offset of the face", def: "G54", values: "@offset", verbs: onMirror},
	{name: "back-offset", arg: "OFFSET", usage: "work offset of the back; the first free one by default", values: "@offset", verbs: onMirror},
	{name: "seat", arg: "LENGTH", usage: "height of the face station's seating plane over the bed", def: "0", verbs: onMirror},
	{name: "back-seat", arg: "LENGTH", usage: "height of the back station's seating plane over the bed", def: "0", verbs: onMirror},
	{name: "skimmed", arg: "LENGTH", usage: "what the face program takes off the whole top", def: "0", verbs: onMirror},
	{name: "touch-off", arg: "each|once", usage: "Z zero is set on each blank, or once for the run", def: "each", values: "each once", verbs: onMirror},
}

var locatorFlags = []flagDef{
	{name: "pin", arg: "X,Y[,DIA]", usage: "a dowel, seen from the face, from the blank's near-left corner", many: true, verbs: onMirror},
	{name: "hole", arg: "DIA", usage: "diameter of the dowel holes in the blank: one for all, or one for each dowel in their order", many: true, verbs: onMirror},
	{name: "fit", arg: "FIT", usage: "fit of hole and dowel, such as H7/g6", verbs: onMirror},
	{name: "back-pin", arg: "X,Y", usage: "machine place of the first dowel at a second station", verbs: onMirror},
	{name: "drilled", arg: "face", usage: "holes were drilled through blank and bed in the face set-up", values: "face", verbs: onMirror},
	{name: "bore", arg: "X,Y,DIA", usage: "the bore, seen from the face, from the blank's near-left corner", verbs: onMirror},
	{name: "plug", arg: "DIA", usage: "diameter of the plug", verbs: onMirror},
	{name: "plug-at", arg: "X,Y", usage: "machine place of the plug's centre at the back station", verbs: onMirror},
	{name: "clock", arg: "HOW", usage: "what keeps the blank from turning on the plug: pin=X,Y[,DIA], flat=SIDE (of the bore, seen from the face), fence or none", values: "pin= flat=near flat=far flat=left flat=right fence none", verbs: onMirror},
	{name: "round", usage: "a round part: its turn on the plug doesn't matter", verbs: onMirror},
	{name: "fence", arg: "SIDE[@C]", usage: "side where the fence stands (two contacts), with its machine coordinate", values: "near far left right", verbs: onMirror},
	{name: "stop", arg: "SIDE[@C]", usage: "side where the stop stands (one contact), across the fence", values: "near far left right", verbs: onMirror},
	{name: "back-fence", arg: "SIDE[@C]", usage: "the back station's fence; the face's by default", values: "near far left right", verbs: onMirror},
	{name: "back-stop", arg: "SIDE[@C]", usage: "the back station's stop; the face's by default", values: "near far left right", verbs: onMirror},
	{name: "contacts", arg: "A,B,S", usage: "where the fence's two contacts touch, from the blank's left or near end, and the stop's, from the fence; near the ends and in the middle by default", verbs: onMirror},
	{name: "touched", arg: "WHAT@X,Y", usage: "a touch of the turned blank, and where the spindle stood, in machine coordinates: a hole's centre as U,V (seen from the face, from the blank's near-left corner) or face=X,Y (as the face program made it), or an edge as it now lies", many: true, values: "near@ far@ left@ right@ face=", verbs: onMirror},
	{name: "finder", arg: "DIA", usage: "diameter of the finder that edges were touched with", verbs: onMirror},
	{name: "turn-limit", arg: "DEGREES", usage: "how well a touched blank's turn must be known", def: "0.2", verbs: onMirror},
}

var bedFlags = []flagDef{
	{name: "machine", short: "m", arg: "FILE", usage: "machine file: travel, bed, rates, offsets in use (default $FLIPCALC_MACHINE, then the user's configuration folder)", values: "@toml", verbs: onMachine},
	{name: "job", short: "j", arg: "FILE", usage: "job file; a flag on the command line wins", values: "@toml", verbs: "origin mirror stations pins pair check correct sheet prepare"},
	{name: "travel", arg: "XxYxZ", usage: "machine travel: X 0..X, Y 0..Y, Z -Z..0", verbs: onMachine},
	{name: "taken", arg: "OFFSET[=X,Y,WxH]", usage: "an offset that belongs to something else, and its place on the bed", many: true, values: "@offset", verbs: onMachine},
	{name: "no-go", arg: "X,Y,WxH[,HEIGHT]", usage: "a rectangle of the bed that nothing may enter, and how high over the bed it reaches; without a height nothing passes over it", many: true, verbs: onBed},
	{name: "clamp", arg: "X,Y,WxH[,HEIGHT]", usage: "a clamp on the bed, and how high over the bed it reaches: it holds what lies under it, and nothing may touch it", many: true, verbs: "pair check sheet prepare"},
	{name: "gap", arg: "LENGTH", usage: "room for hands and clamps between stations, and beside what is taken; none beside a no-go area", def: "30mm", verbs: onBed},
	{name: "fixture", arg: "LENGTH", usage: "how far a station's fixture goes beyond the blank on every side; 20 mm for a fence and stop, else 0", verbs: onBed},
	{name: "stick-out", arg: "LENGTH", usage: "stick-out of the tool that Z is touched off with, from the spindle nose to the tip", verbs: onBed},
	{name: "lengths", arg: "whole", usage: "Z is stored with the tool's whole length in use (G43 H), from the spindle nose to the tip; as the machine file's lengths by default", values: "whole", verbs: onBed},
	{name: "feeler", arg: "LENGTH", usage: "thickness of the feeler or slip of paper for touching off", verbs: "stations sheet prepare"},
	{name: "pairs", short: "p", arg: "N|max", usage: "how many pairs of a face and a back station; 0: one station, at which the blank is turned over; by default 1 for a run of parts, else 0", values: "0 1 2 3 max", verbs: onBed},
	{name: "allow-turn", usage: "a station may be turned by 90 degrees; it then needs its own program", verbs: "stations pair sheet prepare"},
}

var programFlags = []flagDef{
	{name: "tool", short: "t", arg: "N=SHAPE,D[,X]", usage: "a cutter: 1=flat,6 2=ball,3 3=vee,6,60 4=bull,6,1 5=drill,3,118", many: true, verbs: onBed},
	{name: "flute", arg: "LENGTH", usage: "flute length of the cutters", verbs: "check sheet prepare"},
	{name: "face", arg: "FILE", usage: "the face program", values: "@program", verbs: onBed},
	{name: "mirror", arg: "FILE", usage: "a program cut on the back, mirrored; those of mirror and back run in the order in which the job file names the two", many: true, values: "@program", verbs: "check sheet prepare stations correct origin pins pair mirror", jobOnly: true},
	{name: "back", arg: "FILE", usage: "a program run on the back as written", many: true, values: "@program", verbs: "check sheet prepare stations correct origin pins pair mirror"},
	{name: "title", arg: "TEXT", usage: "title of the job", verbs: onBed},
}

var checkFlags = []flagDef{
	{name: "web", arg: "LENGTH", usage: "least material between a face cut and a back cut", verbs: "check sheet prepare"},
	{name: "cell", arg: "LENGTH", usage: "grid cell of check; by default from the blank and the smallest cutter", verbs: "check sheet prepare"},
	{name: "pin-height", arg: "LENGTH", usage: "how high pins and plug stand over the bed; as the dowels' lengths say where --spoilboard is given, else level with the blank", verbs: "check sheet prepare"},
	{name: "fence-height", arg: "LENGTH", usage: "how high fence and stop stand over the bed; level with the blank by default", verbs: "check sheet prepare"},
	{name: "bed-depth", arg: "LENGTH", usage: "how deep through cuts may go into the bed or spoilboard", def: "0.5mm", verbs: "check sheet prepare"},
	{name: "through", arg: "X,Y|COUNT", usage: "what is meant to be cut through: outlines=N,openings=M, or a place, seen from the face, from the blank's near-left corner", many: true, verbs: "check sheet prepare"},
	{name: "breakthrough", arg: "LENGTH", usage: "by how much cuts of both sides must pass each other to count as cut through", def: "0.5mm", verbs: "check sheet prepare", jobOnly: true},
	{name: "neck", arg: "LENGTH", usage: "least width of the waste that tabs hang on", def: "3mm", verbs: "check sheet prepare", jobOnly: true},
	{name: "held", arg: "all|X,Y", usage: "what is held down to the end: all (vacuum, tape), or a place on the blank, seen from the face, from its near-left corner; by default the part at the blank's edge, and what lies under a clamp", many: true, values: "all", verbs: "check sheet prepare"},
	{name: "picture", arg: "FILE", usage: "picture of check, .png or .svg", values: "@file", verbs: "check"},
}

var budgetFlags = []flagDef{
	{name: "budget", usage: "print the misalignment budget", verbs: "origin"},
	{name: "tolerance", arg: "NAME=VALUE", usage: "a term of the misalignment budget; its clearance counts in the lay-ups too", many: true, verbs: "origin check sheet prepare correct pins"},
	{name: "wood", arg: "SPECIES", usage: "wood, for its movement with moisture", verbs: "origin check sheet prepare correct"},
	{name: "moisture", arg: "PERCENT", usage: "change of moisture content between face and back", verbs: "origin check sheet prepare correct"},
	{name: "grain", arg: "x|y", usage: "the way the grain runs on the face; the longer side by default", values: "x y", verbs: "origin check sheet prepare correct"},
	{name: "quartersawn", usage: "the board is quartersawn: it moves less across its width", verbs: "origin check sheet prepare correct"},
	{name: "point", arg: "X,Y", usage: "the point of the part, seen from the face, for which the budget is drawn up; the worst corner by default", verbs: "origin sheet prepare correct"},
	{name: "measuring", arg: "LENGTH", usage: "limit to both sides of one measured DX or DY", def: "0.05mm", verbs: "correct"},
	{name: "landed", arg: "[N:]DX,DY[@X,Y]", usage: "where the back lies minus where it should, looking at the back as it lay on the machine", many: true, verbs: "correct"},
	{name: "from", arg: "X,Y[,Z]", usage: "the second zero that the measured piece was cut with; the reckoned one, corrections of the job in it, by default", verbs: "correct"},
	{name: "corrections", arg: "[N:]DX,DY", usage: "by what each round of correct moved the second zero, with the pair before the colon; summed", many: true, verbs: onBed, jobOnly: true},
}

var drillFlags = []flagDef{
	{name: "margin", arg: "LENGTH", usage: "width of the waste margin that may take the dowels; what they need by default", verbs: "pins"},
	{name: "pattern", arg: "line|pair", usage: "line: two dowels of different diameters on the flip line; pair: two equal ones either side of it and a third on it; line by default, unless a pair would stand more than twice as far apart", values: "line pair", verbs: "pins"},
	{name: "diameter", arg: "DIA", usage: "diameter of the dowels to propose, two for a line; the thickest that fit by default", many: true, verbs: "pins"},
	{name: "standard", arg: "NAME", usage: "standard of the dowels: iso-8734, iso-2338, iso-2338-h8, b18.8.5m or b18.8.2; iso-8734 in mm, b18.8.2 in inches by default", values: "iso-8734 iso-2338 iso-2338-h8 b18.8.5m b18.8.2", verbs: "pins check sheet prepare"},
	{name: "over", arg: "LENGTH", usage: "greatest depth that a program of either side cuts over a dowel or a plug", def: "0", verbs: "pins check sheet prepare"},
	{name: "spoilboard", arg: "LENGTH", usage: "how deep holes for dowels or an index pin may go into the spoilboard", verbs: "pins check sheet prepare"},
	{name: "beyond", arg: "LENGTH", usage: "how far the drill goes out under the blank", def: "0", verbs: "pins sheet prepare"},
	{name: "peck", arg: "LENGTH", usage: "depth of one peck; the drill's diameter by default", verbs: "pins sheet prepare"},
	{name: "plunge", arg: "FEED", usage: "drilling feed in units a minute", verbs: "pins sheet prepare"},
	{name: "speed", arg: "RPM", usage: "spindle speed for drilling", verbs: "pins sheet prepare"},
	{name: "safe", arg: "LENGTH", usage: "height over the blank at which the drill moves across; 10 mm or 0.4 in by default", verbs: "pins sheet prepare"},
	{name: "drill", arg: "N[=DIA]", usage: "tool number of the drill, with its diameter where there are several; the flat cutter of that diameter under --tool by default", many: true, verbs: "pins sheet prepare"},
	{name: "tool-line", arg: "LINE", usage: "tool line of the drilling programs with # for the number, such as \"T# M6 G43 H#\", or none", def: "T# M6", values: "none", verbs: "pins sheet prepare"},
	{name: "cycles", usage: "write G83 instead of plain moves", verbs: "pins sheet prepare"},
}

var mirrorFlags = []flagDef{
	{name: "reverse-cuts", usage: "reverse the cutting chains, so that climb stays climb", verbs: "mirror check sheet prepare"},
	{name: "keep-offset", usage: "let the mirrored program call the face's offset", verbs: "mirror check sheet prepare"},
	{name: "map", arg: "GNN=GNN", usage: "which offset takes the place of which", many: true, values: "@offset", verbs: "mirror check sheet prepare"},
	{name: "centres", arg: "absolute|incremental", usage: "what I J K mean at the program's start", def: "incremental", values: "absolute incremental", verbs: onBed},
	{name: "inert", arg: "MNN,MNN", usage: "M codes that move no axis on this machine", verbs: onBed},
	{name: "arc-tolerance", arg: "LENGTH", usage: "largest difference of an arc's two radii", def: "0.05mm", verbs: onBed},
	{name: "write-out", usage: "run every program and write its moves as plain blocks, as is done with parameters", verbs: "mirror pair check sheet prepare stations correct"},
	{name: "stream", usage: "pass proved blocks on at once; a non-zero exit then means: discard", verbs: "mirror"},
}

var runFlags = []flagDef{
	{name: "order", arg: "tools|stations", usage: "fewest tool changes, or the idle station free for reloading", def: "tools", values: "tools stations", verbs: "pair sheet prepare"},
	{name: "load", arg: "held|guarded", usage: "load a station while the machine is held, or while it cuts behind a guard", def: "held", values: "held guarded", verbs: "pair sheet prepare"},
	{name: "load-time", arg: "SECONDS", usage: "time to unload and load one station", def: "60", verbs: "pair sheet prepare"},
	{name: "parts", arg: "N", usage: "how many parts the run makes", verbs: "pair sheet prepare"},
	{name: "change-time", arg: "SECONDS", usage: "time for one tool change", def: "30", verbs: "pair sheet prepare"},
	{name: "setup-time", arg: "SECONDS", usage: "how much longer it takes to set up the pairs than one station", def: "0", verbs: "pair sheet prepare"},
	{name: "pause", arg: "M0|M1", usage: "stop where the maker is to act", values: "M0 M1", verbs: "pair sheet prepare"},
	{name: "park", arg: "X,Y", usage: "machine place where the cutter stands aside while hands are at the stations; needs G53; as the machine file's park by default", verbs: "pair sheet prepare"},
	{name: "longest", arg: "LENGTH", usage: "stick-out of the longest tool, for the clear height", verbs: "pair stations pins sheet prepare"},
	{name: "clear", arg: "Z", usage: "machine Z above everything on the bed with the longest tool; reckoned from the machine file otherwise", verbs: "pair stations pins sheet prepare"},
}

var outputFlags = []flagDef{
	{name: "output", short: "o", arg: "PATH", usage: "where to write; - is standard output", values: "@file", verbs: "mirror stations pins pair sheet prepare"},
	{name: "bare", usage: "add no comment line; the cautions go to standard error", verbs: "mirror pins pair stations sheet prepare"},
	{name: "json", usage: "print JSON", verbs: all},
	{name: "ascii", usage: "draw tables in plain ASCII", verbs: all},
	{name: "dry-run", short: "n", usage: "write no file; say what would be written", verbs: "mirror stations pins pair sheet prepare"},
	{name: "why", usage: "print reasons and assumptions too", verbs: all},
	{name: "quiet", short: "q", usage: "print the result alone: its line or lines, and nothing where it goes into files; warnings and cautions go to standard error", verbs: all},
}

// value is a flag's value with the place where it was given.
type value struct {
	def   *flagDef
	vals  []string
	where string // "--stock", or "job.toml:7:9: stock"
	job   bool   // it came from a job file
	line  int    // of the job file
}

// String gives the last value; part of pflag.Value.
func (v *value) String() string {
	if len(v.vals) == 0 {
		return ""
	}
	return v.vals[len(v.vals)-1]
}

// Set takes a value from the command line; part of pflag.Value.
func (v *value) Set(s string) error {
	if !v.def.many {
		v.vals = nil // the last one counts, so that an alias can be overruled
	}
	if v.def.arg == "" && s != "true" && s != "false" {
		return fmt.Errorf("a switch that takes no value")
	}
	v.vals = append(v.vals, s)
	return nil
}

// Type names the value in help; part of pflag.Value.
func (v *value) Type() string { return v.def.arg }

// call is one run of one verb: its flags and its operands.
type call struct {
	verb     *verb
	tree     *tree
	flags    map[string]*value
	operands []string
	in       io.Reader
	out, err io.Writer
	jobFile  string
	// machineAt says where the keys of the machine were given.
	machineAt map[string]string
	kept      map[string]*io.SectionReader // programs that are read more than once
	plain     map[string]*plain.Report     // those that were written out
	written   bool                         // files are in their places
}

// newFlags gives the verb's flags out of the table.
func newFlags(verbName string) (*pflag.FlagSet, map[string]*value) {
	fs := pflag.NewFlagSet(verbName, pflag.ContinueOnError)
	fs.SetOutput(io.Discard)
	fs.SortFlags = false
	fs.Usage = func() {}
	m := map[string]*value{}
	for i := range flagTable {
		d := &flagTable[i]
		if !d.takenBy(verbName) {
			continue
		}
		v := &value{def: d, where: "--" + d.name}
		m[d.name] = v
		if d.jobOnly {
			continue
		}
		f := fs.VarPF(v, d.name, d.short, d.shown())
		if d.arg == "" {
			f.NoOptDefVal = "true"
		}
	}
	return fs, m
}

// findFlag finds a flag's row by its name; nil where there is none.
func findFlag(name string) *flagDef {
	for i := range flagTable {
		if flagTable[i].name == name {
			return &flagTable[i]
		}
	}
	return nil
}

// shown is the flag's line of help.
func (d *flagDef) shown() string {
	s := d.usage
	if d.def != "" {
		s += fmt.Sprintf(" (default %s)", d.def)
	}
	if d.many {
		s += "; repeatable"
	}
	return s
}

// takenBy reports whether a verb takes the flag.
func (d *flagDef) takenBy(verbName string) bool {
	for _, v := range strings.Fields(d.verbs) {
		if v == verbName {
			return true
		}
	}
	return false
}

// given reports whether the flag was given, on the command line or in the job.
func (c *call) given(name string) bool {
	v := c.flags[name]
	return v != nil && len(v.vals) > 0
}

// text gives a flag's value, or the table's default.
func (c *call) text(name string) string {
	v := c.flags[name]
	if v == nil {
		return ""
	}
	if len(v.vals) == 0 {
		return v.def.def
	}
	return v.String()
}

// texts gives all values of a flag that may be given more than once.
func (c *call) texts(name string) []string {
	if v := c.flags[name]; v != nil {
		return v.vals
	}
	return nil
}

// on reports whether a switch is set.
func (c *call) on(name string) bool { return c.text(name) == "true" }

// where says where a flag's value was given, for messages.
func (c *call) where(name string) string {
	if v := c.flags[name]; v != nil {
		return v.where
	}
	return "--" + name
}
