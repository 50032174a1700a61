package ask

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"flipcalc/mirror/fault"
)

// A room that doesn't know how a flag is spelt marks the key that it speaks of, alone or
// with a value, or with several of a key that may be given more than once. A value that
// goes beside those that such a key has already stands behind a +:
//
//	give ‹at› and ‹fence right@190›
//	for example ‹map G54=G56; G55=G57›
//	add ‹tool + 9=flat,6›

// mark finds marked keys. Nothing that a maker types on a keyboard looks like one.
var mark = regexp.MustCompile(`‹([a-z0-9]+(?:-[a-z0-9]+)*)(?: (\+ )?([^‹›]*))?›`)

// Spelt writes each marked key of a text as the maker would: as a line of the job file
// where the question stands in one, as a line of the machine file, or as a flag. c is nil
// where nothing was asked yet.
func (c *Ask) Spelt(text string) string {
	return mark.ReplaceAllStringFunc(text, func(m string) string {
		parts := mark.FindStringSubmatch(m)
		d := Find(parts[1])
		if d == nil {
			return m
		}
		var values []string
		if parts[3] != "" {
			values = strings.Split(parts[3], "; ")
		}
		if d.From == machineFile || c != nil && c.JobFile != "" && d.jobKey() && !c.Typed(d.Key) {
			return d.line(values, parts[2] != "" && c.Given(d.Key))
		}
		return d.flag(values)
	})
}

// line is the key as a file gives it, alone or with its values; beside says that they go
// into the list that the file has already.
func (d *Question) line(values []string, beside bool) string {
	if len(values) == 0 {
		return d.Key
	}
	var quoted []string
	if beside {
		quoted = append(quoted, "...")
	}
	for _, v := range values {
		if _, err := strconv.ParseFloat(v, 64); err != nil && d.Form != "" {
			v = strconv.Quote(v)
		}
		quoted = append(quoted, v)
	}
	if len(quoted) == 1 {
		return d.Key + " = " + quoted[0]
	}
	return d.Key + " = [" + strings.Join(quoted, ", ") + "]"
}

// flag is the key as the command line gives it, alone or with its values.
func (d *Question) flag(values []string) string {
	if len(values) == 0 {
		return d.spelt()
	}
	given := make([]string, len(values))
	for i, v := range values {
		switch {
		case !d.hasFlag():
			given[i] = fmt.Sprintf("--set %s=%s", d.Key, v)
		case d.Form == "":
			given[i] = d.spelt()
		default:
			given[i] = d.spelt() + " " + v
		}
	}
	return strings.Join(given, " ")
}

// Worded spells the keys in an error's texts, in all of a list and in those that follow.
func (c *Ask) Worded(err error) error {
	var f *fault.Error
	if list, ok := err.(Faults); ok {
		worded := make(Faults, len(list))
		for i, e := range list {
			worded[i] = c.Worded(e)
		}
		return worded
	}
	if errors.As(err, &f) && f.Error() == err.Error() {
		return c.worded(f)
	}
	return err
}

// worded spells the keys in the texts of a copy of f.
func (c *Ask) worded(f *fault.Error) *fault.Error {
	said := *f
	said.More = nil
	for _, text := range []*string{&said.Found, &said.Expected, &said.Hint} {
		*text = c.Spelt(*text)
	}
	for _, more := range f.More {
		said.More = append(said.More, c.worded(more))
	}
	return &said
}
