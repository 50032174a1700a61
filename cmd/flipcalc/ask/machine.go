package ask

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
)

// Machine is the machine as the flags and its file describe it.
type Machine struct {
	bed.Machine
	Path  string            // the file, "" if there is none
	where map[string]string // file position of each key, by the name that bed.Machine's faults use, and of each table's head
	Known bool              // travel is known
	Inert []int             // M codes that move no axis
	Whole bool              // Z is stored with whole tool lengths in use
	Areas []bed.Area        // what stands on the bed without an offset, in the machine's unit
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
	m := &Machine{Machine: bed.Machine{Unit: c.Unit(), G10: true, G53: true}, where: map[string]string{}}
	if path, asked := c.MachinePath(); path != "" {
		_, err := os.Stat(path)
		switch {
		case err == nil:
			if err := m.readFile(c, path); err != nil {
				return nil, err
			}
		case asked != "" || !errors.Is(err, os.ErrNotExist):
			f := Refusal(err)
			return nil, Wrong(asked, f.About+": "+f.Found, "a machine file", cmp.Or(f.Hint, "'flipcalc help machine' shows one"))
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
	c.lacking(path, (*Question).ofMachine)
	own := keys((*Question).ofMachine)
	var list []error
	if i := slices.IndexFunc(entries, func(e Entry) bool { return e.Table == "" && (e.Key == "stock" || e.Key == "flip") }); i >= 0 {
		return Wrong(entries[i].where, entries[i].Key+": this is a job file", "a machine file", "give it with ‹job›")
	}
	// Units come first, whatever their place in the file.
	for _, e := range entries {
		if e.Table == "" && e.Key == "units" && e.fault == nil {
			u, err := registration.ParseUnit(e.text())
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
		case e.Key == "" && e.Table == "offset": // of which there are several, and a question has its name
			m.where[bed.OffsetKey(len(m.InUse))] = e.where
			m.InUse = append(m.InUse, bed.InUse{})
		case e.Key == "":
			m.where[e.Table] = e.where
		case e.fault != nil:
			list = append(list, e.fault)
		case e.Table == "" && slices.Contains(own, e.Key) && !slices.Contains(keys, e.Key):
			if err := c.takeOwn(e, m.Unit); err != nil {
				list = append(list, err)
			}
		case !slices.Contains(keys, e.Key):
			hint := meant(e.Key, append(own, keys...), "keys here: "+strings.Join(keys, ", "))
			list = append(list, Wrong(e.where, e.Key+": no such key", "", hint))
		default:
			if err := m.take(e); err != nil {
				list = append(list, registration.About(err, e.place()))
			}
		}
	}
	for _, axis := range machineKeys("travel") {
		if m.where["travel."+axis] == "" {
			list = append(list, Wrong(m.lacking("travel."+axis), "missing", "[least, greatest] in machine coordinates", "where the machine's travel ends: put it under [travel]"))
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
	values, err := d.values(e)
	if err != nil {
		return err
	}
	text := values[0]
	parsed, err := d.parse(e.place(), values, u)
	if err != nil {
		return err
	}
	if length, is := parsed[0].(decimal.Decimal); is && c.Unit() != u && strings.HasPrefix(d.form().says, "a length") {
		// Rounded up to what is finite in the call's unit: more room, a longer tool, higher.
		length, exact := transform.Convert(length, u, c.Unit(), 12)
		if !exact {
			length = length.RoundCeil(6)
		}
		text = length.String()
	}
	if v := c.flags[d.Key]; v != nil && (len(v.vals) == 0 || v.job) {
		v.vals, v.where, v.job = []string{text}, e.place(), true
		return v.read(c.Unit())
	}
	return nil
}

// take reads one key of the machine file.
func (m *Machine) take(e Entry) error {
	name := e.Key
	switch e.Table {
	case "":
	case "offset":
		name = bed.OffsetKey(len(m.InUse)-1) + "." + e.Key
	default:
		name = e.Table + "." + e.Key
	}
	m.where[name] = e.place()
	i := slices.IndexFunc(machineTable, func(d Question) bool { return d.Table == e.Table && d.Key == e.Key })
	return machineTable[i].into(m, e)
}

// own is the offset that the file speaks of.
func (m *Machine) own() *bed.InUse { return &m.InUse[len(m.InUse)-1] }

// lacking is the place of a key that the file hasn't: its table's head, or else the start.
func (m *Machine) lacking(name string) string {
	table, _, _ := strings.Cut(name, ".")
	return cmp.Or(m.where[table], m.Path+":1:1") + ": " + name
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
		placed.About = m.lacking(f.About)
	}
	return &placed
}

// ParseRect reads X,Y,WxH.
func ParseRect(s string, u transform.Unit) (*bed.Rect, error) {
	parts := strings.Split(s, ",")
	w, h, ok := strings.Cut(strings.ToLower(parts[len(parts)-1]), "x")
	if !ok || len(parts) != 3 {
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
	m.Whole = m.Whole || c.Given("lengths")
	file := c.Text("machine") != "" // "" names none
	if c.Given("travel") && file && c.Typed("travel") == c.Typed("machine") {
		return Wrong(c.Where("travel"), "a travel beside "+c.Where("machine"), "one of them", "the machine file says the travel")
	}
	if c.Given("travel") && (c.Typed("travel") || !file || !c.Typed("machine")) { // the command line wins over the job
		m.Unit, m.Known = c.Unit(), true
		travel := Value[registration.Blank](c, "travel")
		m.X, m.Y, m.Z = bed.Range{Greatest: travel.W}, bed.Range{Greatest: travel.H}, bed.Range{Least: travel.T.Neg()}
		m.Bed = nil
		for _, axis := range machineKeys("travel") {
			m.where["travel."+axis] = c.Where("travel")
		}
	}
	for _, u := range Values[bed.InUse](c, "taken") {
		if u.Rect != nil {
			r := *u.Rect
			u.Rect = &r
			if err := convert(c.Unit(), m.Unit, &r.X, &r.Y, &r.W, &r.H); err != nil {
				return c.At("taken", err)
			}
		}
		if !slices.ContainsFunc(m.InUse, func(o bed.InUse) bool { return o.Offset == u.Offset }) {
			m.InUse = append(m.InUse, u)
		}
	}
	return nil
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

// convert carries lengths from one unit into another, in which they must be finite.
func convert(from, to transform.Unit, lengths ...*decimal.Decimal) error {
	for _, v := range lengths {
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
func (c *Ask) NoGo(m *Machine) []bed.Area {
	areas := Values[bed.Area](c, "no-go")
	for _, a := range m.Areas {
		areas = append(areas, a.In(m.Unit, c.Unit()))
	}
	return areas
}

// Clamps gives the clamps on the bed, in the call's unit.
func (c *Ask) Clamps() []bed.Area { return Values[bed.Area](c, "clamp") }

// Standing gives what a tool must not meet on its way: no-go areas, then clamps.
func (c *Ask) Standing(m *Machine) []bed.Area { return append(c.NoGo(m), c.Clamps()...) }
