package pattern

import (
	"fmt"
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/fit"
)

// dowel gives one pin its standard size, length and holes.
func (p *Pattern) dowel(s site, i int, pin registration.Pin) (Dowel, error) {
	q, o := s.q, s.o
	d := Dowel{At: pin.At}
	if pin.Dia.IsZero() {
		name, key := called(q, i)
		return d, &registration.Error{About: key, Found: name + " has no diameter",
			Expected: "X,Y,DIA, since length and hole depend on it"}
	}
	std, err := fit.Lookup(o.Standard, pin.Dia)
	if err != nil {
		std = fit.Plain(o.Standard, pin.Dia)
	}
	d.Pin = std
	if std.FromMemory {
		p.fact(registration.LevelNote, PinSizeMemory{o.Standard.String()})
	}
	if err := p.hole(q, i, &d); err != nil {
		return d, err
	}
	if std.Plain {
		plain := PinPlain{Pin: i + 1, Dia: std.Nominal, Standard: o.Standard.String()}
		if q.Fit != "" {
			plain.Wanted = &FitPin{q.Fit, d.Play.Pin.Lower, d.Play.Pin.Upper}
		}
		p.fact(registration.LevelWarning, plain)
	}
	return d, p.length(s, i, &d)
}

// called gives the name of a pin and the key that asks for it: a dowel by its number, or
// the pin that clocks a plug.
func called(q registration.Question, i int) (name, key string) {
	if q.Register == registration.Plug {
		return "the index pin", "clock"
	}
	return fmt.Sprintf("dowel %d", i+1), "pin"
}

// hole sizes the hole in the blank.
func (p *Pattern) hole(q registration.Question, i int, d *Dowel) (err error) {
	hole := q.HoleOf(i)
	switch {
	case hole != nil:
		d.Hole = *hole
		if d.Play, err = fit.Drilled(d.Pin, *hole, decimal.Zero); err != nil {
			return registration.About(err, "hole")
		}
	case q.Fit != "":
		f, err := fit.Parse(q.Fit)
		if err != nil {
			return registration.About(err, "fit")
		}
		if d.Play, err = f.At(d.Pin.Nominal, q.Unit); err != nil {
			return registration.About(err, "fit")
		}
		d.Hole = d.Pin.Nominal
		if !d.Pin.Plain { // as its standard makes it, whatever the fit asks for
			memory := d.Play.FromMemory
			if d.Play, err = f.With(d.Pin); err != nil {
				return registration.About(err, "fit")
			}
			d.Play.FromMemory = memory
		}
		if d.Play.FromMemory {
			p.fact(registration.LevelNote, PinSizeMemory{f.String()})
		}
	default:
		e := &registration.Error{About: "fit", Found: "no fit and no hole", Expected: "‹fit› such as H7/g6, or ‹hole DIA›",
			Hint: "drilled in wood: 0.1 mm wider (common practice), such as ‹hole 6.1› for 6; reamed, and ground to the class: H7/g6 slides, H7/h6 is close, H8/f7 is easy, H7/m6 may need pressing"}
		if q.Unit == transform.Inch {
			e.About, e.Expected, e.Hint = "hole", "‹hole DIA›, since ISO 286 fits don't name inch holes", d.Pin.Takes()
		}
		return e
	}
	if hole != nil && d.Play.Min.IsNegative() {
		p.fact(registration.LevelWarning, PinTight{d.Hole, d.Play.Min, d.Play.Max})
	}
	return nil
}

// classes compares the pins that the fit asks for with those that the standard
// makes.
func (p *Pattern) classes(q registration.Question, standard fit.Standard) {
	f, err := fit.Parse(q.Fit)
	if err != nil {
		return // no fit: a hole was given
	}
	class := PinClass{Standard: standard.String(), Fit: f.String()}
	differs := false
	for i, d := range p.Dowels {
		if d.Pin.Plain || slices.ContainsFunc(p.Dowels[:i], func(o Dowel) bool { return o.Pin.Nominal.Equal(d.Pin.Nominal) }) {
			continue
		}
		real, err := f.With(d.Pin)
		if err != nil {
			return // At has refused it already
		}
		asked, err := f.At(d.Pin.Nominal, q.Unit)
		if err != nil {
			return
		}
		differs = differs || !real.Min.Equal(asked.Min) || !real.Max.Equal(asked.Max)
		class.Gives = append(class.Gives, Given{d.Pin.Label, real.Min, real.Max})
	}
	if differs {
		p.fact(registration.LevelWarning, class)
	}
}

// length gives the pin its length, or says why there is none.
func (p *Pattern) length(s site, i int, d *Dowel) error {
	if s.o.Spoilboard.IsZero() {
		p.fact(registration.LevelNote, BedUnsaid{})
		return nil
	}
	if !d.Pin.Plain {
		p.fact(registration.LevelNote, PinLengthsMemory{d.Pin.Standard.String()})
	}
	var ok bool
	if d.Length, d.InBlank, d.InBed, d.Tolerance, ok = s.cutLength(d.Pin); !ok {
		name, key := called(s.q, i)
		return &registration.Error{About: key, No: true,
			Found:    fmt.Sprintf("no length of %s suits %s of %s: %s of room in the blank, %s in the bed", d.Pin.From(), name, d.Pin.Label, s.room(), s.o.Spoilboard),
			Expected: "at least one diameter in each",
			Hint:     "use a thinner one, a deeper spoilboard or less depth over it"}
	}
	return nil
}

// cutLength chooses a pin's length and how it divides between blank and bed. A
// pin must hold by at least one diameter in the blank and one in the bed, and end
// under the top and under any cut. Of the lengths that do, those that reach
// farthest into the blank win, and of these the shortest.
func (s site) cutLength(pin fit.Pin) (length, inBlank, inBed, tolerance decimal.Decimal, ok bool) {
	most := s.room()
	step := grain.in(s.q.Unit)
	for _, l := range pin.Lengths() {
		tol := fit.LengthTolerance(pin.Standard, l)
		// A pin that stands on the bottom of its hole ends tol higher at most.
		bed := decimal.Max(l.Sub(most).Add(tol), pin.Nominal)
		bed = bed.DivRound(step, 9).Ceil().Mul(step)
		in := l.Sub(bed)
		if bed.GreaterThan(s.o.Spoilboard) || in.Sub(tol).LessThan(pin.Nominal) {
			continue
		}
		if !ok || in.GreaterThan(inBlank) {
			length, inBlank, inBed, tolerance, ok = l, in, bed, tol, true
		}
	}
	return length, inBlank, inBed, tolerance, ok
}

// drilledOver is how much wider than its class a hole comes out of a drill or a plunged
// flat cutter, mm (common practice).
var drilledOver = decimal.New(5, -2)

// AsDrilled warns of a fit whose hole, of grade 8 or finer, no drill or plunged cutter
// makes: it takes a reamer or a boring pass. ok is false where nothing is to be said.
func AsDrilled(q registration.Question) (f registration.Fact, ok bool) {
	t, err := fit.Parse(q.Fit)
	if err != nil || q.Register != registration.Dowels || t.Hole.Grade > 8 {
		return f, false
	}
	var most decimal.Decimal
	for _, p := range q.Pins {
		play, err := t.At(p.Dia, q.Unit)
		if err != nil {
			return f, false
		}
		most = decimal.Max(most, play.Max)
	}
	return registration.Fact{Level: registration.LevelWarning,
		Is: FitAsDrilled{t.Hole.String(), drilledOver, most.Add(drilledOver)}}, len(q.Pins) > 0
}
