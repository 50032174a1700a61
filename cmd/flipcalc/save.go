package main

import (
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration/bed"
)

// saveFault says what is missing for --save, before anything is printed.
func (c *call) saveFault(m *machine) error {
	switch {
	case !c.on("save"):
	case m.path == "":
		return wrong("--save", "no machine file", "--machine FILE", "")
	case c.jobName() == "":
		return wrong("--save", "the stations have no name", "--title NAME or --job FILE", "the machine file says whom each offset belongs to")
	}
	return nil
}

// save adds the job's stations to the machine file, after showing the change.
// What is there keeps its place and its comments; asking twice changes nothing.
func (c *call) save(m *machine, l *bed.Layout) error {
	job := c.jobName()
	old, err := os.ReadFile(m.path)
	if err != nil {
		return err
	}
	text, changes, err := savedText(m, string(old), job, l)
	if err != nil {
		return err
	}
	said := fmt.Sprintf("\n%s, changed:\n%s\n", m.path, strings.Join(changes, "\n"))
	switch {
	case len(changes) == 0:
		said = fmt.Sprintf("\n%s: as it was\n", m.path)
	case c.on("dry-run"):
		said = strings.Replace(said, ", changed:", ", would be changed:", 1)
	}
	if !c.on("quiet") {
		if err := printAll(c.out, said); err != nil {
			return err
		}
	}
	if len(changes) == 0 {
		return nil
	}
	if c.on("dry-run") {
		return nil
	}
	return writeFile(m.path, func(w io.Writer) error { return printAll(w, text) })
}

// savedText gives the machine file's text with the job's stations in it, and the
// lines that change.
func savedText(m *machine, old, job string, l *bed.Layout) (text string, changes []string, err error) {
	entries, err := parseTOML(m.path, []byte(old))
	if err != nil {
		return "", nil, err
	}
	lines := strings.Split(strings.TrimRight(old, "\n"), "\n")
	var added []string
	for _, s := range l.Stations {
		want, err := stationKeys(m, job, l, s)
		if err != nil {
			return "", nil, err
		}
		at := ownEntry(entries, s.Offset, job)
		if at == nil {
			added = append(added, "", "[[offset]]")
			for _, kv := range want {
				added = append(added, kv[0]+" = "+kv[1])
			}
			continue
		}
		for _, kv := range want {
			e, ok := at[kv[0]]
			if !ok || kv[0] == "name" || kv[0] == "job" {
				continue
			}
			line, comment := lines[e.line-1], ""
			if i := strings.Index(line, "#"); i >= 0 && !strings.Contains(line[i:], `"`) {
				comment = " " + line[i:]
			}
			if now := kv[0] + " = " + kv[1] + comment; now != line {
				changes = append(changes, "- "+line, "+ "+now)
				lines[e.line-1] = now
			}
		}
	}
	for _, a := range added {
		changes = append(changes, strings.TrimRight("+ "+a, " "))
	}
	return strings.Join(append(lines, added...), "\n") + "\n", changes, nil
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
			return "", wrong("--save", v.String()+" "+l.Unit.String()+" is no finite number of "+m.Unit.String(), "a job in the machine file's unit", "")
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
