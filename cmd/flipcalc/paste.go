package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration/bed"
)

// paste gives the entries of the job's stations for the machine file, those that aren't
// in it yet as they are; "" where there are none or no machine file.
func (c *call) paste(m *machine, l *bed.Layout) (string, error) {
	job := c.jobName()
	if m.path == "" || job == "" {
		return "", nil
	}
	entries, err := readTOML(m.path)
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
		if !slices.ContainsFunc(want, func(kv [2]string) bool { return at[kv[0]].written() != kv[1] }) {
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
	return fmt.Sprintf("\nTo keep these offsets for this job, put into %s\nin place of its entries for them:\n%s", filepath.Base(m.path), &text), nil
}

// written is an entry's value as stationKeys writes it.
func (e entry) written() string {
	switch {
	case e.kind == "string" && len(e.values) == 1 && !e.list:
		return fmt.Sprintf("%q", e.values[0])
	case e.list && e.kind == "number":
		return "[" + strings.Join(e.values, ", ") + "]"
	}
	return strings.Join(e.values, ", ")
}

// ownEntry finds the keys of the job's own entry for an offset.
func ownEntry(entries []entry, offset, job string) map[string]entry {
	for i := range entries {
		keys := map[string]entry{}
		for _, e := range entries {
			if e.table == "offset" && e.index == i && e.key != "" {
				keys[e.key] = e
			}
		}
		if slices.Equal(keys["name"].values, []string{offset}) && slices.Equal(keys["job"].values, []string{job}) {
			return keys
		}
	}
	return nil
}

// stationKeys are the keys of a station's entry with their values as TOML.
func stationKeys(m *machine, job string, l *bed.Layout, s bed.Station) ([][2]string, error) {
	n := func(v decimal.Decimal) (string, error) {
		w, exact := transform.Convert(v, l.Unit, m.Unit, 9)
		if !exact {
			return "", wrong("--machine", v.String()+" "+l.Unit.String()+" is no finite number of "+m.Unit.String(), "a job in the machine file's unit", "")
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
