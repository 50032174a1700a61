// Package words holds every sentence that a maker reads: one typed fact of the engines, one
// sentence. It knows no page and no terminal; those are laid out in report.
package words

import (
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report/letters"
)

// Flip says a flip so that nobody turns the blank the wrong way.
func Flip(f registration.Flip) string {
	switch f {
	case registration.FlipY:
		return "turned over about a line parallel to Y, like a page: left edge goes right"
	case registration.FlipX:
		return "turned over about a line parallel to X: near edge goes far"
	}
	return "not turned over"
}

// Zero says where a program's X0 Y0 lies on the blank.
func Zero(z registration.Zero, at registration.Point) string {
	switch z.Name {
	case "":
		return letters.XY(at) + " from the near-left corner"
	case "center":
		return "center of the blank (" + letters.XY(at) + " from its near-left corner)"
	}
	return z.Name + " corner of the blank"
}

// ZZero says what a program calls Z0.
func ZZero(z registration.ZZero) string {
	if z == registration.Bed {
		return "the seating plane (bed)"
	}
	return "the top"
}

// Register says how the blank is found again.
func Register(q registration.Question) string {
	switch q.Register {
	case registration.Dowels:
		s := letters.Plural(len(q.Pins), "dowel", "dowels")
		if q.BackPin != nil {
			return s + " at each of two stations"
		}
		return s + ", the same for both sides"
	case registration.Plug:
		s := "plug in the bore"
		switch q.Clock.Kind {
		case registration.ClockPin:
			s += ", clocked by an index pin"
		case registration.ClockFlat:
			s += ", clocked by a flat on the " + q.Clock.Side.String() + " side"
		case registration.ClockFence:
			s += ", clocked by a fence"
		default:
			if q.Round {
				s += ", round part: any turn will do"
			}
		}
		return s
	case registration.FenceStop:
		s := "fence " + q.Fence.Side.String() + ", stop " + q.Stop.Side.String()
		bf, bs := backSide(q.BackFence, q.Fence), backSide(q.BackStop, q.Stop)
		if bf == q.Fence.Side && bs == q.Stop.Side {
			return s + ", the same sides for the back"
		}
		return s + "; for the back fence " + bf.String() + ", stop " + bs.String()
	}
	if q.Register == registration.Touched {
		return letters.Plural(len(q.Touched), "touch", "touches") + " of the turned blank"
	}
	return "none given: the transform only"
}

func backSide(back, face registration.Contact) registration.Side {
	if back.Side == registration.NoSide {
		return face.Side
	}
	return back.Side
}

// Touch says which physical edge meets the locators along one axis on the
// two sides, and what follows from it.
func Touch(t registration.Touch) string {
	var b strings.Builder
	back := t.BackLocator
	if back == "" {
		back = t.Locator
	}
	b.WriteString(t.Locator)
	if back != t.Locator {
		b.WriteString(", then " + back)
	}
	if t.SameEdge {
		b.WriteString(": the same edge touches both times (" + t.FaceEdge.String() +
			", face up), so size errors stay out")
		return b.String()
	}
	b.WriteString(": another edge touches on the back (" + t.BackEdge.String() + ", not " + t.FaceEdge.String() +
		", face up), so size errors enter")
	var cures []string
	if t.KeepSide != registration.NoSide {
		cures = append(cures, "a "+t.KeepSide.String()+" "+back+" for the back (--back-"+back+" "+t.KeepSide.String()+")")
	}
	if t.KeepFlip != registration.FlipUnset {
		c := "flip " + t.KeepFlip.String() + ""
		if t.KeepFlipSpoils {
			c += " (it changes the other locator's edge)"
		}
		cures = append(cures, c)
	}
	if len(cures) > 0 {
		b.WriteString("; to use the same edge: " + strings.Join(cures, ", or "))
	}
	return b.String()
}

// LayUp says how the blank could go onto its pins in one of the four ways; lengths
// are in unit.
func LayUp(l registration.LayUp, unit transform.Unit) string {
	switch {
	case l.Fits && l.Wanted:
		return "fits, as wanted"
	case l.Fits && l.Name == registration.LayAsIs:
		return "fits unturned too: check which side is up"
	case l.Fits:
		text := "fits too"
		if !l.Turn.IsZero() {
			text += ", turned by " + l.Turn.Abs().String() + " degrees"
		}
		if !l.Shift.X.IsZero() || !l.Shift.Y.IsZero() {
			text += ", " + letters.XY(l.Shift) + " off"
		}
		return text + ": the dowels let this mistake through"
	case l.Near:
		return "misses by only " + l.Miss.String() + " " + unit.String() + ": a push may let it on"
	case l.Reason != "":
		return "no: " + layUpReason(l.Reason)
	}
	return "no"
}

// layUpReason finds the words for a lay-up's reason; one that is words already
// stays as it is.
func layUpReason(r string) string {
	if w, ok := layUpReasons[r]; ok {
		return w
	}
	return r
}

// Arcs says which arcs change sense.
func Arcs(m transform.Map) string {
	var swap, keep []string
	for _, p := range []transform.Plane{transform.XY, transform.ZX, transform.YZ} {
		if m.SwapsArcs(p) {
			swap = append(swap, p.String())
		} else {
			keep = append(keep, p.String())
		}
	}
	switch {
	case len(swap) == 0:
		return "all arcs keep their sense"
	case len(keep) == 0:
		return "arcs change sense in every plane"
	}
	s := letters.List(swap) + " arcs change sense, " + letters.List(keep) + " arcs keep it"
	if m.OneAxis() {
		s += "; climb becomes conventional"
	}
	return s
}

// Frame says what coordinates are measured from.
func Frame(machine bool) string {
	if machine {
		return "machine coordinates"
	}
	return "from the face zero"
}

// SecondZero says where the back's zero goes.
func SecondZero(z registration.SecondZero) string {
	return z.Offset + ": " + letters.XYZ(z.X, z.Y, z.Z) + " (" + Frame(z.Machine) + ")"
}

var layUpReasons = map[string]string{
	registration.ReasonPlaces:    "holes not over dowels",
	registration.ReasonFlat:      "flats not together",
	registration.ReasonDiameters: "dowel sizes differ",
}

// Lie say by how much the back program is turned.
func Lie(l *registration.Lie) string {
	switch {
	case l.Turn.IsZero():
		return "lies straight"
	case l.Turn.Abs().Equal(decimal.New(180, 0)):
		return "lies end for end"
	}
	return "turned " + l.Turn.String() + "°"
}
