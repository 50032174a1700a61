package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
)

// fileKeys are the job keys that name a file, taken from the job file's folder.
var fileKeys = []string{"face", "mirror", "back", "machine"}

// readJob fills the flags that the command line didn't give from a job file. Its
// keys are the flags' names.
func (c *call) readJob(path string) error {
	entries, err := readTOML(path)
	if err != nil {
		return err
	}
	c.jobFile = path
	var known []string
	for i := range flagTable {
		if d := &flagTable[i]; d.takenBy("prepare") || d.takenBy("check") || d.takenBy("origin") || d.takenBy("mirror") || d.takenBy("correct") || d.takenBy("pins") {
			known = append(known, d.name)
		}
	}
	for _, e := range entries {
		if e.table != "" {
			return wrong(e.where, "["+e.table+"]", "keys without a table", "a job file has no tables; the machine has a file of its own")
		}
		if !slices.Contains(known, e.key) || slices.Contains([]string{"job", "help", "json", "output", "quiet"}, e.key) {
			hint := "README.md lists the keys of a job file"
			if near := nearest(e.key, known); near != "" {
				hint = fmt.Sprintf("did you mean %s?", near)
			}
			return wrong(e.where, e.key+": no such key", "", hint)
		}
		if e.key == "landed" && c.verb.name != "correct" {
			return wrong(e.where+": landed", "a measured mismatch, which "+c.verb.name+" doesn't work in", "no such key", "flipcalc correct gives the corrected zero; store that in the control")
		}
		v := c.flags[e.key]
		if v == nil || (len(v.vals) > 0 && !v.job) {
			continue // this verb doesn't ask for it, or the command line wins
		}
		where := fmt.Sprintf("%s: %s", e.where, e.key)
		if e.list && !v.def.many {
			// A list of numbers is one value of several numbers, as in a point.
			if e.kind != "number" {
				return wrong(where, "a list", "one value", "")
			}
			e.values = []string{strings.Join(e.values, ",")}
		}
		if v.def.arg == "" && e.kind != "switch" {
			return wrong(where, strings.Join(e.values, ","), "true or false", "")
		}
		if v.def.arg != "" && e.kind == "switch" {
			return wrong(where, strings.Join(e.values, ","), v.def.arg, "")
		}
		if slices.Contains(fileKeys, e.key) {
			for i, f := range e.values {
				if f != "-" && !filepath.IsAbs(f) {
					e.values[i] = filepath.Join(filepath.Dir(path), f)
				}
			}
		}
		v.vals, v.where, v.job = e.values, where, true
	}
	return nil
}
