package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"flipcalc/mirror/transform"
)

// fileKeys are the job keys that name a file, taken from the job file's folder.
var fileKeys = []string{"face", "mirror", "back", "machine"}

// jobKey reports whether the flag is a key of a job file. Those that aren't belong to
// one run of flipcalc.
func (d *flagDef) jobKey() bool {
	return !slices.Contains([]string{"job", "why", "json", "output", "picture", "quiet", "ascii", "from"}, d.name)
}

// gone are keys and flags that were taken out, with what takes their place.
var gone = map[string]string{
	"picture": "a job names no file to write: give --picture FILE to check",
	"save":    "stations prints the lines for the machine file",
}

// jobKeys names the keys of a job file.
func jobKeys() (names []string) {
	for i := range flagTable {
		if d := &flagTable[i]; d.jobKey() {
			names = append(names, d.name)
		}
	}
	return names
}

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
func (c *call) missing(meant map[string]bool) (list []error) {
	register := strings.ToLower(strings.TrimSpace(c.text("register")))
	for _, r := range required {
		keys := strings.Fields(r.keys)
		if !slices.Contains(strings.Fields(r.verbs), c.verb.name) || r.register != "" && r.register != register ||
			slices.ContainsFunc(keys, func(k string) bool { return meant[k] || c.given(k) }) {
			continue
		}
		if c.jobFile != "" {
			list = append(list, wrong(c.jobFile, "no "+strings.Join(keys, " and no "), r.expected, r.hint))
		} else {
			list = append(list, wrong("--"+keys[0], "missing", r.expected, r.hint))
		}
	}
	return list
}

// readJob fills the flags that the command line didn't give from a job file. Its
// keys are the flags' names. It gives the keys that are there or that a faulty key
// stands for, and every fault of the file, in the file's order.
func (c *call) readJob(path string) (meant map[string]bool, err error) {
	if path == "-" {
		return nil, wrong("-", "standard input for the job", "a job file", "its programs are taken from its folder")
	}
	entries, err := readTOML(path)
	if err != nil {
		return nil, err
	}
	c.jobFile = path
	known := jobKeys()
	// Units come first, whatever their place in the file.
	for _, e := range entries {
		if v := c.flags["units"]; e.table == "" && e.key == "units" && e.kind == "string" && !e.list && !c.given("units") {
			v.vals, v.where, v.job = e.values, e.where+": units", true
		}
	}
	u, err := c.unit()
	if err != nil {
		u = transform.MM // the faulty unit is one of those told
	}
	var faults []error
	meant = map[string]bool{}
	for _, e := range entries {
		if e.table != "" && e.key != "" {
			continue // told at the table's head
		}
		meant[e.key], meant[nearest(e.key, known)] = true, true
		if err := c.takeKey(e, known, u); err != nil {
			faults = append(faults, err)
		}
	}
	return meant, together(faults)
}

// takeKey takes one key of a job file.
func (c *call) takeKey(e entry, known []string, u transform.Unit) error {
	switch {
	case e.fault != nil:
		return e.fault
	case e.table != "":
		return wrong(e.where, "["+e.table+"]", "keys without a table", "a job file has no tables; the machine has a file of its own")
	case gone[e.key] != "":
		return wrong(e.where, e.key+": no such key", "", gone[e.key])
	case !slices.Contains(known, e.key):
		hint := "'flipcalc help job' lists the keys of a job file"
		if near := nearest(e.key, known); near != "" {
			hint = fmt.Sprintf("did you mean %s?", near)
		}
		return wrong(e.where, e.key+": no such key", "", hint)
	case e.key == "landed" && c.verb.name != "correct":
		return wrong(e.where+": landed", "a measured mismatch, which "+c.verb.name+" doesn't work in", "no such key",
			"take it out of the job: flipcalc correct --job "+c.jobFile+" --landed DX,DY gives the line corrections = [...] for it")
	}
	v := c.flags[e.key]
	if v != nil && len(v.vals) > 0 && !v.job {
		return nil // the command line wins
	}
	d := findFlag(e.key)
	where := fmt.Sprintf("%s: %s", e.where, e.key)
	switch {
	case e.list && e.kind == "number" && (!d.many || strings.Contains(d.arg, ",")):
		// A list of numbers is one value of several numbers, as in a point.
		e.values = []string{strings.Join(e.values, ",")}
	case e.list && !d.many:
		return wrong(where, "a list", "one value", "")
	}
	if d.arg == "" && e.kind != "switch" {
		return wrong(where, strings.Join(e.values, ","), "true or false", "")
	}
	if d.arg != "" && e.kind == "switch" {
		return wrong(where, strings.Join(e.values, ","), d.arg, "")
	}
	if err := d.valueFault(where, e.values, u); err != nil {
		return err
	}
	if slices.Contains(fileKeys, e.key) {
		for i, f := range e.values {
			if f != "-" && !filepath.IsAbs(f) {
				e.values[i] = filepath.Join(filepath.Dir(c.jobFile), f)
			}
		}
	}
	if v != nil { // otherwise this verb doesn't ask for it
		v.vals, v.where, v.line, v.job = e.values, where, e.line, true
	}
	return nil
}
