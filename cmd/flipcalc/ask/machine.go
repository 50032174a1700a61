package ask

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
)

// Machine is the machine as the flags and its file describe it.
type Machine struct {
	bed.Machine
	Path  string            // the file, "" if there is none
	where map[string]string // file position of each key, by the name that bed.Machine's faults use
	Known bool              // travel is known
	Inert []int             // M codes that move no axis
	Whole bool              // Z is stored with whole tool lengths in use
	Areas []bed.Area        // what stands on the bed without an offset, in the machine's unit
}

// machineTable lists the keys of a machine file, from which come what is accepted and
// the manual page.
var machineTable = []fileKey{
	{"", "name", "text", "what the machine is called"},
	{"", "units", "mm or in", "unit of all plain lengths of this file (default mm)"},
	{"", "bed", "\"X,Y,WxH\"", "what may be used of the bed; all of the travel by default"},
	{"", "table", "length", "the machine Z at which the bare spindle nose would meet the table"},
	{"", "no-go", "\"X,Y,WxH[,HEIGHT]\", or a list of these", "what stands on the bed and has no offset, such as a vice, and how high over the bed it reaches: nothing may enter it"},
	{"", "home", "[X, Y]", "where the machine rests; the least X and Y by default"},
	{"", "park", "[X, Y]", "where the merged programs leave the tool while hands are at the stations, machine coordinates; needs g53"},
	{"", "tool-change", "[X, Y]", "where the control changes tools, machine coordinates; where the cutter stands by default"},
	{"", "g10", "true or false", "whether the control takes G10 L2, so that a program can set the offsets (default true)"},
	{"", "inert", "\"M25,M51\"", "M codes that move no axis, so that programs with them can be mirrored"},
	{"", "lengths", "whole", "Z is stored in the offsets with the tool's whole length in use (G43 H), from the spindle nose to the tip; without it no Z is stored for programs that call lengths"},
	{"", "g53", "true or false", "whether it takes moves in machine coordinates (default true)"},
	{"", "extended", "true or false", "whether it has G59.1 to G59.3 (default false)"},
	{"travel", "x", "[least, greatest]", "machine coordinates of the ends of X; required"},
	{"travel", "y", "[least, greatest]", "of Y; required"},
	{"travel", "z", "[least, greatest]", "of Z; required"},
	{"rapid", "x", "number", "rapid rate of X, units a minute"},
	{"rapid", "y", "number", "of Y"},
	{"rapid", "z", "number", "of Z"},
	{"acceleration", "x", "number", "acceleration of X, units a second squared"},
	{"acceleration", "y", "number", "of Y"},
	{"acceleration", "z", "number", "of Z"},
	{"offset", "name", "G54 to G59.3", "the offset that is taken"},
	{"offset", "for", "text", "what stands there"},
	{"offset", "job", "text", "the job whose own station it is; stations prints such entries"},
	{"offset", "zero", "[X, Y] or [X, Y, Z]", "what is stored in it, machine coordinates"},
	{"offset", "rectangle", "\"X,Y,WxH\"", "the part of the bed that it occupies"},
	{"offset", "tool", "whole number", "the tool that Z was touched off with"},
	{"offset", "stick-out", "length", "that tool's stick-out, from the spindle nose to the tip"},
}

// machineKeys names the keys of a table; none where there is no such table.
func machineKeys(table string) (names []string) {
	for _, k := range machineTable {
		if k.table == table {
			names = append(names, k.Name)
		}
	}
	return names
}

// MachinePath finds the machine file: the flag or job key, $FLIPCALC_MACHINE, then
// the user's configuration folder. A relative $XDG_CONFIG_HOME is not used, as
// the XDG base directory specification says. asked is what asked for the file, "" for
// the configuration folder.
func (c *Ask) MachinePath() (path, asked string) {
	if c.Given("machine") {
		return c.Text("machine"), c.Where("machine")
	}
	if p := os.Getenv("FLIPCALC_MACHINE"); p != "" {
		return p, "$FLIPCALC_MACHINE"
	}
	dir, err := os.UserConfigDir()
	if err != nil || !filepath.IsAbs(dir) {
		return "", ""
	}
	return filepath.Join(dir, "flipcalc", "machine.toml"), ""
}

// Machine reads the machine file, where there is one, and the flags that say more
// of the machine.
func (c *Ask) Machine() (*Machine, error) {
	u, err := c.Unit()
	if err != nil {
		return nil, err
	}
	m := &Machine{Machine: bed.Machine{Unit: u, G10: true, G53: true}, where: map[string]string{}}
	if path, asked := c.MachinePath(); path != "" {
		_, err := os.Stat(path)
		switch {
		case err == nil:
			if err := m.readFile(c, path); err != nil {
				return nil, err
			}
		case asked != "" || !errors.Is(err, os.ErrNotExist):
			return nil, Wrong(asked, Message(err), "a machine file", "'flipcalc help machine' shows one")
		}
	}
	c.machineAt = m.where
	if err := m.takeFlags(c); err != nil {
		return nil, err
	}
	return m, nil
}

// readFile reads the machine file, strictly. Every fault of it is told, in the file's
// order.
func (m *Machine) readFile(c *Ask, path string) error {
	entries, err := ReadTOML(path)
	if err != nil {
		return err
	}
	m.Path, m.Unit = path, transform.MM
	var list []error
	// Units come first, whatever their place in the file.
	for _, e := range entries {
		if e.Table == "" && e.Key == "units" && e.fault == nil {
			u, err := registration.ParseUnit(strings.Join(e.Values, ","))
			if err == nil {
				m.Unit = u
			}
		}
	}
	for _, e := range entries {
		keys := machineKeys(e.Table)
		switch {
		case len(keys) == 0 && e.Key == "":
			list = append(list, Wrong(e.where, "["+e.Table+"]: no such table", "[travel], [rapid], [acceleration] or [[offset]]", ""))
		case len(keys) == 0: // told at the table's head
		case e.Key == "":
			if e.Table == "offset" {
				m.InUse = append(m.InUse, bed.InUse{})
			}
		case e.fault != nil:
			list = append(list, e.fault)
		case e.Table == "" && Find(e.Key) != nil && Find(e.Key).From == machineFile && !slices.Contains(keys, e.Key):
			if err := c.takeOwn(e, m.Unit); err != nil {
				list = append(list, err)
			}
		case !slices.Contains(keys, e.Key):
			hint := "keys here: " + strings.Join(keys, ", ")
			if near := Nearest(e.Key, append(ownKeys(), keys...)); near != "" {
				hint = "did you mean " + near + "?"
			}
			list = append(list, Wrong(e.where, e.Key+": no such key", "", hint))
		default:
			if err := m.takeEntry(e); err != nil {
				list = append(list, registration.About(err, e.where+": "+e.Key))
			}
		}
	}
	for _, axis := range machineKeys("travel") {
		if m.where["travel."+axis] == "" {
			list = append(list, Wrong(path, "no travel."+axis, "the machine's travel", fmt.Sprintf("add [travel] with %s = [least, greatest]", axis)))
		}
	}
	if len(list) > 0 {
		return Together(list)
	}
	m.Known = true
	for _, f := range m.Faults() {
		list = append(list, m.PlacedFault(f))
	}
	return Together(list)
}

// takeOwn takes a key of the machine file that is a row of the table of questions, unless
// this run sets it otherwise. A plain length is in the machine's unit.
func (c *Ask) takeOwn(e Entry, u transform.Unit) error {
	d := Find(e.Key)
	where := e.where + ": " + e.Key
	switch {
	case e.List:
		return Wrong(where, "a list", "one value", "")
	case e.Kind == "switch":
		return Wrong(where, strings.Join(e.Values, ","), d.Form, "")
	}
	text := e.Values[0]
	if err := d.valueFault(where, e.Values, u); err != nil {
		return err
	}
	if unit, err := c.Unit(); err == nil && unit != u && strings.HasPrefix(d.form().says, "a length") {
		// Rounded up to what is finite in the call's unit: more room, a longer tool, higher.
		length, err := registration.ParseLength(text, u)
		if err != nil {
			return fault.About(err, where)
		}
		length, exact := transform.Convert(length, u, unit, 12)
		if !exact {
			length = length.RoundCeil(6)
		}
		text = length.String()
	}
	if v := c.flags[d.Key]; v != nil && (len(v.vals) == 0 || v.job) {
		v.vals, v.where, v.job = []string{text}, where, true
	}
	return nil
}

// PlacedFault puts a fault of the machine's data at its place in the file.
func (m *Machine) PlacedFault(f *registration.Error) error {
	about := f.About
	for about != "" && m.where[about] == "" {
		i := strings.LastIndexAny(about, ". ")
		about = about[:max(i, 0)]
	}
	placed := *f
	if about != "" {
		placed.About = m.where[about]
	} else {
		placed.About = m.Path + ": " + f.About
	}
	return &placed
}

// takeEntry reads one key of the machine file.
func (m *Machine) takeEntry(e Entry) error {
	text := strings.Join(e.Values, ",")
	name := e.Key
	if e.Table != "" {
		name = e.Table + "." + e.Key
	}
	var u *bed.InUse
	if e.Table == "offset" {
		u = &m.InUse[len(m.InUse)-1]
		name = "offset." + u.Offset + "." + e.Key
	}
	m.where[name] = e.where + ": " + e.Key
	length := func() (*decimal.Decimal, error) {
		d, err := registration.ParseLength(text, m.Unit)
		return &d, err
	}
	turn := func(to *bool) error {
		if e.Kind != "switch" || e.List {
			return &registration.Error{Found: text, Expected: "true or false"}
		}
		*to = text == "true"
		return nil
	}
	var err error
	axis := strings.Index("xyz", e.Key)
	switch {
	case e.Table == "travel":
		var r bed.Range
		r, err = parseRange(e, m.Unit)
		*[]*bed.Range{&m.X, &m.Y, &m.Z}[axis] = r
	case e.Table == "rapid":
		m.Rapid[axis], err = length()
	case e.Table == "acceleration":
		m.Acceleration[axis], err = length()
	case e.Table == "offset":
		switch e.Key {
		case "name":
			u.Offset = strings.ToUpper(text)
			m.where["offset."+u.Offset] = e.where
		case "for":
			u.For = text
		case "job":
			u.Job = text
		case "zero":
			var p registration.Position
			p, err = registration.ParsePosition(text, m.Unit)
			u.X, u.Y, u.Z = &p.X, &p.Y, p.Z
		case "rectangle":
			u.Rect, err = ParseRect(text, m.Unit)
		case "tool":
			var n int
			n, err = strconv.Atoi(text)
			if err != nil {
				return &registration.Error{Found: text, Expected: "a tool number"}
			}
			u.Tool = &n
		case "stick-out":
			u.StickOut, err = length()
		}
	case e.Key == "units": // read before all others
		_, err = ParseUnit(text)
	case e.Key == "name":
		m.Name = text
	case e.Key == "bed":
		m.Bed, err = ParseRect(text, m.Unit)
	case e.Key == "table":
		m.Table, err = length()
	case e.Key == "no-go":
		for _, s := range e.Values {
			var a bed.Area
			if a, err = ParseArea(s, m.Unit); err != nil {
				break
			}
			m.Areas = append(m.Areas, a)
		}
	case e.Key == "home":
		var p registration.Point
		p, err = registration.ParsePoint(text, m.Unit)
		m.Home = &p
	case e.Key == "park":
		var p registration.Point
		p, err = registration.ParsePoint(text, m.Unit)
		m.Park = &p
	case e.Key == "tool-change":
		var p registration.Point
		p, err = registration.ParsePoint(text, m.Unit)
		m.Change = &p
	case e.Key == "g10":
		err = turn(&m.G10)
	case e.Key == "g53":
		err = turn(&m.G53)
	case e.Key == "lengths":
		err = OneOf("whole")(text, m.Unit)
		m.Whole = true
	case e.Key == "inert":
		m.Inert, err = ParseInert(text)
	case e.Key == "extended":
		err = turn(&m.Extended)
	}
	return err
}

// parseRange reads [least, greatest].
func parseRange(e Entry, u transform.Unit) (bed.Range, error) {
	if len(e.Values) != 2 {
		return bed.Range{}, &registration.Error{Found: fmt.Sprintf("%d values", len(e.Values)), Expected: "[least, greatest] in machine coordinates"}
	}
	lo, err := registration.ParseLength(e.Values[0], u)
	if err != nil {
		return bed.Range{}, err
	}
	hi, err := registration.ParseLength(e.Values[1], u)
	return bed.Range{Least: lo, Greatest: hi}, err
}

// ParseRect reads X,Y,WxH.
func ParseRect(s string, u transform.Unit) (*bed.Rect, error) {
	parts := strings.Split(s, ",")
	if len(parts) != 3 {
		return nil, &registration.Error{Found: fmt.Sprintf("%q", s), Expected: "X,Y,WxH such as 40,60,120x80"}
	}
	w, h, ok := strings.Cut(strings.ToLower(parts[2]), "x")
	if !ok {
		return nil, &registration.Error{Found: fmt.Sprintf("%q", s), Expected: "X,Y,WxH such as 40,60,120x80"}
	}
	var v [4]decimal.Decimal
	for i, p := range []string{parts[0], parts[1], w, h} {
		var err error
		if v[i], err = registration.ParseLength(p, u); err != nil {
			return nil, err
		}
	}
	return &bed.Rect{X: v[0], Y: v[1], W: v[2], H: v[3]}, nil
}

// ParseArea reads X,Y,WxH[,HEIGHT].
func ParseArea(s string, u transform.Unit) (a bed.Area, err error) {
	parts := strings.Split(s, ",")
	if len(parts) != 3 && len(parts) != 4 {
		return a, &registration.Error{Found: fmt.Sprintf("%q", s), Expected: "X,Y,WxH[,HEIGHT] such as 40,60,120x80 or 40,60,120x80,35", Hint: "the height is over the bed; without one nothing passes over it"}
	}
	r, err := ParseRect(strings.Join(parts[:3], ","), u)
	if err != nil {
		return a, err
	}
	if !r.W.IsPositive() || !r.H.IsPositive() {
		return a, &registration.Error{Found: "a rectangle of " + r.W.String() + " x " + r.H.String(), Expected: "two sizes above 0"}
	}
	a.Rect = *r
	if len(parts) == 3 {
		return a, nil
	}
	h, err := registration.ParseLength(parts[3], u)
	if err == nil && !h.IsPositive() {
		err = &registration.Error{Found: parts[3], Expected: "a height above 0 over the bed", Hint: "leave it out where nothing may pass over"}
	}
	a.Height = &h
	return a, err
}

// takeFlags adds what the flags and the job say of the machine. The job's travel gives way
// to a machine file that is named on the command line; side by side the two are refused.
func (m *Machine) takeFlags(c *Ask) error {
	r := c.NewReader()
	m.Whole = m.Whole || c.Given("lengths")
	var travel registration.Blank
	given := Read(r, "travel", In(r, ParseTravel), &travel)
	if given && c.Given("machine") && c.Typed("travel") == c.Typed("machine") {
		return Wrong(c.Where("travel"), "a travel beside "+c.Where("machine"), "one of them", "the machine file says the travel")
	}
	if given && (c.Typed("travel") || !c.Typed("machine")) { // the command line wins over the job
		zero := decimal.Decimal{}
		m.Unit, m.Known = r.Unit, true
		m.X, m.Y = bed.Range{Least: zero, Greatest: travel.W}, bed.Range{Least: zero, Greatest: travel.H}
		m.Z = bed.Range{Least: travel.T.Neg(), Greatest: zero}
		m.Bed = nil
		for _, axis := range machineKeys("travel") {
			m.where["travel."+axis] = c.Where("travel")
		}
	}
	for _, s := range c.Texts("taken") {
		u, err := ParseTaken(s, r.Unit)
		if err == nil && u.Rect != nil {
			err = convert(u.Rect, r.Unit, m.Unit)
		}
		if err != nil {
			return c.At("taken", err)
		}
		if !slices.ContainsFunc(m.InUse, func(o bed.InUse) bool { return o.Offset == u.Offset }) {
			m.InUse = append(m.InUse, u)
		}
	}
	return r.Err
}

// ParseTaken reads OFFSET or OFFSET=X,Y,WxH.
func ParseTaken(s string, u transform.Unit) (bed.InUse, error) {
	name, rect, has := strings.Cut(s, "=")
	out := bed.InUse{Offset: strings.ToUpper(strings.TrimSpace(name)), For: "--taken"}
	if transform.OffsetNumber(out.Offset) == 0 {
		return out, &registration.Error{Found: fmt.Sprintf("%q", name), Expected: "an offset, G54 to G59.3, as OFFSET or OFFSET=X,Y,WxH", Hint: "say each by itself"}
	}
	var err error
	if has {
		out.Rect, err = ParseRect(rect, u)
	}
	return out, err
}

// convert gives a rectangle from one unit in another, which must be finite.
func convert(r *bed.Rect, from, to transform.Unit) error {
	for _, v := range []*decimal.Decimal{&r.X, &r.Y, &r.W, &r.H} {
		w, exact := transform.Convert(*v, from, to, 9)
		if !exact {
			return &registration.Error{Found: v.String() + " " + from.String(), Expected: "lengths that are finite in the machine file's unit", Hint: "give them in " + to.String()}
		}
		*v = w
	}
	return nil
}

// NoGo gives the no-go areas of the flags, then those of the machine file, in the call's
// unit.
func (c *Ask) NoGo(m *Machine) ([]bed.Area, error) {
	r := c.NewReader()
	var areas []bed.Area
	Every(r, "no-go", In(r, ParseArea), &areas)
	for _, a := range m.Areas {
		areas = append(areas, a.In(m.Unit, r.Unit))
	}
	return areas, r.Err
}

// Standing gives what a tool must not meet on its way: no-go areas, then clamps.
func (c *Ask) Standing(m *Machine) ([]bed.Area, error) {
	areas, err := c.NoGo(m)
	if err != nil {
		return nil, err
	}
	clamps, err := c.Clamps()
	return append(areas, clamps...), err
}

// Clamps gives the clamps on the bed, in the call's unit.
func (c *Ask) Clamps() ([]bed.Area, error) {
	r := c.NewReader()
	var areas []bed.Area
	Every(r, "clamp", In(r, ParseArea), &areas)
	return areas, r.Err
}
