package bed

import (
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// Clear heights worked by hand on a sketch: the bare spindle nose meets the table
// at Z-140, so it stands at Z = -140 + height of the tip + stick-out. A blank of 12
// on seats of 0 and 5: its top is 12 at the face, 17 at the back. 25 mm of room is
// common practice.
func TestClearOver(t *testing.T) {
	table, z1, z2, stick, other := d("-140"), d("-81"), d("-88"), d("40"), d("30")
	m := &Machine{X: Range{n(0), n(700)}, Y: Range{n(0), n(400)}, Z: Range{n(-110), n(0)}, Table: &table}
	a := &registration.Answer{Used: registration.Blank{W: n(120), H: n(80), T: n(12)}}
	a.Question.BackSeat = n(5)
	in := func(list ...InUse) func(*Machine, *registration.Answer) {
		return func(m *Machine, _ *registration.Answer) { m.InUse = list }
	}
	level := func(s string) *decimal.Decimal { v := d(s); return &v }
	rows := []struct {
		name    string
		with    func(*Machine, *registration.Answer)
		levels  [2]*decimal.Decimal
		stands  string
		longest string
		want    string // Z, what it is over, room
	}{
		{"the higher blank, 17 + 25 over the table", nil, [2]*decimal.Decimal{}, "0", "45", "-53 blank 25"},
		{"a level of 20 over the top is within the room", nil, [2]*decimal.Decimal{level("20"), level("20")}, "0", "45", "-53 blank 25"},
		{"a level of 40 over the face's top, 52 over the table", nil, [2]*decimal.Decimal{level("40"), nil}, "0", "45", "-43 program 0"},
		{"the same from the seating plane", func(_ *Machine, a *registration.Answer) { a.Question.ZZero = registration.Bed }, [2]*decimal.Decimal{level("52"), nil}, "0", "45", "-43 program 0"},
		{"a fixture whose zero is 19 over the table", in(InUse{Offset: "G55", Z: &z1, StickOut: &stick}), [2]*decimal.Decimal{}, "0", "45", "-51 G55 25"},
		{"one of 18 doesn't reach higher than the program", in(InUse{Offset: "G57", Z: &z2, StickOut: &other}), [2]*decimal.Decimal{level("40"), nil}, "0", "45", "-43 program 0"},
		{"dowels of 17 over the back's seat, 22 over the table", nil, [2]*decimal.Decimal{}, "17", "45", "-48 stand 25"},
		{"dowels level with the blank", nil, [2]*decimal.Decimal{}, "12", "45", "-53 blank 25"},
		{"skimmed: the face's blank is 20 before it", func(_ *Machine, a *registration.Answer) { a.Question.Skimmed = n(8) }, [2]*decimal.Decimal{}, "0", "45", "-50 blank 25"},
	}
	for _, r := range rows {
		m, a := *m, *a
		if r.with != nil {
			r.with(&m, &a)
		}
		c, err := m.ClearOver(&a, r.levels, d(r.stands), d(r.longest), nil)
		if err != nil {
			t.Errorf("%s: %v", r.name, err)
			continue
		}
		if got := c.Z.String() + " " + c.Over + " " + c.Room.String(); got != r.want || len(c.Unknown) != 0 {
			t.Errorf("%s: %s, want %s; unknown %v", r.name, got, r.want, c.Unknown)
		}
	}
	// A fixture without a height is named; a machine without a table can't tell.
	m.InUse = []InUse{{Offset: "G55"}}
	if c, err := m.ClearOver(a, [2]*decimal.Decimal{}, n(0), n(45), nil); err != nil || len(c.Unknown) != 1 || c.Unknown[0] != "G55" {
		t.Errorf("%+v, %v", c, err)
	}
	if _, err := m.ClearOver(a, [2]*decimal.Decimal{}, n(0), n(99), nil); err == nil || err.Error() !=
		"clear: a clear height of Z1, expected at most the top of the travel, Z0; hint: 1 too low for the longest tool, 25 over the highest thing: a shorter tool, or lower clamps" {
		t.Error(err)
	}
	m.Table = nil
	if _, err := m.ClearOver(a, [2]*decimal.Decimal{}, n(0), n(45), nil); err == nil {
		t.Error("no table, but a clear height")
	}
}

// A job in inches on a machine in millimetres: 1 in of blank and 2 in of tool over
// -140, and the room: -140 + 25.4 + 50.8 + 25 = -38.8 mm = -1.52755.. in, rounded up.
func TestClearInches(t *testing.T) {
	table := d("-140")
	m := &Machine{X: Range{n(0), n(700)}, Y: Range{n(0), n(400)}, Z: Range{n(-110), n(0)}, Table: &table}
	a := &registration.Answer{Used: registration.Blank{W: n(5), H: n(4), T: n(1)}}
	a.Question.Unit = transform.Inch
	c, err := m.ClearOver(a, [2]*decimal.Decimal{}, n(0), n(2), nil)
	if err != nil || c.Z.String() != "-1.5275" {
		t.Errorf("%+v, %v", c, err)
	}
}

// A height that the maker gives is checked against the travel and what is known.
func TestFits(t *testing.T) {
	table := d("-140")
	m := &Machine{X: Range{n(0), n(700)}, Y: Range{n(0), n(400)}, Z: Range{n(-110), n(0)}, Table: &table}
	a := &registration.Answer{Used: registration.Blank{W: n(120), H: n(80), T: n(12)}}
	long := n(45)
	for _, r := range []struct {
		z       string
		stands  int
		longest *decimal.Decimal
		want    string
	}{
		{"-83", 0, &long, ""}, // just over the blank: -140 + 12 + 45
		{"-83.001", 0, &long, "clear: Z-83.001, where the longest tool reaches down into the blank, expected Z-83 or higher, with room for clamps"},
		{"-83", 13, &long, "clear: Z-83, where the longest tool reaches down into what locates the blank, expected Z-82 or higher, with room for clamps"},
		{"-100", 0, nil, ""},
		{"1", 0, nil, "clear: Z1, expected machine Z inside the travel, -110 to 0; hint: the clear height is a machine coordinate of the spindle"},
		{"-111", 0, &long, "clear: Z-111, expected machine Z inside the travel, -110 to 0; hint: the clear height is a machine coordinate of the spindle"},
	} {
		got := ""
		if err := m.Fits(a, d(r.z), transform.MM, n(r.stands), r.longest); err != nil {
			got = err.Error()
		}
		if got != r.want {
			t.Errorf("Z%s: got  %s\nwant %s", r.z, got, r.want)
		}
	}
}

// No-go areas of known height stand among what the tool passes over, and seats under it, by
// the same sum: -140 + height + 25 of room + stick-out. Without a height an area isn't passed.
func TestClearOverAreas(t *testing.T) {
	area := func(height string) Area {
		a := Area{Rect: rect(0, 0, 10, 10)}
		if height != "" {
			v := d(height)
			a.Height = &v
		}
		return a
	}
	z, stick := d("-81"), d("40")
	fixture := InUse{Offset: "G55", Z: &z, StickOut: &stick} // 19 over the table
	for _, c := range []struct {
		name    string
		unit    transform.Unit
		seat    string
		inUse   []InUse
		areas   []Area
		longest string
		want    string
	}{
		{"as high as the blank", transform.MM, "0", nil, []Area{area("12")}, "45", "-58 blank 25"},
		{"higher", transform.MM, "0", nil, []Area{area("12.5")}, "45", "-57.5 no-go 0,0,10x10,12.5 25"},
		{"the highest of three", transform.MM, "0", nil, []Area{area("20"), area("30"), area("")}, "45", "-40 no-go 0,0,10x10,30 25"},
		{"a fixture over it", transform.MM, "0", []InUse{fixture}, []Area{area("18")}, "45", "-51 G55 25"},
		{"the face's seat", transform.MM, "10", []InUse{fixture}, nil, "45", "-48 blank 25"},
		{"of no known height", transform.MM, "0", nil, []Area{area("")}, "45", "-58 blank 25"},
		{"the travel ends", transform.MM, "0", nil, []Area{area("30")}, "85.1",
			"clear: a clear height of Z0.1 over no-go 0,0,10x10,30, expected at most the top of the travel, Z0; hint: 0.1 too low for the longest tool, 25 over the highest thing: a shorter tool, or lower clamps; leave its height out where no way leads over it"},
		{"over a fixture", transform.MM, "0", []InUse{fixture}, nil, "97",
			"clear: a clear height of Z1 over G55, expected at most the top of the travel, Z0; hint: 1 too low for the longest tool, 25 over the highest thing: a shorter tool, or lower clamps"},
		// 2 in are 50.8, a tool of 1 in 25.4: -140 + 50.8 + 25.4 + 25 = -38.8 mm.
		{"in inches", transform.Inch, "0", nil, []Area{area("2")}, "1", "-1.5275 no-go 0,0,10x10,2 0.9843"},
	} {
		table := d("-140")
		m := &Machine{X: Range{n(0), n(700)}, Y: Range{n(0), n(400)}, Z: Range{n(-110), n(0)}, Table: &table, InUse: c.inUse}
		a := &registration.Answer{Used: registration.Blank{W: n(120), H: n(80), T: n(12)}}
		if c.unit == transform.Inch {
			a.Used.T = n(1)
		}
		a.Question.Unit, a.Question.Seat = c.unit, d(c.seat)
		got := ""
		if r, err := m.ClearOver(a, [2]*decimal.Decimal{}, n(0), d(c.longest), c.areas); err != nil {
			got = err.Error()
		} else {
			got = r.Z.String() + " " + r.Over + " " + r.Room.String()
		}
		if got != c.want {
			t.Errorf("%s: %s\nwant %s", c.name, got, c.want)
		}
	}
}

// A machine in inches: 25 mm of room are 0.98425 in, to four decimals.
func TestClearOfAnInchMachine(t *testing.T) {
	table := d("-5.5")
	m := &Machine{Unit: transform.Inch, X: Range{n(0), n(28)}, Y: Range{n(0), n(16)}, Z: Range{n(-5), n(0)}, Table: &table}
	a := &registration.Answer{Used: registration.Blank{W: n(5), H: n(3), T: d("0.5")}}
	a.Question.Unit = transform.Inch
	c, err := m.ClearOver(a, [2]*decimal.Decimal{}, n(0), n(2), nil)
	if err != nil || c.Z.String() != "-2.0157" { // -5.5 + 0.5 + 2 + 0.9843
		t.Errorf("%+v, %v", c, err)
	}
	// A job in mm there: 12.7 + 50.8 + 25 over -139.7, the room as the machine has it, 25.00122.
	a.Used, a.Question.Unit = registration.Blank{W: n(120), H: n(80), T: d("12.7")}, transform.MM
	if c, err := m.ClearOver(a, [2]*decimal.Decimal{}, n(0), d("50.8"), nil); err != nil || c.Z.Round(2).String() != "-51.2" || c.Z.LessThan(d("-51.2")) {
		t.Errorf("%+v, %v", c, err)
	}
}

// What stands at another zero is in the way of a clear height too: its Z0 is read at Z-81 with
// 40 of tool, 19 over the table at -140, so a tool of 45 meets it at -76.
func TestFitsOverAFixture(t *testing.T) {
	table, z, stick, long := d("-140"), d("-81"), d("40"), n(45)
	m := &Machine{X: Range{n(0), n(700)}, Y: Range{n(0), n(400)}, Z: Range{n(-110), n(0)}, Table: &table, InUse: []InUse{{Offset: "G55", Z: &z, StickOut: &stick}}}
	a := &registration.Answer{Used: registration.Blank{W: n(120), H: n(80), T: n(12)}}
	if err := m.Fits(a, n(-76), transform.MM, n(0), &long); err != nil {
		t.Error(err)
	}
	if err := m.Fits(a, d("-76.1"), transform.MM, n(0), &long); err == nil || err.Error() !=
		"clear: Z-76.1, where the longest tool reaches down into what stands at G55, expected Z-76 or higher, with room for clamps" {
		t.Error(err)
	}
}
