package mirror

import (
	"bytes"
	"errors"
	"io"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fact"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/plain"
	"flipcalc/mirror/transform"
)

// mirrorTurned mirrors a program through a map that has a turn: word by word through the map
// without it, proved as ever, then every move of the result written out and turned about
// the zero of its work offset (plain), proved move by move.
func mirrorTurned(in io.Reader, out io.Writer, o Options) (*Report, error) {
	straight := o
	straight.Map, straight.Direct, straight.Stream = o.Map.Straight(), true, false
	var text, written bytes.Buffer
	r, err := Mirror(in, &text, straight)
	if err != nil {
		return nil, err
	}
	if len(r.Called) > 1 {
		return nil, &fault.Error{File: o.Name, Found: strings.Join(r.Called, ", ") + ", and a turn of " + o.Map.Turn.String() + " degrees",
			Expected: "one work offset, about whose zero the program is turned", Hint: "write one program for each offset"}
	}
	read := o.motionOptions(o.Name+" (mirrored)", o.top().Add(o.Map.Z.Offset))
	w, err := plain.Write(text.Bytes(), &written, plain.Options{Read: read, Turn: o.Map.Turn})
	if err != nil {
		return nil, inInput(err, o.Name, r.sourceLine)
	}
	if r.Summarised {
		after, err := motion.Walk(bytes.NewReader(written.Bytes()), read, nil)
		if err != nil {
			return nil, err
		}
		r.After = *after
	}
	r.Map.Turn, r.InchMap.Turn = o.Map.Turn, o.Map.Turn
	r.Written = w
	r.Notes = append(r.Notes, Note{Level: fact.Note, Is: WrittenTurned{Degrees: o.Map.Turn, Decimals: w.Places[o.Map.Unit], Unit: o.Map.Unit}})
	_, err = written.WriteTo(out)
	return r, err
}

// sourceLine gives the line of the program that a line of the mirrored one came from.
func (r *Report) sourceLine(line int) int {
	before := 0
	for _, l := range r.Added {
		if l < line {
			before++
		}
	}
	return line - before
}

// SourceLine gives the line of the program that a line of what Mirror wrote came from.
// Lines that were put in give the line after them.
func (r *Report) SourceLine(line int) int {
	if w := r.Written; w != nil && line > 0 && line <= len(w.Lines) {
		line = int(w.Lines[line-1])
	}
	line = r.sourceLine(line)
	for _, c := range r.Turned {
		if c.First <= line && line <= c.Last {
			return c.First
		}
	}
	return line
}

// inInput puts the lines that an error names into the program that was mirrored.
func inInput(err error, name string, source func(int) int) error {
	var f *fault.Error
	if !errors.As(err, &f) || f.No || f.Line == 0 {
		return err
	}
	g := *f
	g.File, g.Line, g.Col = name, source(f.Line), 1
	return &g
}

// top is the height of the blank's upper surface, 0 where it isn't known.
func (o *Options) top() decimal.Decimal {
	if o.Top == nil {
		return decimal.Decimal{}
	}
	return *o.Top
}

// motionOptions says how the control reads a program whose work has its top at Z surface.
func (o *Options) motionOptions(name string, surface decimal.Decimal) motion.Options {
	m := motion.Options{Name: name, Unit: o.Unit, AbsoluteCentres: o.AbsoluteCentres, Rates: o.Rates, Inert: o.Inert, Extended: true,
		Surface: motion.FromDecimal(transform.InMM(surface, o.Map.Unit))}
	if o.ArcTolerance.IsPositive() {
		m.ArcTolerance = motion.FromDecimal(o.ArcTolerance)
	}
	return m
}
