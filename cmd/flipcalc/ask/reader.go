package ask

import (
	"errors"
	"io/fs"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
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
		rest := strings.TrimPrefix(strings.TrimPrefix(f.About, "--"), name)
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
			return Wrong(where+": "+f.File, f.Found, "", f.Hint)
		}
	}
	return err
}

// givenAt turns the key at the start of a place into the flag, or the key's place in the
// job or machine file, wherever its value was given.
func (c *Ask) givenAt(where string) string {
	key, rest, _ := strings.Cut(strings.TrimPrefix(where, "--"), " ")
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
	for _, key := range fileKeys {
		if v := c.flags[key]; v != nil && slices.Contains(v.vals, path) {
			return v.where
		}
	}
	return ""
}

// Unit is the unit of plain lengths.
func (c *Ask) Unit() (transform.Unit, error) {
	u, err := registration.ParseUnit(c.Text("units"))
	return u, c.At("units", err)
}

// Reader reads flags into values and keeps the first error.
type Reader struct {
	c    *Ask
	Unit transform.Unit
	Err  error
}

// NewReader reads lengths in the call's unit.
func (c *Ask) NewReader() *Reader {
	u, err := c.Unit()
	return &Reader{c: c, Unit: u, Err: err}
}

// Read parses a flag that was given; it reports whether it did.
func Read[T any](r *Reader, name string, parse func(string) (T, error), into *T) bool {
	if r.Err != nil || !r.c.Given(name) {
		return false
	}
	v, err := parse(r.c.Text(name))
	if err != nil {
		r.Err = r.c.At(name, err)
		return false
	}
	*into = v
	return true
}

// Optional reads a flag into a pointer that stays nil where it wasn't given.
func Optional[T any](r *Reader, name string, parse func(string) (T, error), into **T) {
	var v T
	if Read(r, name, parse, &v) {
		*into = &v
	}
}

// Every reads a flag that may be given more than once.
func Every[T any](r *Reader, name string, parse func(string) (T, error), into *[]T) {
	for _, s := range r.c.Texts(name) {
		if r.Err != nil {
			return
		}
		v, err := parse(s)
		if err != nil {
			r.Err = r.c.At(name, err)
			return
		}
		*into = append(*into, v)
	}
}

// In gives a parser of values that hold lengths in the reader's unit.
func In[T any](r *Reader, parse func(string, transform.Unit) (T, error)) func(string) (T, error) {
	return func(s string) (T, error) { return parse(s, r.Unit) }
}

// Length parses a length in the reader's unit.
func (r *Reader) Length(s string) (decimal.Decimal, error) {
	return registration.ParseLength(s, r.Unit)
}

// Tolerances reads the terms of the budget that are given.
func (c *Ask) Tolerances(r *Reader) (budget.Tolerances, error) {
	list := budget.Tolerances{}
	for _, t := range c.Texts("tolerance") {
		if r.Err != nil {
			return nil, r.Err
		}
		if err := list.Set(t, r.Unit, r.Length); err != nil {
			return nil, c.At("tolerance", err)
		}
	}
	return list, nil
}
