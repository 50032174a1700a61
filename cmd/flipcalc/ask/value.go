package ask

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/budget"

	"github.com/spf13/pflag"
)

// Ask is one question to flipcalc: the verb, its operands, and every value that a flag or a
// file gives, with its place.
type Ask struct {
	Verb       *Verb
	Operands   []string
	JobFile    string // "" without one
	flags      map[string]*value
	tolerances budget.Tolerances
	// machineAt says where the keys of the machine were given.
	machineAt map[string]string
}

// value is a flag's value with the place where it was given.
type value struct {
	def  *Question
	vals []string
	// parsed are the values as the form reads them: none where one can't be read, or where
	// it is a switch.
	parsed []any
	where  string // "--stock", or "job.toml:7:9: stock"
	job    bool   // it came from a job file
	line   int    // of the job file
}

// read reads the values in a unit.
func (v *value) read(u transform.Unit) (err error) {
	v.parsed, err = v.def.parse(v.where, v.vals, u)
	return err
}

// String gives the last value; part of pflag.Value.
func (v *value) String() string {
	if len(v.vals) == 0 {
		return ""
	}
	return v.vals[len(v.vals)-1]
}

// Set takes a value from the command line; part of pflag.Value.
func (v *value) Set(s string) error {
	if !v.def.Many {
		v.vals = nil // the last one counts, so that an alias can be overruled
	}
	if v.def.Form == "" && s != "true" && s != "false" {
		return fmt.Errorf("a switch that takes no value")
	}
	v.vals = append(v.vals, s)
	return nil
}

// Type names the value in help; part of pflag.Value.
func (v *value) Type() string {
	if v.def.Form == "" {
		return "bool" // no [=true] behind it
	}
	return v.def.Form
}

// newFlags gives the verb's flags out of the table.
func newFlags(verbName string) (*pflag.FlagSet, map[string]*value) {
	fs := pflag.NewFlagSet(verbName, pflag.ContinueOnError)
	fs.SetOutput(io.Discard)
	fs.SortFlags = false
	fs.Usage = func() {}
	m := map[string]*value{}
	for i := range Table {
		d := &Table[i]
		if !d.TakenBy(verbName) {
			continue
		}
		v := &value{def: d, where: d.spelt()}
		m[d.Key] = v
		if !d.hasFlag() {
			continue
		}
		f := fs.VarPF(v, d.Key, d.Short, d.shown())
		if d.Form == "" {
			f.NoOptDefVal = "true"
		}
	}
	return fs, m
}

// Find finds a flag's row by its name; nil where there is none.
func Find(name string) *Question {
	for i := range Table {
		if Table[i].Key == name {
			return &Table[i]
		}
	}
	return nil
}

// spelt is how the question is named where it wasn't answered.
func (d *Question) spelt() string {
	if d.hasFlag() {
		return "--" + d.Key
	}
	return d.Key
}

// hasFlag reports whether the question can be answered by a flag.
func (d *Question) hasFlag() bool { return d.From == anywhere || d.From == oneRun }

// sample is the key with a value, as a line of a file.
func (d *Question) sample() string {
	if d.Form == "" {
		return d.Key + " = true"
	}
	return fmt.Sprintf("%s = %q", d.Key, d.value())
}

// value is what a value looks like: its first word, or else its form.
func (d *Question) value() string {
	switch words := strings.Fields(d.Words); {
	case d.Form == "":
		return "true"
	case len(words) > 0 && d.Words[0] != '@':
		return words[0]
	}
	return d.Form
}

// shown is the flag's line of help.
func (d *Question) shown() string {
	s := d.Help + d.defaults()
	if d.Many {
		s += "; repeatable"
	}
	return s
}

// defaults is what help adds of the question's defaults.
func (d *Question) defaults() string {
	switch {
	case d.Fenced != "":
		return " (default " + d.Default + ", beside fence and stop " + d.Fenced + ")"
	case d.Default != "":
		return " (default " + d.Default + ")"
	}
	return ""
}

// TakenBy reports whether a verb takes the flag.
func (d *Question) TakenBy(verbName string) bool {
	return slices.Contains(strings.Fields(d.Verbs), verbName)
}

// taken names the verbs that take the flag.
func (d *Question) taken() string { return strings.Join(strings.Fields(d.Verbs), ", ") }

// Given reports whether the flag was given, on the command line or in the job.
func (c *Ask) Given(name string) bool {
	v := c.flags[name]
	return v != nil && len(v.vals) > 0
}

// Text gives a flag's value, or the table's default.
func (c *Ask) Text(name string) string {
	v := c.flags[name]
	if v == nil {
		return ""
	}
	if len(v.vals) == 0 {
		return c.assumed(v.def)
	}
	return v.String()
}

// assumed is the default of a question that isn't answered.
func (c *Ask) assumed(d *Question) string {
	if d.Fenced != "" && Value[registration.Register](c, "register") == registration.FenceStop {
		return d.Fenced
	}
	return d.Default
}

// Texts gives all values of a flag that may be given more than once.
func (c *Ask) Texts(name string) []string {
	if v := c.flags[name]; v != nil {
		return v.vals
	}
	return nil
}

// On reports whether a switch is set.
func (c *Ask) On(name string) bool { return c.Text(name) == "true" }

// Where says where a flag's value was given, for messages.
func (c *Ask) Where(name string) string {
	if v := c.flags[name]; v != nil {
		return v.where
	}
	return "--" + name
}

// Typed reports whether a value was given on the command line.
func (c *Ask) Typed(key string) bool { return c.Given(key) && !c.flags[key].job }

// Before reports whether the job file gives both keys, first before second.
func (c *Ask) Before(first, second string) bool {
	a, b := c.flags[first], c.flags[second]
	return a != nil && b != nil && a.job && b.job && a.line < b.line
}

// Put takes values from a place that is neither a flag nor a job file; "" leaves the place
// as it is.
func (c *Ask) Put(key, where string, values []string) {
	v := c.flags[key]
	v.vals = values
	if where != "" {
		v.where = where
	}
	v.read(c.Unit())
}

// Command is what asks the same question of another verb, for a shell: the job file, and
// every flag given beside it that bears on it.
func (c *Ask) Command(verb string) string {
	line := "flipcalc " + verb
	if c.JobFile != "" {
		line += " --job " + shellWord(c.JobFile)
	}
	for i := range Table {
		d := &Table[i]
		v := c.flags[d.Key]
		if v == nil || v.job || !d.hasFlag() || d.Key == "job" || !d.TakenBy(verb) || slices.Contains([]string{"json", "ascii", "quiet", "why", "output", "dry-run"}, d.Key) {
			continue
		}
		for _, value := range v.vals {
			line += " --" + d.Key
			switch {
			case d.Form != "":
				line += " " + shellWord(value)
			case value != "true":
				line += "=" + value
			}
		}
	}
	return line
}

// shellWord quotes a word for a shell where it needs that.
func shellWord(s string) string {
	plain := func(r rune) bool {
		return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("_./,=@:+-%", r)
	}
	if s != "" && strings.IndexFunc(s, func(r rune) bool { return !plain(r) }) < 0 {
		return s
	}
	return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
}
