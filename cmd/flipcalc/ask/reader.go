package ask

import (
	"errors"
	"io/fs"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
	"flipcalc/registration/budget"
)

// At puts a flag's place into an error that speaks of a value alone.
func (c *Ask) At(name string, err error) error { return about(c.Where(name), name, err) }

// about puts the place where a flag or key was given into an error of its value.
func about(where, name string, err error) error {
	var f *fault.Error
	switch {
	case err == nil:
		return nil
	case errors.As(err, &f) && f.Line == 0:
		named := *f
		rest := strings.TrimPrefix(f.About, name)
		named.About, named.File = where+rest, ""
		return &named
	}
	return Wrong(where, err.Error(), "", "")
}

// Placed says where the value that an error speaks of was given: in place of a flag's
// name at its start the place in the job file, where the value came from there, and
// before the name of a file that can't be read the key or flag that named it. Every
// error of a verb passes through here.
func (c *Ask) Placed(err error) error {
	var f *fault.Error
	var pe *fs.PathError
	var list Faults
	switch {
	case errors.As(err, &list): // each has its place
		return c.Worded(err)
	case errors.As(err, &f) && f.Error() == err.Error():
		named := c.worded(f)
		if f.About != "" {
			named.About = c.givenAt(f.About)
		}
		return named
	case errors.As(err, &pe):
		if where := c.naming(pe.Path); where != "" {
			f := Refusal(err)
			return Wrong(where+": "+f.About, f.Found, "", f.Hint)
		}
	}
	return err
}

// givenAt turns the key at the start of a place into the flag, or the key's place in the
// job or machine file, wherever its value was given.
func (c *Ask) givenAt(where string) string {
	key, rest, _ := strings.Cut(where, " ")
	file, machine := c.naming(where), c.machineAt[where]
	switch v := c.flags[key]; {
	case file != "":
		return file + ": " + where
	case machine != "" && !c.Given(key):
		return machine
	case v != nil:
		return strings.TrimSpace(v.where + " " + rest)
	case Find(key) != nil: // of another verb, by which this one does a part of its work
		return strings.TrimSpace(Find(key).spelt() + " " + rest)
	}
	return where
}

// naming gives the place of the flag or key that names a file, "" where none does.
func (c *Ask) naming(path string) string {
	if slices.Contains(c.Operands, path) {
		return ""
	}
	for i := range Table {
		if v := c.flags[Table[i].Key]; v != nil && v.def.Form == "FILE" && slices.Contains(v.vals, path) {
			return v.where
		}
	}
	return ""
}

// Unit is the unit of plain lengths; mm where the one that was given can't be read.
func (c *Ask) Unit() transform.Unit {
	if v := c.flags["units"]; v != nil && len(v.parsed) > 0 {
		return v.parsed[len(v.parsed)-1].(transform.Unit)
	}
	return transform.MM
}

// Value is what a key says, or else its default in the table, or else nothing. The values
// that can't be read were told before any verb begins.
func Value[T any](c *Ask, key string) (v T) {
	switch said := c.flags[key]; {
	case said == nil:
	case len(said.parsed) > 0:
		v = said.parsed[len(said.parsed)-1].(T)
	case len(said.vals) == 0 && said.def.Default != "":
		if parsed, err := said.def.parse("", []string{c.assumed(said.def)}, c.Unit()); err == nil {
			v = parsed[0].(T)
		}
	}
	return v
}

// Said is what a key says, and nothing in place of its default: for what is told where it
// was assumed.
func Said[T any](c *Ask, key string) (v T) {
	if c.Given(key) {
		v = Value[T](c, key)
	}
	return v
}

// Optional is what a key says; nil where it wasn't given.
func Optional[T any](c *Ask, key string) *T {
	if !c.Given(key) {
		return nil
	}
	v := Value[T](c, key)
	return &v
}

// Values are all that a key says which may be given more than once.
func Values[T any](c *Ask, key string) (list []T) {
	if said := c.flags[key]; said != nil {
		for _, v := range said.parsed {
			list = append(list, v.(T))
		}
	}
	return list
}

// Length is the length that a key says, or its default.
func (c *Ask) Length(key string) decimal.Decimal { return Value[decimal.Decimal](c, key) }

// OptionalLength is the length that a key says; nil where it wasn't given.
func (c *Ask) OptionalLength(key string) *decimal.Decimal { return Optional[decimal.Decimal](c, key) }

// Tolerances are the terms of the budget that are given.
func (c *Ask) Tolerances() budget.Tolerances { return c.tolerances }

// readTolerances puts the terms of the budget together, each of which is given once.
func (c *Ask) readTolerances() error {
	c.tolerances = budget.Tolerances{}
	for _, s := range c.Texts("tolerance") {
		if err := setTolerance(c.tolerances, s, c.Unit()); err != nil {
			return c.At("tolerance", err)
		}
	}
	return nil
}

// Lengths are all lengths that a key says which may be given more than once.
func (c *Ask) Lengths(key string) []decimal.Decimal { return Values[decimal.Decimal](c, key) }
