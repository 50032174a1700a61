package words

import (
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report/letters"
)

// What is doubtful or assumed of a set-up as a whole.
type (
	// UnitsDefault: no unit was given.
	UnitsDefault struct{ Unit transform.Unit }
	// ZDoubtful: the Z of the face zero doesn't go with table, seat and thickness.
	ZDoubtful struct {
		bed.Doubt
		Zero registration.ZZero
	}
	// ZPositive: a machine Z over 0 where the travel isn't known.
	ZPositive struct{ Z decimal.Decimal }
	// OutsideTravel: a zero or a blank outside the travel.
	OutsideTravel struct{ bed.Outside }
	// NoClampRoom: blanks placed near the end of the travel on these sides, at least so far
	// from it.
	NoClampRoom struct {
		Sides []string
		Least decimal.Decimal
		Unit  transform.Unit
	}
	// Reach: what was counted of the cutters where stations were placed: the widest one's
	// diameter, 0 where none was given, and whether paths were.
	Reach struct {
		Widest   decimal.Decimal
		Programs bool
	}
	// Crowded: a measured piece takes of the room between two stations.
	Crowded bed.Crowd
	// OneStation: nothing asks for a second one.
	OneStation struct{}
	// BlankOn: a blank lies where something stands.
	BlankOn struct{ Side, What string }
)

// What the cut in memory rests on, and what it leaves unchecked.
type (
	// PinHeights: the dowels' least and greatest height over the seat, by length less hole
	// depth; Thick is the blank's where they stand out of it.
	PinHeights struct {
		Least, Most decimal.Decimal
		Thick       *decimal.Decimal
	}
	// FenceHeight: the locators' height, taken as the blank's.
	FenceHeight struct {
		Locators string
		Height   decimal.Decimal
	}
	// StationUnknown: what isn't checked on a side, or on both where it is "", and the keys that
	// would say where the station lies; none where the blank is still to be touched.
	StationUnknown struct {
		Side string
		What []string
		Keys []string
	}
	// LevelUnknown: the sides of which the height isn't known, the least and the greatest Z of
	// each one's programs, none where one isn't known, and the keys that would say the height.
	LevelUnknown struct {
		Sides []string
		Ends  [][2]decimal.Decimal `json:"-"`
		Keys  []string
	}
	// TravelUnknown: no machine is given.
	TravelUnknown struct{}
	// NoBudget: no register is given.
	NoBudget struct{}
)

// setupFact: what is doubtful of a set-up, and what wasn't checked.
func setupFact(is any, u string) string {
	switch f := is.(type) {
	case UnitsDefault:
		return "plain lengths taken as " + f.Unit.String()
	case ZDoubtful:
		return doubtful(f)
	case ZPositive:
		return "machine Z is usually negative (home at the top): check the sign of Z" + f.Z.String()
	case OutsideTravel:
		if f.What == "blank" {
			return "the " + f.Side + "'s blank reaches " + f.Axis + f.At.String() + ", outside the travel, " + f.Least.String() + " to " + f.Greatest.String()
		}
		return "the " + f.Side + "'s zero at " + f.Axis + f.At.String() + " is outside the travel, " + f.Least.String() + " to " + f.Greatest.String()
	case NoClampRoom:
		return "no room for clamps on the " + letters.List(f.Sides) + " side: travel ends in " + f.Least.String() + " " + f.Unit.String() + "; give fixture"
	case Reach:
		switch {
		case f.Programs:
			return "no cutter given: paths counted without the cutters' width"
		case f.Widest.IsPositive():
			return "no program given: a cutter of " + f.Widest.String() + " " + u + " counted along the blank's edges"
		}
		return "no program and no cutter given: no cutter's reach counted"
	case Crowded:
		s := f.One + " and " + f.Other + ": the measured piece leaves " + f.Left.String() + " of the gap of " + f.Gap.String() + " " + u
		if f.Left.IsNegative() {
			s = f.One + " and " + f.Other + ": with the measured piece the stations overlap by " + f.Left.Neg().String() + " " + u
		}
		return s + "; give its size as stock"
	case OneStation:
		return "one station, where the blank is turned over: pairs = 1 places a second one"
	case BlankOn:
		return "the " + f.Side + "'s blank is over " + f.What + ": move one of them"
	case PinHeights:
		s := "dowels " + f.Least.String()
		if !f.Most.Equal(f.Least) {
			s += " to " + f.Most.String()
		}
		s += " " + u + " over the seat at most, by length less hole depth; set pin-height if not"
		if f.Thick != nil {
			s += "; they stand out of the blank, " + f.Thick.String() + " thick"
		}
		return s
	case FenceHeight:
		return f.Locators + " assumed " + f.Height.String() + " " + u + " over the seat, as high as the blank; along the whole edge but a cutter's width at its corners; set fence-height if not"
	case StationUnknown:
		s := letters.List(f.What) + " not checked"
		if f.Side != "" {
			s += " on the " + f.Side
		}
		if len(f.Keys) == 0 {
			return s + ": touch the turned blank first"
		}
		return s + ": watch the dry run [" + strings.Join(f.Keys, ", ") + "]"
	case LevelUnknown:
		to := "to the highest and the deepest Z"
		if len(f.Ends) == len(f.Sides) {
			var ends []string
			for i, e := range f.Ends {
				ends = append(ends, f.Sides[i]+" Z"+e[1].String()+" and Z"+e[0].String())
			}
			to = "to: " + strings.Join(ends, "; ")
		}
		return "travel in Z not checked on the " + letters.List(f.Sides) + "; beside the blank jog first " + to + " [" + strings.Join(f.Keys, ", ") + "]"
	case TravelUnknown:
		return "travel not known and not checked"
	case NoBudget:
		return "no register given: web checked without misalignment"
	}
	return ""
}

// doubtful says why a Z can't be right, and which level it would suit.
func doubtful(f ZDoubtful) string {
	s := "Z" + f.At.String() + " of the face zero can't be right; table, seat and thickness put " + level(f.Zero) + " at Z" + f.Expected.String()
	if f.Least {
		s += " or higher"
	}
	if f.Other {
		other := registration.Top
		if f.Zero == registration.Top {
			other = registration.Bed
		}
		s += "; it suits " + level(other) + ": check z-zero"
	}
	return s + "; the back's Z is off too"
}

func level(z registration.ZZero) string {
	if z == registration.Bed {
		return "the seating plane"
	}
	return "the blank's top"
}
