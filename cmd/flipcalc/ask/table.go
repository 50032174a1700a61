package ask

// Question is one row of the flag table, from which come the flags of every verb,
// their help, the man pages, the completions and the keys of a job file.
type Question struct {
	Key     string // of the job file, and the flag's name
	Short   string // the flag's letter; "" for none
	Form    string // what the value is called in help; "" for a switch
	Help    string
	Default string // as shown; "" for none
	Fenced  string // the default where a fence and a stop find the blank; "" where that is no other
	Many    bool   // may be given more than once
	Words   string // completion: words separated by blanks, or @file, @toml, @program, @offset, @key
	Verbs   string // verbs that take it, separated by blanks
	From    source // where its value is said
	Common  bool   // explained by the short help, where most are named alone

	// Of a key that the machine file alone has: its table in the file, and what reads its
	// entry into the machine.
	Table string
	into  func(*Machine, Entry) error
}

// source says where a value is said.
type source uint8

const (
	anywhere    source = iota // by a flag, or in the job file
	oneRun                    // by a flag, since it is true of one run
	jobFile                   // in the job file, since it is seldom said
	machineFile               // in the machine file, since it is true of the machine
)

// File names the file that says a value without a flag; "" where there is a flag.
func (d *Question) File() string {
	return [...]string{"", "", "the job file", "the machine file"}[d.From]
}

// Groups of verbs that share flags.
const (
	onBlank   = "origin stations pins check correct sheet prepare"
	onMirror  = onBlank + " mirror pair"
	onMachine = "origin stations pair check correct sheet prepare pins mirror"
	onBed     = "origin mirror stations pins pair check correct sheet prepare"
	all       = onMachine
)

// groups are the flags as help shows them, each flag once.
var groups = []struct {
	title string
	flags []Question
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

// Table lists every flag once, in the order in which help shows them.
var Table = func() (all []Question) {
	for _, g := range groups {
		all = append(all, g.flags...)
	}
	return all
}()

var blankFlags = []Question{
	{Key: "stock", Short: "s", Form: "WxHxT", Help: "size of the blank along X, along Y, and its thickness", Verbs: onMirror, Common: true},
	{Key: "measured", Form: "WxHxT", Help: "size of the piece in hand, used instead of --stock", Verbs: onMirror},
	{Key: "units", Short: "u", Form: "mm|in", Help: "unit of all plain lengths", Default: "mm", Words: "mm in", Verbs: all, Common: true},
	{Key: "flip", Short: "f", Form: "x|y", Help: "y: turned like a page, left edge goes right; x: near edge goes far", Words: "x y", Verbs: onMirror, Common: true},
	{Key: "register", Short: "r", Form: "KIND", Help: "how the blank is found again: dowels, plug, fence or touched", Words: "dowels plug fence touched", Verbs: onMirror, Common: true},
	{Key: "zero", Short: "z", Form: "PLACE", Help: "face zero on the blank: near-left, near-right, far-left, far-right, center, or X,Y", Default: "near-left", Words: "near-left near-right far-left far-right center", Verbs: onMirror, Common: true},
	{Key: "back-zero", Form: "PLACE", Help: "back zero on the turned blank; the face's by default", Words: "near-left near-right far-left far-right center", Verbs: onMirror},
	{Key: "z-zero", Form: "top|bed", Help: "level of the face's Z0", Default: "top", Words: "top bed", Verbs: onMirror},
	{Key: "back-z-zero", Form: "top|bed", Help: "level of the back's Z0; the face's by default", Words: "top bed", Verbs: onMirror},
	{Key: "at", Short: "a", Form: "X,Y[,Z]", Help: "face zero in machine coordinates", Verbs: onMirror, Common: true},
	{Key: "offset", Form: "OFFSET", Help: "work offset of the face", Default: "G54", Words: "@offset", Verbs: onMirror},
	{Key: "back-offset", Form: "OFFSET", Help: "work offset of the back; the first free one by default", Words: "@offset", Verbs: onMirror},
	{Key: "seat", Form: "LENGTH", Help: "height of the face station's seating plane over the bed", Default: "0", Verbs: onMirror, From: jobFile},
	{Key: "back-seat", Form: "LENGTH", Help: "height of the back station's seating plane over the bed", Default: "0", Verbs: onMirror, From: jobFile},
	{Key: "skimmed", Form: "LENGTH", Help: "what the face program takes off the whole top, at its highest place", Default: "0", Verbs: onMirror, From: jobFile},
	{Key: "touch-off", Form: "each|once", Help: "Z zero is set on each blank, or once for the run", Default: "each", Words: "each once", Verbs: onMirror, From: jobFile},
}

var locatorFlags = []Question{
	{Key: "pin", Form: "X,Y[,DIA]", Help: "a dowel, from the blank's near-left corner, face up", Many: true, Verbs: onMirror, Common: true},
	{Key: "hole", Form: "DIA", Help: "diameter of the dowel holes in the blank: one for all, or one for each dowel in their order", Many: true, Verbs: onMirror},
	{Key: "fit", Form: "FIT", Help: "fit of hole and dowel, or of bore and plug, such as H7/g6", Verbs: onMirror, Common: true},
	{Key: "back-pin", Form: "X,Y", Help: "machine place of the first dowel at a second station", Verbs: onMirror, From: jobFile},
	{Key: "drilled", Form: "face", Help: "holes were drilled through blank and bed in the face set-up", Words: "face", Verbs: onMirror, From: jobFile},
	{Key: "bore", Form: "X,Y,DIA", Help: "the bore, from the blank's near-left corner, face up", Verbs: onMirror, Common: true},
	{Key: "plug", Form: "DIA", Help: "diameter of the plug", Verbs: onMirror, Common: true},
	{Key: "plug-at", Form: "X,Y", Help: "machine place of the plug's center at the back station", Verbs: onMirror, From: jobFile},
	{Key: "clock", Form: "HOW", Help: "what keeps the blank from turning on the plug: pin=X,Y[,DIA], flat=SIDE (of the bore, face up), fence or none", Words: "pin= flat=near flat=far flat=left flat=right fence none", Verbs: onMirror, Common: true},
	{Key: "round", Help: "a round part: its turn on the plug doesn't matter", Verbs: onMirror, Common: true},
	{Key: "fence", Form: "SIDE[@C]", Help: "side where the fence stands (two contacts), with its machine coordinate", Words: "near far left right", Verbs: onMirror, Common: true},
	{Key: "stop", Form: "SIDE[@C]", Help: "side where the stop stands (one contact), across the fence", Words: "near far left right", Verbs: onMirror, Common: true},
	{Key: "back-fence", Form: "SIDE[@C]", Help: "the back station's fence; the face's by default", Words: "near far left right", Verbs: onMirror},
	{Key: "back-stop", Form: "SIDE[@C]", Help: "the back station's stop; the face's by default", Words: "near far left right", Verbs: onMirror, Common: true},
	{Key: "contacts", Form: "A,B,S", Help: "where the fence's two contacts touch, from the blank's left or near end, and the stop's, from the fence; near the ends and in the middle by default", Verbs: onMirror, From: jobFile},
	{Key: "touched", Form: "WHAT@X,Y", Help: "a touch of the turned blank, and the spindle's place then, machine coordinates: a hole's center as U,V (from the near-left corner, face up) or as face=X,Y of the face program, or an edge, back up", Many: true, Words: "near@ far@ left@ right@ face=", Verbs: onMirror},
	{Key: "finder", Form: "DIA", Help: "diameter of the finder that edges were touched with", Verbs: onMirror},
	{Key: "turn-limit", Form: "DEGREES", Help: "how well a touched blank's turn must be known", Default: "0.2", Verbs: onMirror},
}

var bedFlags = []Question{
	{Key: "machine", Short: "m", Form: "FILE", Help: "machine file: travel, bed, rates, offsets in use (default $FLIPCALC_MACHINE, then the user's configuration folder)", Words: "@toml", Verbs: onMachine, Common: true},
	{Key: "job", Short: "j", Form: "FILE", Help: "job file; a flag on the command line wins", Words: "@toml", Verbs: "origin mirror stations pins pair check correct sheet prepare", From: oneRun, Common: true},
	{Key: "travel", Form: "XxYxZ", Help: "machine travel: X 0..X, Y 0..Y, Z -Z..0", Verbs: onMachine, Common: true},
	{Key: "taken", Form: "OFFSET[=X,Y,WxH]", Help: "an offset that belongs to something else, and its place on the bed", Many: true, Words: "@offset", Verbs: onMachine},
	{Key: "no-go", Form: "X,Y,WxH[,HEIGHT]", Help: "a rectangle of the bed that nothing may enter, and how high over the bed it reaches; without a height nothing passes over it", Many: true, Verbs: onBed},
	{Key: "clamp", Form: "X,Y,WxH[,HEIGHT]", Help: "a clamp on the bed, and how high over the bed it reaches: it holds what is under it, and nothing may touch it", Many: true, Verbs: "pair check sheet prepare", From: jobFile},
	{Key: "gap", Form: "LENGTH", Help: "room for hands and clamps between stations, and beside what is taken; none beside a no-go area", Default: "30mm", Verbs: onBed},
	{Key: "fixture", Form: "LENGTH", Help: "how far a station's fixture goes beyond the blank on every side", Default: "0", Fenced: "20mm", Verbs: onBed, From: machineFile},
	{Key: "stick-out", Form: "LENGTH", Help: "stick-out of the tool that Z is touched off with, from the spindle nose to the tip", Verbs: onBed, From: jobFile},
	{Key: "lengths", Form: "whole", Help: "Z is stored with the tool's whole length in use (G43 H), from the spindle nose to the tip; the machine file's by default", Words: "whole", Verbs: onBed, From: jobFile},
	{Key: "feeler", Form: "LENGTH", Help: "thickness of the feeler or slip of paper for touching off", Verbs: "stations sheet prepare", From: machineFile},
	{Key: "pairs", Short: "p", Form: "N|max", Help: "how many pairs of a face and a back station; 0: one station, at which the blank is turned over; by default 1 for a run of parts that has a machine file and no at, else 0", Words: "0 1 2 3 max", Verbs: onBed, Common: true},
	{Key: "allow-turn", Help: "pairs may stand turned by 90 or 180 degrees where more fit so; their programs are turned with them", Verbs: onBed, From: jobFile},
}

var programFlags = []Question{
	{Key: "tool", Short: "t", Form: "N=SHAPE,D[,X]", Help: "a cutter: 1=flat,6 2=ball,3 3=vee,6,60 4=bull,6,1 5=drill,3,118", Many: true, Verbs: onBed, Common: true},
	{Key: "flute", Form: "LENGTH", Help: "flute length of the cutters", Verbs: "check sheet prepare", From: jobFile},
	{Key: "face", Form: "FILE", Help: "the face program", Words: "@program", Verbs: onBed, Common: true},
	{Key: "mirror", Form: "FILE", Help: "a program cut on the back, mirrored; those of mirror and back run in the order in which the job file names the two", Many: true, Words: "@program", Verbs: "check sheet prepare stations correct origin pins pair mirror", From: jobFile},
	{Key: "back", Form: "FILE", Help: "a program run on the back as written", Many: true, Words: "@program", Verbs: "check sheet prepare stations correct origin pins pair mirror", Common: true},
	{Key: "title", Form: "TEXT", Help: "title of the job", Verbs: onBed, From: jobFile},
}

var checkFlags = []Question{
	{Key: "web", Form: "LENGTH", Help: "least material between a face cut and a back cut", Verbs: "check sheet prepare", From: jobFile},
	{Key: "cell", Form: "LENGTH", Help: "grid cell of check; by default from the blank and the smallest cutter", Verbs: "check sheet prepare", From: jobFile},
	{Key: "pin-height", Form: "LENGTH", Help: "height of dowels and plug over the seat; by the dowels' lengths with --spoilboard, else level with the blank", Verbs: "stations pins pair check sheet prepare", From: jobFile},
	{Key: "fence-height", Form: "LENGTH", Help: "height of fence and stop over the seat; level with the blank by default", Verbs: "stations pins pair check sheet prepare", From: jobFile},
	{Key: "bed-depth", Form: "LENGTH", Help: "how deep through cuts may go into the bed or spoilboard", Default: "0.5mm", Verbs: "check sheet prepare", From: jobFile},
	{Key: "through", Form: "X,Y|COUNT", Help: "what is meant to be cut through: outlines=N,openings=M, or a place, from the blank's near-left corner, face up", Many: true, Verbs: "check sheet prepare", From: jobFile},
	{Key: "breakthrough", Form: "LENGTH", Help: "by how much cuts of both sides must pass each other to count as cut through", Default: "0.5mm", Verbs: "check sheet prepare", From: jobFile},
	{Key: "neck", Form: "LENGTH", Help: "least width of the waste that tabs hang on", Default: "3mm", Verbs: "check sheet prepare", From: jobFile},
	{Key: "held", Form: "all|X,Y", Help: "what is held down to the end: all (vacuum, tape), or a place, from the blank's near-left corner, face up; by default the part at the blank's edge, and what is under a clamp", Many: true, Words: "all", Verbs: "check sheet prepare", From: jobFile},
	{Key: "picture", Form: "FILE", Help: "picture of check, .png or .svg", Words: "@file", Verbs: "check", From: oneRun, Common: true},
}

var budgetFlags = []Question{
	{Key: "budget", Help: "print the misalignment budget", Verbs: "origin"},
	{Key: "tolerance", Form: "NAME=VALUE", Help: "a term of the misalignment budget; its clearance counts in the lay-ups too", Many: true, Verbs: "origin check sheet prepare correct pins"},
	{Key: "wood", Form: "SPECIES", Help: "wood, for its movement with moisture", Verbs: "origin check sheet prepare correct", From: jobFile},
	{Key: "moisture", Form: "PERCENT", Help: "change of moisture content between face and back", Verbs: "origin check sheet prepare correct", From: jobFile},
	{Key: "grain", Form: "x|y", Help: "the way the grain runs on the face; the longer side by default", Words: "x y", Verbs: "origin check sheet prepare correct", From: jobFile},
	{Key: "quartersawn", Help: "the board is quartersawn: it moves less across its width", Verbs: "origin check sheet prepare correct", From: jobFile},
	{Key: "point", Form: "X,Y", Help: "the point of the part for which the budget is drawn up, face up; the worst corner by default", Verbs: "origin sheet prepare correct", From: jobFile},
	{Key: "measuring", Form: "LENGTH", Help: "limit to both sides of one measured DX or DY", Default: "0.05mm", Verbs: "correct", From: jobFile},
	{Key: "landed", Form: "[N:]DX,DY[@X,Y]", Help: "the back's place minus the wanted one, back up as cut: right and away are plus", Many: true, Verbs: "correct", From: oneRun, Common: true},
	{Key: "from", Form: "X,Y[,Z]", Help: "the second zero that the measured piece was cut with; by default the computed one, with the job's corrections", Verbs: "correct", From: oneRun},
	{Key: "corrections", Form: "[N:]DX,DY[ turned DEGREES]", Help: "by what each round of correct moved the second zero and turned the back programs, with the pair before the colon; summed", Many: true, Verbs: onBed, From: jobFile},
}

var drillFlags = []Question{
	{Key: "margin", Form: "LENGTH", Help: "width of the waste margin that may take the dowels; what they need by default", Verbs: "pins", From: jobFile},
	{Key: "pattern", Form: "line|pair", Help: "line: two dowels of different diameters on the flip line; pair: two equal ones either side of it and a third on it; line by default, unless a pair would stand more than twice as far apart", Words: "line pair", Verbs: "pins", From: jobFile},
	{Key: "diameter", Form: "DIA", Help: "diameter of the dowels to propose, two for a line; the thickest that fit by default", Many: true, Verbs: "pins", From: jobFile},
	{Key: "standard", Form: "NAME", Help: "standard of the dowels: iso-8734, iso-2338, iso-2338-h8, b18.8.5m or b18.8.2; iso-8734 in mm, b18.8.2 in inches by default", Words: "iso-8734 iso-2338 iso-2338-h8 b18.8.5m b18.8.2", Verbs: "pins check sheet prepare", From: jobFile},
	{Key: "over", Form: "LENGTH", Help: "greatest depth that a program of either side cuts over a dowel or a plug", Default: "0", Verbs: "pins check sheet prepare", From: jobFile},
	{Key: "spoilboard", Form: "LENGTH", Help: "how deep holes for dowels or an index pin may go into the spoilboard", Verbs: "pins check sheet prepare", Common: true},
	{Key: "beyond", Form: "LENGTH", Help: "how far the drill goes out under the blank", Default: "0", Verbs: "pins sheet prepare", From: jobFile},
	{Key: "peck", Form: "LENGTH", Help: "depth of one peck; the drill's diameter by default", Verbs: "pins sheet prepare", From: jobFile},
	{Key: "plunge", Form: "FEED", Help: "drilling feed in units a minute", Verbs: "pins sheet prepare", From: jobFile},
	{Key: "speed", Form: "RPM", Help: "spindle speed for drilling", Verbs: "pins sheet prepare", From: jobFile},
	{Key: "safe", Form: "LENGTH", Help: "height over the blank at which the drill moves across; 10 mm or 0.4 in by default", Verbs: "pins sheet prepare", From: jobFile},
	{Key: "drill", Form: "N[=DIA]", Help: "tool number of the drill, with its diameter where there are several; the flat cutter of that diameter under --tool by default", Many: true, Verbs: "pins sheet prepare", From: jobFile},
	{Key: "tool-line", Form: "LINE", Help: "tool line of the drilling programs with # for the number, such as \"T# M6 G43 H#\", or none", Default: "T# M6", Words: "none", Verbs: "pins sheet prepare", From: machineFile},
	{Key: "cycles", Help: "write G83 instead of plain moves", Verbs: "pins sheet prepare", From: jobFile},
}

var mirrorFlags = []Question{
	{Key: "reverse-cuts", Help: "reverse the cutting chains, so that climb stays climb", Verbs: "mirror check sheet prepare", Common: true},
	{Key: "keep-offset", Help: "let the mirrored program call the face's offset", Verbs: "mirror check sheet prepare", From: jobFile},
	{Key: "map", Form: "GNN=GNN", Help: "which offset takes the place of which", Many: true, Words: "@offset", Verbs: "mirror check sheet prepare", From: jobFile},
	{Key: "centres", Form: "absolute|incremental", Help: "what I J K mean at the program's start", Default: "incremental", Words: "absolute incremental", Verbs: onBed},
	{Key: "inert", Form: "MNN,MNN", Help: "M codes that move no axis on this machine", Verbs: onBed},
	{Key: "arc-tolerance", Form: "LENGTH", Help: "largest difference of an arc's two radii", Default: "0.05mm", Verbs: onBed, From: jobFile},
	{Key: "write-out", Help: "run every program and write its moves as plain blocks, as is done with parameters", Verbs: "mirror pair check sheet prepare stations correct"},
	{Key: "stream", Help: "pass proved blocks on at once; a non-zero exit then means: discard", Verbs: "mirror"},
}

var runFlags = []Question{
	{Key: "order", Form: "tools|stations", Help: "fewest tool changes, or the idle station free for reloading", Default: "tools", Words: "tools stations", Verbs: "pair sheet prepare"},
	{Key: "load", Form: "held|guarded", Help: "load a station while the machine is held, or while it cuts behind a guard", Default: "held", Words: "held guarded", Verbs: "pair sheet prepare", From: machineFile},
	{Key: "load-time", Form: "SECONDS", Help: "time to unload and load one station", Default: "60", Verbs: "pair sheet prepare", From: machineFile},
	{Key: "parts", Form: "N", Help: "how many parts the run makes", Verbs: "pair sheet prepare", From: jobFile},
	{Key: "change-time", Form: "SECONDS", Help: "time for one tool change", Default: "30", Verbs: "pair sheet prepare", From: machineFile},
	{Key: "setup-time", Form: "SECONDS", Help: "how much longer it takes to set up the pairs than one station", Default: "0", Verbs: "pair sheet prepare", From: machineFile},
	{Key: "pause", Form: "M0|M1", Help: "stop where the maker is to act", Words: "M0 M1", Verbs: "pair sheet prepare", From: jobFile},
	{Key: "park", Form: "X,Y", Help: "machine place where the cutter stands aside while hands are at the stations; needs G53", Verbs: "pair sheet prepare", From: machineFile},
	{Key: "longest", Form: "LENGTH", Help: "stick-out of the longest tool, for the clear height", Verbs: "pair stations pins sheet prepare", From: machineFile},
	{Key: "clear", Form: "Z", Help: "machine Z above everything on the bed with the longest tool; by default from the machine file", Verbs: "pair stations pins sheet prepare", From: machineFile},
}

var outputFlags = []Question{
	{Key: "output", Short: "o", Form: "PATH", Help: "where to write; - is standard output", Words: "@file", Verbs: "mirror stations pins pair sheet prepare correct", From: oneRun, Common: true},
	{Key: "bare", Help: "add no comment line; the cautions go to standard error", Verbs: "mirror pins pair stations sheet prepare"},
	{Key: "set", Form: "KEY=VALUE", Help: "a key of the job or machine file that has no flag, for this run alone", Many: true, Words: "@key", Verbs: all, From: oneRun},
	{Key: "json", Help: "print JSON", Verbs: all, From: oneRun, Common: true},
	{Key: "ascii", Help: "draw tables in plain ASCII", Verbs: all, From: oneRun},
	{Key: "dry-run", Short: "n", Help: "write no file; say what would be written", Verbs: "mirror stations pins pair sheet prepare correct"},
	{Key: "why", Help: "print reasons and assumptions too", Verbs: all, From: oneRun, Common: true},
	{Key: "quiet", Short: "q", Help: "print the result alone: its line or lines, and nothing where it goes into files; warnings and cautions go to standard error", Verbs: all, From: oneRun, Common: true},
}
