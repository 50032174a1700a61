package ask

import (
	"cmp"
	"path/filepath"
	"slices"
	"strings"

	"flipcalc/mirror/transform"
)

// isProgram reports whether the question's answer names one of a job's programs.
func (d *Question) isProgram() bool { return d.Words == "@program" }

// Programs are the programs that the job and the flags name.
func (c *Ask) Programs() (list []string) {
	for i := range Table {
		if d := &Table[i]; d.isProgram() {
			list = append(list, c.Texts(d.Key)...)
		}
	}
	return list
}

// inputTwice refuses standard input for two programs of the job.
func (c *Ask) inputTwice() error {
	named := false
	for i := range Table {
		d := &Table[i]
		if !d.isProgram() {
			continue
		}
		for _, path := range c.Texts(d.Key) {
			if path == "-" && named {
				return Wrong(c.Where(d.Key), "two programs from standard input", "one", "write the other one to a file first")
			}
			named = named || path == "-"
		}
	}
	return nil
}

// jobKey reports whether the question has a line in a job file.
func (d *Question) jobKey() bool { return d.From == anywhere || d.From == jobFile }

// gone are keys and flags that were taken out, with what takes their place.
var gone = map[string]string{
	"picture": "a job names no file to write: give --picture FILE to check",
	"save":    "stations prints the lines for the machine file",
}

// keys names the questions of a kind.
func keys(of func(*Question) bool) (names []string) {
	for i := range Table {
		if of(&Table[i]) {
			names = append(names, Table[i].Key)
		}
	}
	return names
}

// ofMachine reports whether the machine file alone has a line for the question.
func (d *Question) ofMachine() bool { return d.From == machineFile }

// The verbs that ask where the blank lies, and those of them that don't propose its
// locators themselves.
const (
	needsBlank = onBlank + " mirror"
	locates    = "origin mirror stations check correct sheet prepare"
)

// required are the flags and keys that a question can't do without, for the verbs that
// need them.
var required = []struct {
	keys     string // one of these
	verbs    string
	register string // only with this register; "" for all
	expected string
	hint     string
}{
	{"stock measured", needsBlank, "", "the blank's size WxHxT, such as 120x80x12", "along X, along Y, and its thickness"},
	{"flip", needsBlank, "", "x or y", "y turns the blank over like a page, left edge to the right; x turns the near edge to the far side"},
	{"pin", locates, "dowels", "X,Y,DIA of each dowel", "flipcalc pins proposes a pattern"},
	{"bore", needsBlank, "plug", "X,Y,DIA of the bore that goes over the plug", "from the blank's near-left corner with the face up"},
	{"fence", locates, "fence", "near, far, left or right", "two contacts, best on the longer edge"},
	{"stop", locates, "fence", "near, far, left or right", "one contact, on a side across the fence"},
	{"face", "check", "", "the face program", ""},
	{"back mirror", "check", "", "a program of the back", "back is run as written; mirror, in a job file, is mirrored"},
	{"tool", "check", "", "each cutter of the programs, such as 1=flat,6 or 3=vee,6,60", ""},
}

// missing are the required flags that neither the command line nor the job has. meant
// are the keys that the job has or means.
func (c *Ask) missing(meant map[string]bool) (list []error) {
	register := strings.ToLower(strings.TrimSpace(c.Text("register")))
	for _, r := range required {
		keys := strings.Fields(r.keys)
		if !slices.Contains(strings.Fields(r.verbs), c.Verb.Name) || r.register != "" && r.register != register ||
			slices.ContainsFunc(keys, func(k string) bool { return meant[k] || c.Given(k) }) {
			continue
		}
		list = append(list, Wrong(c.Where(keys[0]), "missing", r.expected, r.hint))
	}
	return list
}

// readJob fills the flags that the command line didn't give from a job file. Its
// keys are the flags' names. It gives the keys that are there or that a faulty key
// stands for, and every fault of the file, in the file's order.
func (c *Ask) readJob(path string) (meant map[string]bool, err error) {
	if path == "-" {
		return nil, Wrong("-", "standard input for the job", "a job file", "its programs are taken from its folder")
	}
	entries, err := ReadTOML(path)
	if err != nil {
		return nil, err
	}
	if i := slices.IndexFunc(entries, func(e Entry) bool { return e.Table == "travel" && e.Key == "" }); i >= 0 {
		return nil, Wrong(entries[i].where, "[travel]: this is a machine file", "a job file", "give it with ‹machine›")
	}
	c.JobFile = path
	known := keys((*Question).jobKey)
	// Units come first, whatever their place in the file.
	for _, e := range entries {
		if v := c.flags["units"]; e.Table == "" && e.Key == "units" && e.Kind == "string" && !e.List && !c.Given("units") {
			v.vals, v.where, v.job = e.Values, e.place(), true
			v.read(transform.MM)
		}
	}
	var faults []error
	meant = map[string]bool{}
	for _, e := range entries {
		if e.Table != "" && e.Key != "" {
			continue // told at the table's head
		}
		meant[e.Key], meant[Nearest(e.Key, known)] = true, true
		if err := c.takeKey(e, known); err != nil {
			faults = append(faults, err)
		}
	}
	c.lacking(path, (*Question).jobKey)
	return meant, Together(faults)
}

// lacking places at a file's start what isn't given and has its line there.
func (c *Ask) lacking(path string, there func(*Question) bool) {
	for _, v := range c.flags {
		if len(v.vals) == 0 && there(v.def) {
			v.where = path + ":1:1: " + v.def.Key
		}
	}
}

// values are what an entry says in answer to the question. A list of numbers is one value
// of several numbers, as in a point.
func (d *Question) values(e Entry) ([]string, error) {
	switch {
	case e.List && e.Kind == "number" && (!d.Many || strings.Contains(d.Form, ",")):
		e.Values = []string{e.text()}
	case e.List && !d.Many:
		return nil, Wrong(e.place(), "a list", "one value", "")
	}
	if (d.Form == "") != (e.Kind == "switch") {
		return nil, Wrong(e.place(), e.text(), cmp.Or(d.Form, aSwitch), "")
	}
	return e.Values, nil
}

// takeKey takes one key of a job file.
func (c *Ask) takeKey(e Entry, known []string) error {
	switch {
	case e.fault != nil:
		return e.fault
	case e.Table != "":
		return Wrong(e.where, "["+e.Table+"]", "keys without a table", "a job file has no tables; the machine has a file of its own")
	case gone[e.Key] != "":
		return Wrong(e.where, e.Key+": no such key", "", gone[e.Key])
	case slices.Contains(keys((*Question).ofMachine), e.Key):
		return Wrong(e.where, e.Key+": a key of the machine file", "", "put "+Find(e.Key).sample()+" into it")
	case e.Key == "landed" && c.Verb.Name == "correct": // which works it in
	case !slices.Contains(known, e.Key) && e.Key != "landed":
		return Wrong(e.where, e.Key+": no such key", "", meant(e.Key, known, "'flipcalc help job' lists the keys of a job file"))
	case e.Key == "landed":
		return Wrong(e.where+": landed", "a measured mismatch, which "+c.Verb.Name+" doesn't work in", "no such key",
			"take it out of the job: flipcalc correct --job "+c.JobFile+" --landed DX,DY gives the line corrections = [...] for it")
	}
	v := c.flags[e.Key]
	if v != nil && len(v.vals) > 0 && !v.job {
		return nil // the command line wins
	}
	d := Find(e.Key)
	values, err := d.values(e)
	if err != nil || v == nil { // this verb doesn't ask for it
		_, bad := d.parse(e.place(), values, c.Unit())
		return cmp.Or(err, bad)
	}
	if d.Form == "FILE" {
		for i, f := range values {
			if f != "" && f != "-" && !filepath.IsAbs(f) {
				values[i] = filepath.Join(filepath.Dir(c.JobFile), f)
			}
		}
	}
	v.vals, v.where, v.line, v.job = values, e.place(), e.line, true
	return v.read(c.Unit())
}
