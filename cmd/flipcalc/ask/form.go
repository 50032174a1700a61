package ask

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/cut"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/budget"
	"flipcalc/registration/fit"
	"flipcalc/registration/landed"
)

// form is how the value of a flag or job key is written, and read.
type form struct {
	says string // what the manual page says of it
	// parse gives the value's type; nil where any text will do, which stays text.
	parse func(string, transform.Unit) (any, error)
}

// forms are the forms of values by the flag's name, or else by what the flag table
// calls its value.
var forms = map[string]form{
	"LENGTH":                     {"a length", reads(registration.ParseLength)},
	"DIA":                        {"a length", reads(registration.ParseLength)},
	"Z":                          {"a length", reads(registration.ParseLength)},
	"WxHxT":                      {"three lengths with x between them", reads(registration.ParseSize)},
	"XxYxZ":                      {"three lengths with x between them", reads(ParseTravel)},
	"X,Y":                        {"two lengths", reads(registration.ParsePoint)},
	"X,Y[,Z]":                    {"two or three lengths", reads(registration.ParsePosition)},
	"X,Y[,DIA]":                  {"two or three lengths", reads(registration.ParsePin)},
	"A,B,S":                      {"three lengths", reads(registration.ParseContacts)},
	"X,Y,DIA":                    {"three lengths", reads(registration.ParseBore)},
	"X,Y,WxH[,HEIGHT]":           {"a rectangle: its near-left corner and its size, and a height, lengths", reads(ParseArea)},
	"SIDE[@C]":                   {"near, far, left or right, with @ and a length behind it where the place is known", reads(registration.ParseContact)},
	"WHAT@X,Y":                   {"two lengths, face= and two lengths, or near, far, left or right; then @ and two lengths", reads(registration.ParseSpot)},
	"DEGREES":                    {"a number, degrees", reads(Above)},
	"PLACE":                      {"a word, or two lengths", reads(registration.ParseZero)},
	"OFFSET":                     {"G54 to G59, or G59.1 to G59.3", unitless(ParseOffset)},
	"OFFSET[=X,Y,WxH]":           {"an offset, with a rectangle where it has a place", reads(ParseTaken)},
	"FEED":                       {"a number, lengths a minute", reads(Above)},
	"RPM":                        {"a number", unitless(ParseSpeed)},
	"PERCENT":                    {"a number, percent", reads(registration.ParseLength)},
	"SECONDS":                    {"a number, seconds", unitless(ParseSeconds)},
	"N":                          {"a whole number", unitless(ParseCount)},
	"N|max":                      {"a whole number, or max", unitless(ParsePairs)},
	"N=SHAPE,D[,X]":              {"tool number, shape and lengths", reads(ParseTool)},
	"N[=DIA]":                    {"a tool number, with a length", reads(ParseDrill)},
	"NAME=VALUE":                 {"a name and a length; a slope as AMOUNT/OVER", reads(parseTolerance)},
	"[N:]DX,DY[@X,Y]":            {"two lengths, with the pair before and a place behind them", reads(landed.Parse)},
	"[N:]DX,DY[ turned DEGREES]": {"two lengths, with the pair before them and a turn behind them", reads(registration.ParseCorrection)},
	"FIT":                        {"hole and shaft as in ISO 286", unitless(fit.Parse)},
	"KIND":                       {aWord, unitless(registration.ParseRegister)},
	"HOW":                        {"a word, or pin= with two lengths", reads(registration.ParseClock)},
	"X,Y|COUNT":                  {"two lengths, or counts such as outlines=1,openings=5", reads(ParseThrough)},
	"all|X,Y":                    {"all, or two lengths", reads(ParseHeld)},
	"GNN=GNN":                    {"two offsets", unitless(ParseSwap)},
	"MNN,MNN":                    {"M codes, such as M25,M51", unitless(ParseInert)},
	"KEY=VALUE":                  {"a key and its value", nil},
	"machine":                    {"a file, from the job file's folder, or \"\" for none", nil},
	"FILE":                       {"a file, from the job file's folder", unitless(fileName)},
	"PATH":                       {"a file or a folder", unitless(fileName)},
	"TEXT":                       {aWord, nil},
	"LINE":                       {aWord, nil},
	"SPECIES":                    {"such as beech, or a figure such as 0.35", unitless(FindWood)},
	"feeler":                     {"a length", reads(ParseFigure)},
	"gap":                        {"a length", reads(ParseRoom)},
	"fixture":                    {"a length", reads(ParseRoom)},
	"arc-tolerance":              {"a length", reads(ParseFigure)},
	"units":                      {aWord, unitless(ParseUnit)},
	"flip":                       {aWord, unitless(registration.ParseFlip)},
	"z-zero":                     {aWord, unitless(registration.ParseZZero)},
	"back-z-zero":                {aWord, unitless(registration.ParseZZero)},
	"touch-off":                  {aWord, unitless(registration.ParseTouchOff)},
	"drilled":                    {aWord, unitless(registration.ParseDrilled)},
	"standard":                   {aWord, unitless(fit.ParseStandard)},
	"flute":                      {"a length", reads(Above)},
	"cell":                       {"a length", reads(Above)},
	"pin-height":                 {"a length", reads(Above)},
	"fence-height":               {"a length", reads(Above)},
	"peck":                       {"a length", reads(Above)},
	"safe":                       {"a length", reads(Above)},
	"stick-out":                  {"a length", reads(Above)},
	"measuring":                  {"a length", reads(NotNegative)},
	"web":                        {"a length", reads(NotNegative)},
	"bed-depth":                  {"a length", reads(NotNegative)},
	"breakthrough":               {"a length", reads(NotNegative)},
	"neck":                       {"a length", reads(NotNegative)},
	"pause":                      {aWord, unitless(ParsePause)},
}

// aWord says that a value is plain text, or one of the words that the flag table lists.
const aWord = "a word"

// form gives the form of the flag's value; a switch has none. One that has no form of its
// own is one of the table's words.
func (d *Question) form() form {
	if d.Form == "" {
		return form{says: "true or false"}
	}
	if f, ok := forms[d.Key]; ok {
		return f
	}
	if f, ok := forms[d.Form]; ok {
		return f
	}
	return form{aWord, unitless(OneOf(strings.Fields(d.Words)...))}
}

// parse reads the values of a flag or key in unit u; an error is that of the first that
// can't be read, at its place.
func (d *Question) parse(where string, values []string, u transform.Unit) (parsed []any, err error) {
	read := d.form().parse
	for _, s := range values {
		if read == nil {
			parsed = append(parsed, s)
			continue
		}
		v, err := read(s, u)
		if err != nil {
			return nil, about(where, d.Key, d.apart(s, u, unmarked(read, s, u, err)))
		}
		parsed = append(parsed, v)
	}
	return parsed, nil
}

// apart adds to err the values one by one, where s is several of a key that may have them.
func (d *Question) apart(s string, u transform.Unit, err error) error {
	values := strings.FieldsFunc(s, func(r rune) bool { return r == ';' || r == ' ' })
	var e *registration.Error
	if !d.Many || len(values) < 2 || !errors.As(err, &e) {
		return err
	}
	for _, v := range values {
		if _, bad := d.form().parse(v, u); bad != nil {
			return err
		}
	}
	hinted := *e
	hinted.Hint = "give each by itself: ‹" + d.Key + " " + strings.Join(values, "; ") + "›"
	return &hinted
}

// unmarked adds to err the form without inch marks, where s reads as inches without them.
func unmarked(read func(string, transform.Unit) (any, error), s string, u transform.Unit, err error) error {
	var e *registration.Error
	plain := strings.NewReplacer("\"", "", "\u2033", "").Replace(s)
	if plain == s || !errors.As(err, &e) {
		return err
	}
	if _, bad := read(plain, transform.Inch); bad != nil {
		return err
	}
	hinted := *e
	hinted.Hint = "write inches without the marks: " + plain
	if u != transform.Inch {
		hinted.Hint += " with --units in"
	}
	return &hinted
}

// readFlags reads the values from the command line, and gives those that can't be.
func (c *Ask) readFlags() (list []error) {
	for i := range Table {
		if v := c.flags[Table[i].Key]; v != nil && !v.job {
			if err := v.read(c.Unit()); err != nil {
				list = append(list, err)
			}
		}
	}
	return list
}

// plainFraction is a fraction in a length, with the unit behind it where there is one.
var plainFraction = regexp.MustCompile(`(?i)[0-9]/[0-9]+\s*(in|mm)?`)

// DoubtFractions warns where lengths in mm are fractions without a unit: those who write
// fractions mostly mean inches. It is "" where there is no doubt.
func (c *Ask) DoubtFractions() string {
	if c.Unit() != transform.MM {
		return ""
	}
	why := "yet no unit was given: taken as mm; --units in takes them as inches"
	if c.Given("units") {
		why = "taken as mm: write in behind one in inches, as in 1/4in"
	}
	for i := range Table {
		d := &Table[i]
		v := c.flags[d.Key]
		if v == nil || d.Form == "NAME=VALUE" || d.Key != "tool" && !strings.Contains(d.form().says, "length") {
			continue
		}
		for _, s := range v.vals {
			for _, m := range plainFraction.FindAllStringSubmatch(s, -1) {
				if m[1] == "" {
					return v.where + ": " + s + ": fractions, " + why
				}
			}
		}
	}
	return ""
}

// DoubtUnits warns of sizes that hardly belong to the unit, and guesses none: blanks under 13 mm
// (0.5 in) or over 3 m (118 in) across, under 0.8 mm (1/32 in) or over 150 mm (6 in) thick, which
// hardly anyone turns over (common practice), and dowels that ISO 2338 doesn't have, whose sizes are
// 0.6 to 50 mm (value from memory). It is "" where there is no doubt.
func (c *Ask) DoubtUnits() string {
	u := c.Unit()
	within := func(v decimal.Decimal, least, most float64) bool {
		mm := transform.InMM(v, u)
		return mm.GreaterThanOrEqual(decimal.NewFromFloat(least)) && mm.LessThanOrEqual(decimal.NewFromFloat(most))
	}
	check := ": check the size and its unit, mm or in"
	if b := Optional[registration.Blank](c, "stock"); b != nil {
		if !within(decimal.Max(b.W, b.H), 13, 3000) || !within(b.T, 0.8, 150) {
			return c.Where("stock") + ": a blank of " + b.String() + " " + u.String() + check
		}
	}
	for _, p := range Values[registration.Pin](c, "pin") {
		if !p.Dia.IsZero() && !within(p.Dia, 0.6, 50) {
			return c.Where("pin") + ": a dowel of " + p.Dia.String() + " " + u.String() + check
		}
	}
	return ""
}

// reads makes a form's parser of one that takes the unit.
func reads[T any](parse func(string, transform.Unit) (T, error)) func(string, transform.Unit) (any, error) {
	return func(s string, u transform.Unit) (any, error) { return parse(s, u) }
}

// unitless makes a form's parser of one of what has no unit.
func unitless[T any](parse func(string) (T, error)) func(string, transform.Unit) (any, error) {
	return func(s string, _ transform.Unit) (any, error) { return parse(s) }
}

// Through is what is meant to be cut through: how many cuts, or a place.
type Through struct {
	Count *cut.Count
	Place *registration.Point
}

// ParseThrough reads a place, or how many cuts.
func ParseThrough(s string, u transform.Unit) (t Through, err error) {
	if n, ok, err := ParseCuts(s); ok {
		return Through{Count: n}, err
	}
	p, err := registration.ParsePoint(s, u)
	return Through{Place: &p}, err
}

// ParseCuts reads how many places are cut through as outlines=N,openings=M, either alone too. ok is false where s is
// nothing of the kind; the error is a *fault.Error.
func ParseCuts(s string) (n *cut.Count, ok bool, err error) {
	if !strings.Contains(s, "=") {
		return nil, false, nil
	}
	n = &cut.Count{}
	seen := map[string]bool{}
	for _, part := range strings.Split(s, ",") {
		name, number, _ := strings.Cut(part, "=")
		name = strings.TrimSpace(name)
		v, err := strconv.Atoi(strings.TrimSpace(number))
		if err != nil || v < 0 || seen[name] || name != "outlines" && name != "openings" {
			return nil, true, &fault.Error{Found: strconv.Quote(s), Expected: "outlines=N,openings=M, such as outlines=1,openings=5"}
		}
		if seen[name] = true; name == "outlines" {
			n.Outlines = v
		} else {
			n.Openings = v
		}
	}
	return n, true, nil
}

// fileName refuses a name of nothing, as a shell's empty variable gives it.
func fileName(s string) (string, error) {
	if s == "" {
		return s, &registration.Error{Found: `""`, Expected: "a name"}
	}
	return s, nil
}

// ParseOffset reads an offset's name; that of an extended one is for mirror, and the
// other verbs refuse it by name.
func ParseOffset(s string) (string, error) {
	if code := transform.ReadOffset(s); code > transform.MoreOffsets {
		return transform.OffsetName(code), nil
	}
	return registration.ParseOffset(s)
}

// OneOf checks that a value is one of some words.
func OneOf(words ...string) func(string) (string, error) {
	return func(s string) (string, error) {
		if slices.Contains(words, s) {
			return s, nil
		}
		return s, &registration.Error{Found: s, Expected: strings.Join(words, " or ")}
	}
}

// ParseFigure reads a length from which no coordinate is reckoned, such as a feeler's
// thickness. One in millimetres is lawful in a job in inches, where it has no last
// digit: it is rounded to 1e-6 in, which is 25 nm.
func ParseFigure(s string, u transform.Unit) (decimal.Decimal, error) {
	d, exact, err := metric(s, u)
	if !exact {
		d = d.Round(6)
	}
	return d, err
}

// ParseRoom reads how much room there must be at least. In a job in inches one in
// millimetres is rounded up to 0.0001 in, to which such a control's offsets are set, as
// stations stand at distances that are reckoned from it.
func ParseRoom(s string, u transform.Unit) (decimal.Decimal, error) {
	d, exact, err := metric(s, u)
	if !exact {
		d = d.RoundCeil(4)
	}
	return d, err
}

// metric reads a length; exact is false where it is one in millimetres that has no last
// digit in inches.
func metric(s string, u transform.Unit) (d decimal.Decimal, exact bool, err error) {
	d, err = registration.ParseLength(s, u)
	if err == nil || u != transform.Inch || !strings.HasSuffix(strings.ToLower(strings.TrimSpace(s)), "mm") {
		return d, true, err
	}
	mm, other := registration.ParseLength(s, transform.MM)
	if other != nil {
		return d, true, err
	}
	d, exact = transform.Convert(mm, transform.MM, u, 12)
	return d, exact, nil
}

// Above reads a number above 0.
func Above(s string, u transform.Unit) (decimal.Decimal, error) {
	d, err := registration.ParseLength(s, u)
	if err == nil && !d.IsPositive() {
		err = &registration.Error{Found: s, Expected: "a number over 0"}
	}
	return d, err
}

// NotNegative reads a length of 0 or more.
func NotNegative(s string, u transform.Unit) (decimal.Decimal, error) {
	d, err := registration.ParseLength(s, u)
	if err == nil && d.IsNegative() {
		err = &registration.Error{Found: s, Expected: "0 or more"}
	}
	return d, err
}

// parseTolerance reads one term of the budget.
func parseTolerance(s string, u transform.Unit) (budget.Tolerances, error) {
	t := budget.Tolerances{}
	return t, setTolerance(t, s, u)
}

// setTolerance adds one term to the budget's.
func setTolerance(t budget.Tolerances, s string, u transform.Unit) error {
	return t.Set(s, u, func(s string) (decimal.Decimal, error) { return registration.ParseLength(s, u) })
}

// ParseUnit reads mm or in, and says how the usual other spellings are written.
func ParseUnit(s string) (transform.Unit, error) {
	u, err := registration.ParseUnit(s)
	var e *registration.Error
	if errors.As(err, &e) {
		for start, short := range map[string]string{"in": "in", "\"": "in", "mil": "mm", "met": "mm"} {
			if strings.HasPrefix(strings.ToLower(strings.TrimSpace(s)), start) {
				hinted := *e
				hinted.Hint = "write " + short
				return u, &hinted
			}
		}
	}
	return u, err
}

// FindWood finds a species. Of a name that several have, the message names these; of one
// that none has, those whose name is nearly it, or else the first word of each.
func FindWood(s string) (budget.Species, error) {
	const figures = "'flipcalc help wood' has the figures and where they are from; for a wood that isn't there give a figure of your own, such as 0.35"
	w, err := budget.FindWood(s)
	var e *registration.Error
	if _, number := strconv.ParseFloat(s, 64); err == nil || number == nil || !errors.As(err, &e) {
		return w, err
	}
	named := map[string][]string{}
	for _, w := range budget.Woods() {
		full := w.Name
		for _, word := range strings.FieldsFunc(full, func(r rune) bool { return r == ' ' || r == ',' }) {
			named[word] = append(named[word], full)
		}
	}
	words := slices.Sorted(maps.Keys(named))
	hinted := *e
	hinted.Hint = figures
	if which, several := strings.CutPrefix(e.Expected, "which one: "); several {
		hinted.Expected = "one wood of the table: " + which
		return w, &hinted
	}
	for _, word := range strings.Fields(strings.ToLower(s)) {
		if near := Nearest(word, words); near != "" {
			hinted.Expected, hinted.Hint = "a wood of the table", "did you mean "+strings.Join(named[near], ", or ")+"?"
			return w, &hinted
		}
	}
	var first []string
	for _, w := range budget.Woods() {
		full := w.Name
		name, _, _ := strings.Cut(full, ",")
		first = append(first, name)
	}
	hinted.Expected = "one of: " + strings.Join(slices.Compact(first), ", ")
	return w, &hinted
}

// ParseSeconds reads a time in seconds.
func ParseSeconds(s string) (float64, error) {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || !(v >= 0) || math.IsInf(v, 0) || strings.ContainsAny(s, "xXpP_") {
		return 0, &registration.Error{Found: s, Expected: "seconds, 0 or more"}
	}
	return v, nil
}

// whole reads a whole number that is not under the least one.
func whole(s string, least int, expected string) (int, error) {
	n, err := strconv.Atoi(s)
	if err != nil || n < least {
		return 0, &registration.Error{Found: s, Expected: expected}
	}
	return n, nil
}

// ParseCount reads a whole number of 1 or more.
func ParseCount(s string) (int, error) { return whole(s, 1, "a whole number, 1 or more") }

// ParseTravel reads how far the machine goes along X, Y and Z.
func ParseTravel(s string, u transform.Unit) (registration.Blank, error) {
	b, err := registration.ParseSize(s, u)
	if err != nil {
		err = &registration.Error{Found: fmt.Sprintf("%q", s), Expected: "three lengths XxYxZ, such as 600x400x110", Hint: "how far the machine goes along X, Y and Z; a machine file can say from where to where"}
	}
	return b, err
}

// MostPairs is a number of pairs that stands for as many as fit.
const MostPairs = -1

// ParsePairs reads a number of pairs; 0 is one station, where the blank is turned over.
func ParsePairs(s string) (int, error) {
	if s == "max" {
		return MostPairs, nil
	}
	return whole(s, 0, "0 or more, or max")
}

// ParseHeld reads all, which gives no point, or a place.
func ParseHeld(s string, u transform.Unit) (*registration.Point, error) {
	if s == "all" {
		return nil, nil
	}
	p, err := registration.ParsePoint(s, u)
	return &p, err
}

// ParsePause reads M0 or M1, in small letters too.
func ParsePause(s string) (string, error) {
	return OneOf("M0", "M1")(strings.ToUpper(s))
}

// Drill is the tool number of the drill of one diameter; any diameter if Dia
// is zero.
type Drill struct {
	N   int
	Dia decimal.Decimal
}

// ParseDrill reads N or N=DIA.
func ParseDrill(s string, u transform.Unit) (Drill, error) {
	bad := &registration.Error{Found: fmt.Sprintf("%q", s), Expected: "a tool number, as N or N=DIA such as 4=8"}
	number, dia, has := strings.Cut(s, "=")
	n, err := strconv.Atoi(strings.TrimSpace(number))
	if err != nil || n < 0 || n > 99999 {
		return Drill{}, bad
	}
	d := Drill{N: n}
	if has {
		d.Dia, err = Above(dia, u)
	}
	return d, err
}

// ParseSpeed reads turns a minute.
func ParseSpeed(s string) (decimal.Decimal, error) {
	n, err := strconv.ParseUint(s, 10, 32)
	if err != nil || n == 0 {
		return decimal.Decimal{}, &registration.Error{Found: fmt.Sprintf("%q", s), Expected: "turns a minute, a whole number over 0"}
	}
	return decimal.NewFromUint64(n), nil
}

// ParseInert reads M codes such as M25,M51.
func ParseInert(text string) (codes []int, err error) {
	for _, name := range strings.Split(text, ",") {
		n, bad := strconv.Atoi(strings.TrimLeft(strings.TrimSpace(name), "Mm"))
		if bad != nil || n < 0 || n > 999 {
			return nil, &fault.Error{Found: fmt.Sprintf("%q", text), Expected: "M codes such as M25,M51"}
		}
		codes = append(codes, n)
	}
	return codes, nil
}

// Swap says which offset takes the place of which.
type Swap struct{ From, To string }

// ParseSwap reads OFFSET=OFFSET; either may be an extended one.
func ParseSwap(s string) (w Swap, err error) {
	from, to, _ := strings.Cut(strings.ToUpper(s), "=")
	a, b := transform.ReadOffset(from), transform.ReadOffset(to)
	if a == 0 || b == 0 {
		return w, &registration.Error{Found: s, Expected: "two offsets, such as G54=G56"}
	}
	return Swap{transform.OffsetName(a), transform.OffsetName(b)}, nil
}
