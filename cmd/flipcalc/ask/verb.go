package ask

import (
	"cmp"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"flipcalc/mirror/transform"
)

// Verb is one thing that flipcalc does.
type Verb struct {
	Name     string
	Operands string // shown in the usage line
	Least    int    // how many operands it needs, --job counted
	Most     int
	Words    string // what the operand may be, separated by blanks, or @page; "" for a file
	Does     string // one line
	Examples []Example
}

// Example is a worked example of a verb's help.
type Example struct{ Says, Line string }

// TakesJob reports whether the verb's operand is a job file.
func (v *Verb) TakesJob() bool { return strings.Trim(v.Operands, "[]") == "JOB" }

// FindVerb finds a verb by its name.
func FindVerb(name string) *Verb {
	for _, v := range Verbs {
		if v.Name == name {
			return v
		}
	}
	return nil
}

// UnknownVerb words a verb that isn't there.
func UnknownVerb(name string) error {
	if strings.HasPrefix(name, "-") {
		if near := Nearest(strings.TrimPrefix(name, "--"), []string{"help", "version"}); near != "" {
			return Wrong("", name+" where a verb goes", "", "did you mean --"+near+"?")
		}
		return Wrong("", name+" where a verb goes", "a verb first, such as flipcalc origin "+name, "'flipcalc help' lists the verbs")
	}
	return UnknownName(name, "verb", VerbNames(), "'flipcalc help' lists the verbs")
}

// UnknownName words a name that isn't one of those that there are. hint is for one that is
// near to none of them.
func UnknownName(name, kind, names, hint string) error {
	return Wrong("", fmt.Sprintf("%s: no such %s", name, kind), "", meant(name, strings.Fields(names), hint))
}

// parted gives a flag with its value in one piece, where blanks parted it as in
// --landed 0.3 0.15; "" where none was.
func (c *Ask) parted() string {
	for i := range Table {
		v := c.flags[Table[i].Key]
		if v == nil || len(v.vals) == 0 || v.read(c.Unit()) == nil {
			continue
		}
		for _, sep := range []string{",", "x"} {
			whole := v.String() + sep + strings.Join(c.Operands, sep)
			if _, err := v.def.parse("", []string{whole}, c.Unit()); err == nil {
				return "--" + v.def.Key + " " + whole
			}
		}
	}
	return ""
}

// ReadValues reads the job file, where there is one, and tells every value that can't
// be read, of the command line and of the job.
func (c *Ask) ReadValues() error {
	path := c.Text("job")
	if c.Verb.TakesJob() && len(c.Operands) == 1 {
		if c.Given("job") {
			return Wrong("--job", "a job file, and "+c.Operands[0]+" as well", "one of the two", "")
		}
		path = c.Operands[0]
	}
	list := c.takeSet()
	if units := c.flags["units"]; units != nil {
		units.read(transform.MM) // before all that is in it; told with the others
	}
	var meant map[string]bool
	if path != "" {
		var err error
		if meant, err = c.readJob(path); err != nil {
			list = append(list, err)
		}
		if meant == nil {
			return Together(list) // nothing of it can be read
		}
	}
	if err := Together(slices.Concat(c.readFlags(), list, c.missing(meant))); err != nil {
		return err
	}
	return cmp.Or(c.inputTwice(), c.readTolerances())
}

// OperandFault words operands that the verb doesn't take.
func (c *Ask) OperandFault() error {
	v := c.Verb
	want := "nothing beside the flags"
	if v.Most > 0 {
		want = v.Operands
	}
	if c.flags["job"] != nil && !v.TakesJob() {
		for _, o := range c.Operands {
			if strings.EqualFold(filepath.Ext(o), ".toml") {
				return Wrong(v.Name, o, want, "use --job "+o)
			}
		}
	}
	n := len(c.Operands)
	switch {
	case slices.Contains(c.Operands, ""):
		return Wrong(v.Name, `""`, want, "an empty name, as a shell's empty variable gives it")
	case n < v.Least && v.TakesJob() && c.Given("job"):
	case n < v.Least:
		found := "nothing after the flags"
		if n > 0 {
			found = strings.Join(c.Operands, " ")
		}
		return Wrong(v.Name, found, want, fmt.Sprintf("'flipcalc %s --help' shows examples", v.Name))
	case n > v.Most && c.parted() != "":
		return Wrong(v.Name, strings.Join(c.Operands, " "), want, "one value: "+c.parted())
	case n > v.Most:
		return Wrong(v.Name, strings.Join(c.Operands, " "), want, fmt.Sprintf("'flipcalc %s --help' shows examples; a name with blanks in it needs quotes", v.Name))
	}
	return nil
}
