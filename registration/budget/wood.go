package budget

import (
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
)

// Species is a wood with its coefficients of dimensional change, per percent of
// moisture between 6 and 14 %: Radial for quartersawn and Tangential for
// flatsawn width.
type Species struct {
	Name               string // as in the table: kind, then which
	Radial, Tangential decimal.Decimal
	FromMemory         bool // the softwoods but for one coefficient of white fir
	From               From
}

type speciesRow struct {
	name   string
	cr, ct int64 // 1e-5 per percent
	mem    bool
}

// Wood Handbook (FPL-GTR-190, 2010), table 13-5: the hardwoods as printed; the
// softwoods are values from memory.
var speciesTable = []speciesRow{
	{"alder, red", 151, 256, false}, {"ash, black", 172, 274, false}, {"ash, white", 169, 274, false},
	{"aspen, quaking", 119, 234, false}, {"basswood, american", 230, 330, false}, {"beech, american", 190, 431, false},
	{"birch, paper", 219, 304, false}, {"birch, yellow", 256, 338, false}, {"butternut", 116, 223, false},
	{"cherry, black", 126, 248, false}, {"chestnut, american", 116, 234, false}, {"cottonwood, eastern", 133, 327, false},
	{"elm, american", 144, 338, false}, {"elm, rock", 165, 285, false}, {"hackberry", 165, 315, false},
	{"hickory, pecan", 169, 315, false}, {"locust, black", 158, 252, false}, {"maple, bigleaf", 126, 248, false},
	{"maple, red", 137, 289, false}, {"maple, silver", 102, 252, false}, {"maple, sugar", 165, 353, false},
	{"oak, live white", 230, 338, false}, {"oak, red", 158, 369, false}, {"oak, white", 180, 365, false},
	{"sweetgum", 183, 365, false}, {"sycamore, american", 172, 296, false}, {"tupelo, black", 176, 308, false},
	{"walnut, black", 190, 274, false},
	{"douglas-fir, coast", 165, 267, true}, {"fir, white", 112, 245, true}, {"pine, eastern white", 71, 212, true},
	{"pine, ponderosa", 133, 216, true}, {"redcedar, western", 111, 234, true}, {"redwood, old growth", 120, 205, true},
	{"spruce, sitka", 148, 263, true},
}

// Woods lists the known species.
func Woods() []Species {
	var list []Species
	for _, s := range speciesTable {
		list = append(list, s.species())
	}
	return list
}

// FindWood finds a species by its name: "beech", "white oak" or "oak, white",
// capitals or not. A name that fits several is an error that lists them. A number is the
// maker's own figure: the movement in % for each % of moisture, however the board was sawn.
func FindWood(name string) (Species, error) {
	if own, err := decimal.NewFromString(name); err == nil {
		if !own.IsPositive() || own.GreaterThan(decimal.NewFromInt(1)) {
			return Species{}, woodFault(name, "% of movement for each % of moisture, above 0, at most 1")
		}
		return Species{Name: name, Radial: own.Shift(-2), Tangential: own.Shift(-2), From: Given}, nil
	}
	ask := woodWords(name)
	var found []speciesRow
	for _, s := range speciesTable {
		have := woodWords(s.name)
		all := len(ask) > 0
		for _, w := range ask {
			all = all && slices.Contains(have, w)
		}
		if all && len(ask) == len(have) {
			return s.species(), nil
		}
		if all {
			found = append(found, s)
		}
	}
	switch len(found) {
	case 1:
		return found[0].species(), nil
	case 0:
		return Species{}, woodFault(strconv.Quote(name), "one of: "+woodNames(speciesTable))
	}
	return Species{}, woodFault(strconv.Quote(name), "which one: "+woodNames(found))
}

func woodFault(found, expected string) error {
	return &registration.Error{About: "wood", Found: found, Expected: expected}
}

func woodNames(rows []speciesRow) string {
	var list []string
	for _, s := range rows {
		list = append(list, s.name)
	}
	return strings.Join(list, "; ")
}

func (s speciesRow) species() Species {
	return Species{Name: s.name, Radial: decimal.New(s.cr, -5), Tangential: decimal.New(s.ct, -5), FromMemory: s.mem, From: Handbook}
}

func woodWords(s string) []string {
	return strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return r == ' ' || r == ',' || r == '-' || r == '_' })
}

// Movement gives the change of a width d across the grain when the moisture
// changes by dm percent, in d's unit: d C dm, with C for flatsawn or quartersawn
// boards. Source: Wood Handbook (FPL-GTR-190, 2010), equation 13-2, for 6 to 14 %.
func (s Species) Movement(d, dm decimal.Decimal, quartersawn bool) decimal.Decimal {
	c := s.Tangential
	if quartersawn {
		c = s.Radial
	}
	return d.Mul(c).Mul(dm)
}
