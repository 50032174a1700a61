package fit

import (
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// Standard names a standard for cylindrical dowel pins.
type Standard uint8

// The pin standards whose sizes are known here.
const (
	ISO8734  Standard = iota // hardened steel, m6
	ISO2338                  // unhardened steel, m6
	ISO2338h                 // unhardened steel, h8
	B18_8_5M                 // ASME, hardened, metric
	B18_8_2                  // ASME, hardened, inch
)

// String gives the standard's number and, where it has several, the class.
func (s Standard) String() string {
	if int(s) >= len(pinStandards) {
		return "unknown standard"
	}
	return [...]string{"ISO 8734 m6", "ISO 2338 m6", "ISO 2338 h8", "ASME B18.8.5M", "ASME B18.8.2"}[s]
}

// standardNames are the standards' short names, in their order.
var standardNames = [...]string{"iso-8734", "iso-2338", "iso-2338-h8", "b18.8.5m", "b18.8.2"}

// Key is the standard's short name, as ParseStandard reads it.
func (s Standard) Key() string { return standardNames[s] }

// ParseStandard reads a standard's short name, such as iso-8734 or b18.8.2.
func ParseStandard(s string) (Standard, error) {
	for i, n := range standardNames {
		if strings.EqualFold(strings.TrimSpace(s), n) {
			return Standard(i), nil
		}
	}
	return 0, &Error{Found: fmt.Sprintf("%q", s), Expected: strings.Join(standardNames[:], ", ")}
}

// Unit is the unit in which the standard states its sizes.
func (s Standard) Unit() transform.Unit {
	if s == B18_8_2 {
		return transform.Inch
	}
	return transform.MM
}

// Pin is one standard dowel pin, in Unit.
type Pin struct {
	Standard Standard
	Unit     transform.Unit
	Label    string          // the size as it is ordered, such as "6" or "1/4"
	Nominal  decimal.Decimal // nominal diameter
	Size     Limits          // least and greatest diameter
	// Shortest and Longest bound the lengths in which this diameter is made
	// (values from memory).
	Shortest, Longest decimal.Decimal
	// FromMemory says that the diameter's tolerance couldn't be checked against a
	// copy of the standard.
	FromMemory bool
	// Plain says that the pin is cut from rod and of no standard: Size is its nominal
	// diameter, since its tolerance isn't known.
	Plain bool
}

// Plain gives a pin cut from rod of a diameter, in the unit of a standard, which bounds
// how well its length is kept. It can be as long as 64 mm or 2-1/2 in, in steps of 1 mm
// or 1/16 in, and no shorter than it is thick.
func Plain(s Standard, dia decimal.Decimal) Pin {
	p := Pin{Standard: s, Unit: s.Unit(), Nominal: dia, Size: Limits{dia, dia}, Shortest: dia, Plain: true}
	p.Longest = decimal.NewFromInt(64)
	if p.Unit == transform.Inch {
		p.Longest = decimal.New(25, -1)
	}
	p.Label = p.LengthLabel(dia)
	return p
}

// made is a diameter with the range of its lengths: thousandths of a millimetre
// for the metric standards, sixty-fourths of an inch for the inch one.
type made struct{ dia, shortest, longest int64 }

type pinStandard struct {
	sizes   []made
	lengths []int64 // in the unit of made
}

// The diameters of ISO 8734 and ISO 2338, the lengths of every diameter and the
// inch lengths are values from memory. The metric series of lengths is that of
// ISO 2339. The diameters of ASME B18.8.5M and B18.8.2-2000 are
// as copies of those standards print them.
var pinStandards = [...]pinStandard{
	ISO8734:  {hardened, metricLengths[:upTo100]},
	ISO2338:  {unhardened, metricLengths},
	ISO2338h: {unhardened, metricLengths},
	B18_8_5M: {[]made{
		{3000, 8, 30}, {4000, 10, 40}, {5000, 12, 50}, {6000, 14, 60}, {8000, 18, 80}, {10000, 22, 100},
		{12000, 26, 100}, {16000, 40, 100}, {20000, 50, 100}, {25000, 60, 100},
	}, metricLengths[:upTo100]},
	B18_8_2: {[]made{
		{8, 24, 128}, {12, 32, 128}, {16, 32, 160}, {20, 32, 160}, {24, 32, 192}, {28, 56, 192},
		{32, 48, 256}, {40, 80, 320}, {48, 96, 384}, {56, 128, 384}, {64, 128, 384},
	}, []int64{24, 28, 32, 40, 48, 56, 64, 80, 96, 112, 128, 144, 160, 192, 224, 256, 288, 320, 352, 384}},
}

var hardened = []made{
	{1000, 3, 10}, {1500, 4, 16}, {2000, 5, 20}, {2500, 6, 24}, {3000, 8, 30}, {4000, 10, 40}, {5000, 12, 50},
	{6000, 14, 60}, {8000, 18, 80}, {10000, 22, 100}, {12000, 26, 100}, {16000, 40, 100}, {20000, 50, 100},
}

var unhardened = []made{
	{600, 2, 6}, {800, 2, 8}, {1000, 4, 10}, {1200, 4, 12}, {1500, 4, 16}, {2000, 6, 20}, {2500, 6, 24},
	{3000, 8, 30}, {4000, 8, 40}, {5000, 10, 50}, {6000, 12, 60}, {8000, 14, 80}, {10000, 18, 95},
	{12000, 22, 140}, {16000, 26, 180}, {20000, 35, 200}, {25000, 50, 200}, {30000, 60, 200},
	{40000, 80, 200}, {50000, 95, 200},
}

var metricLengths = []int64{
	2, 3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24, 26, 28, 30, 32, 35, 40, 45, 50, 55, 60, 65, 70, 75,
	80, 85, 90, 95, 100, 120, 140, 160, 180, 200,
}

// upTo100 counts the metric lengths up to and including 100 mm.
const upTo100 = 32

// Pins lists the standard's pins, thinnest first.
func Pins(s Standard) []Pin {
	if int(s) >= len(pinStandards) {
		return nil
	}
	list := make([]Pin, 0, len(pinStandards[s].sizes))
	for _, m := range pinStandards[s].sizes {
		list = append(list, s.pin(m))
	}
	return list
}

func (s Standard) pin(m made) Pin {
	if s == B18_8_2 {
		// Standard series: nominal + 0.0002, give or take 0.0001 (ASME B18.8.2-2000).
		d := sixtyFourths(m.dia)
		return Pin{
			Standard: s, Unit: transform.Inch, Label: fraction(m.dia), Nominal: d,
			Size:     Limits{d.Add(decimal.New(1, -4)), d.Add(decimal.New(3, -4))},
			Shortest: sixtyFourths(m.shortest), Longest: sixtyFourths(m.longest),
		}
	}
	d := micrometres(m.dia)
	p := Pin{
		Standard: s, Unit: transform.MM, Label: d.String(), Nominal: d,
		Shortest: decimal.NewFromInt(m.shortest), Longest: decimal.NewFromInt(m.longest),
	}
	switch s {
	case B18_8_5M:
		// 3 to 5 mm: 3 to 8 micrometres over nominal; from 6 mm: 3 to 9.
		upper := int64(9)
		if m.dia < 6000 {
			upper = 8
		}
		p.Size = Limits{d.Add(micrometres(3)), d.Add(micrometres(upper))}
	default:
		p.FromMemory = true
		c := Class{'m', 6}
		if s == ISO2338h {
			c = Class{'h', 8}
		}
		dev, _, err := c.Deviations(d)
		if err != nil {
			panic(err) // every listed diameter is in the table
		}
		p.Size = Limits{d.Add(dev.Lower), d.Add(dev.Upper)}
	}
	return p
}

// Lookup finds the standard's pin of a nominal diameter in the standard's unit.
func Lookup(s Standard, nominal decimal.Decimal) (Pin, error) {
	var labels []string
	for _, p := range Pins(s) {
		if p.Nominal.Equal(nominal) {
			return p, nil
		}
		labels = append(labels, p.Label)
	}
	if labels == nil {
		return Pin{}, &Error{Found: s.String(), Expected: "one of the known standards"}
	}
	return Pin{}, &Error{
		Found:    fmt.Sprintf("a dowel of %s %s", nominal, s.Unit()),
		Expected: fmt.Sprintf("a diameter of %s: %s", s, strings.Join(labels, ", ")),
	}
}

// From says what the pin is made to: its standard, or plain rod.
func (p Pin) From() string {
	if p.Plain {
		return "plain rod"
	}
	return p.Standard.String()
}

// Lengths lists the lengths in which the pin is made, shortest first.
func (p Pin) Lengths() []decimal.Decimal {
	var list []decimal.Decimal
	if p.Plain {
		step := decimal.NewFromInt(1)
		if p.Unit == transform.Inch {
			step = sixtyFourths(4)
		}
		for l := step; l.LessThanOrEqual(p.Longest); l = l.Add(step) {
			if l.GreaterThanOrEqual(p.Shortest) {
				list = append(list, l)
			}
		}
		return list
	}
	if int(p.Standard) >= len(pinStandards) {
		return nil
	}
	for _, n := range pinStandards[p.Standard].lengths {
		l := decimal.NewFromInt(n)
		if p.Unit == transform.Inch {
			l = sixtyFourths(n)
		}
		if l.GreaterThanOrEqual(p.Shortest) && l.LessThanOrEqual(p.Longest) {
			list = append(list, l)
		}
	}
	return list
}

// LengthTolerance gives by how much a pin of the standard may be longer or
// shorter than the nominal length, in the standard's unit. Metric: ISO 2339, the
// same for the other metric pins from memory; inch: ASME B18.8.2.
func LengthTolerance(s Standard, length decimal.Decimal) decimal.Decimal {
	switch {
	case s == B18_8_2:
		return decimal.New(10, -3)
	case length.LessThanOrEqual(decimal.NewFromInt(10)):
		return decimal.New(25, -2)
	case length.LessThanOrEqual(decimal.NewFromInt(50)):
		return decimal.New(5, -1)
	}
	return decimal.New(75, -2)
}

// sixtyFourths gives n/64, which is a finite decimal.
func sixtyFourths(n int64) decimal.Decimal { return decimal.New(n*15625, -6) }

// fraction writes n/64 of an inch in lowest terms, such as "1/4" or "1-1/2".
func fraction(n int64) string {
	whole, num, den := n/64, n%64, int64(64)
	if num == 0 {
		return fmt.Sprint(whole)
	}
	for num%2 == 0 {
		num, den = num/2, den/2
	}
	if whole == 0 {
		return fmt.Sprintf("%d/%d", num, den)
	}
	return fmt.Sprintf("%d-%d/%d", whole, num, den)
}

// LengthLabel writes a pin length as it is ordered, such as "24" or "1-1/4".
func (p Pin) LengthLabel(l decimal.Decimal) string {
	if p.Unit == transform.Inch {
		n := l.Mul(decimal.NewFromInt(64))
		if n.IsInteger() {
			return fraction(n.IntPart())
		}
	}
	return l.String()
}
