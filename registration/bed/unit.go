package bed

import (
	"reflect"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// cornerPlaces is the resolution to which corners placed in millimetres are
// rounded for a job in inches: 0.0001 in is 2.5 um, below what a stored offset of
// such a control holds (four decimals, common practice). A corner thus moves by at
// most 0.00005 in, far less than any gap.
const cornerPlaces = 4

// into gives lengths of one unit in another one, to 1e-9 of it.
func into(from, to transform.Unit) func(decimal.Decimal) decimal.Decimal {
	return func(v decimal.Decimal) decimal.Decimal {
		w, _ := transform.Convert(v, from, to, places)
		return w
	}
}

// lengths gives a copy of v with every decimal in it, of its fields, its lists and behind its
// pointers, as f has it: all that this package knows by decimals is lengths, and rates and
// accelerations, which convert alike. Unexported fields stay as they are.
func lengths[T any](v T, f func(decimal.Decimal) decimal.Decimal) T {
	convert(reflect.ValueOf(&v).Elem(), f)
	return v
}

// eachLength visits them.
func eachLength(of any, visit func(decimal.Decimal)) {
	v := reflect.New(reflect.TypeOf(of)).Elem()
	v.Set(reflect.ValueOf(of))
	convert(v, func(d decimal.Decimal) decimal.Decimal {
		visit(d)
		return d
	})
}

func convert(v reflect.Value, f func(decimal.Decimal) decimal.Decimal) {
	if d, is := v.Interface().(decimal.Decimal); is {
		v.Set(reflect.ValueOf(f(d)))
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			to := reflect.New(v.Type().Elem())
			to.Elem().Set(v.Elem())
			convert(to.Elem(), f)
			v.Set(to)
		}
	case reflect.Slice:
		v.Set(reflect.AppendSlice(reflect.Zero(v.Type()), v)) // the caller's own stays as it is
		fallthrough
	case reflect.Array:
		for i := range v.Len() {
			convert(v.Index(i), f)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Field(i).CanSet() {
				convert(v.Field(i), f)
			}
		}
	}
}

// In gives an area that is in one unit in another one, to 1e-9 of it.
func (a Area) In(from, to transform.Unit) Area { return lengths(a, into(from, to)) }

// In gives the layout in unit u. From millimetres to inches corners and Z are
// rounded to 0.0001 in; each zero stays exactly as far from its corner as it was.
func (l *Layout) In(u transform.Unit) *Layout {
	if l.Unit == u {
		return l
	}
	length := func(v decimal.Decimal, places int32) decimal.Decimal {
		w, _ := transform.Convert(v, l.Unit, u, places)
		return w
	}
	rect := func(r Rect) Rect {
		return lengths(r, func(v decimal.Decimal) decimal.Decimal { return length(v, 6) })
	}
	out := *l
	out.Unit = u
	out.Stations = nil
	for _, s := range l.Stations {
		c := registration.Point{X: length(s.Corner.X, cornerPlaces), Y: length(s.Corner.Y, cornerPlaces)}
		s.Zero.X = c.X.Add(length(s.Zero.X.Sub(s.Corner.X), 12))
		s.Zero.Y = c.Y.Add(length(s.Zero.Y.Sub(s.Corner.Y), 12))
		if s.Zero.Z != nil {
			z := length(*s.Zero.Z, cornerPlaces)
			s.Zero.Z = &z
		}
		s.Corner, s.Blank, s.Occupied, s.Reached = c, rect(s.Blank), rect(s.Occupied), rect(s.Reached)
		out.Stations = append(out.Stations, s)
	}
	return &out
}
