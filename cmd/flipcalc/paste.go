package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror/transform"
	"flipcalc/registration/bed"
)

// paste gives the entries of the job's stations for the machine file, those that aren't
// in it yet as they are; "" where there are none or no machine file.
func (c *call) paste(m *ask.Machine, l *bed.Layout) (string, error) {
	job := c.Name()
	if m.Path == "" || job == "" {
		return "", nil
	}
	entries, err := ask.ReadTOML(m.Path)
	if err != nil {
		return "", err
	}
	var text strings.Builder
	for _, s := range l.Stations {
		want, err := stationKeys(m, job, l, s)
		if err != nil {
			return "", err
		}
		at := ownEntry(entries, s.Offset, job)
		if !slices.ContainsFunc(want, func(kv [2]string) bool { return written(at[kv[0]]) != kv[1] }) {
			continue
		}
		text.WriteString("\n[[offset]]\n")
		for _, kv := range want {
			text.WriteString(kv[0] + " = " + kv[1] + "\n")
		}
	}
	if text.Len() == 0 {
		return "", nil
	}
	return fmt.Sprintf("\nTo keep these offsets for this job, put into %s\nin place of its entries for them:\n%s", filepath.Base(m.Path), &text), nil
}

// written is an entry's value as stationKeys writes it.
func written(e ask.Entry) string {
	switch {
	case e.Kind == "string" && len(e.Values) == 1 && !e.List:
		return fmt.Sprintf("%q", e.Values[0])
	case e.List && e.Kind == "number":
		return "[" + strings.Join(e.Values, ", ") + "]"
	}
	return strings.Join(e.Values, ", ")
}

// ownEntry finds the keys of the job's own entry for an offset.
func ownEntry(entries []ask.Entry, offset, job string) map[string]ask.Entry {
	for i := range entries {
		keys := map[string]ask.Entry{}
		for _, e := range entries {
			if e.Table == "offset" && e.Index == i && e.Key != "" {
				keys[e.Key] = e
			}
		}
		if slices.Equal(keys["name"].Values, []string{offset}) && slices.Equal(keys["job"].Values, []string{job}) {
			return keys
		}
	}
	return nil
}

// stationKeys are the keys of a station's entry with their values as TOML.
func stationKeys(m *ask.Machine, job string, l *bed.Layout, s bed.Station) ([][2]string, error) {
	n := func(v decimal.Decimal) (string, error) {
		w, exact := transform.Convert(v, l.Unit, m.Unit, 9)
		if !exact {
			return "", ask.Wrong("--machine", v.String()+" "+l.Unit.String()+" is no finite number of "+m.Unit.String(), "a job in the machine file's unit", "")
		}
		return w.String(), nil
	}
	var v [6]string
	for i, d := range []decimal.Decimal{s.Zero.X, s.Zero.Y, s.Occupied.X, s.Occupied.Y, s.Occupied.W, s.Occupied.H} {
		var err error
		if v[i], err = n(d); err != nil {
			return nil, err
		}
	}
	zero := fmt.Sprintf("[%s, %s]", v[0], v[1])
	if s.Zero.Z != nil {
		z, err := n(*s.Zero.Z)
		if err != nil {
			return nil, err
		}
		zero = fmt.Sprintf("[%s, %s, %s]", v[0], v[1], z)
	}
	return [][2]string{
		{"name", fmt.Sprintf("%q", s.Offset)},
		{"for", fmt.Sprintf("%q", fmt.Sprintf("%s, pair %d, %s", job, s.Pair, s.Side))},
		{"job", fmt.Sprintf("%q", job)},
		{"zero", zero},
		{"rectangle", fmt.Sprintf("\"%s,%s,%sx%s\"", v[2], v[3], v[4], v[5])},
	}, nil
}
