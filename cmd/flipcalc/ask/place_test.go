package ask

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"flipcalc/mirror/fault"
)

// written is a file of a test's own.
func written(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// refusals are what a verb says of a job file with a text.
func refusals(t *testing.T, verb, text string) (c *Ask, path string, list []string) {
	t.Helper()
	path = written(t, "job.toml", text)
	c = New(FindVerb(verb))
	c.flags["job"].Set(path)
	if err := c.ReadValues(); err != nil {
		for _, e := range Listed(err) {
			list = append(list, Message(e))
		}
	}
	return c, path, list
}

// said reports whether one of the refusals begins so.
func said(list []string, start string) bool {
	return slices.ContainsFunc(list, func(s string) bool { return strings.HasPrefix(s, start) })
}

// TestEveryKeyHasItsPlace goes through all keys of a job file, for a verb that asks for the
// key and for one that doesn't: what can't be read stands at its line and column.
func TestEveryKeyHasItsPlace(t *testing.T) {
	for i := range Table {
		d := &Table[i]
		if !d.jobKey() {
			continue
		}
		bad := []string{`[["?"]]`, `2026-11-25`}
		switch {
		case d.Form == "FILE" && d.form().parse != nil:
			bad = append(bad, `""`, `[""]`)
		case d.Form == "" || d.form().parse != nil:
			bad = append(bad, `"?"`, `["?"]`)
		}
		if d.Form != "" {
			bad = append(bad, "true")
		}
		for _, value := range bad {
			for _, verb := range []string{"origin", "prepare"} {
				_, path, list := refusals(t, verb, "# a job\n\n  "+d.Key+" = "+value+"\n")
				if want := path + ":3:3: " + d.Key + ": "; !said(list, want) {
					t.Errorf("%s: %s = %s: %q, want %s", verb, d.Key, value, list, want)
				}
			}
		}
	}
}

// TestLackingKeysHaveTheirPlace: what a question can't do without is told at the start of
// the job file, or by the flag's name where there is none; so is a refusal of an engine
// that speaks of a key nobody gave.
func TestLackingKeysHaveTheirPlace(t *testing.T) {
	for _, r := range required {
		key := strings.Fields(r.keys)[0]
		for _, verb := range strings.Fields(r.verbs) {
			text := "# a job\n"
			if r.register != "" {
				text += "register = \"" + r.register + "\"\n"
			}
			_, path, list := refusals(t, verb, text)
			if want := path + ":1:1: " + key + ": missing, expected " + r.expected; !said(list, want) {
				t.Errorf("%s: %q, want %s", verb, list, want)
			}
		}
	}
	for _, v := range Verbs {
		c := New(v)
		for _, d := range c.flags {
			want := d.def.spelt() + ": none"
			if got := Message(c.Placed(&fault.Error{About: d.def.Key, Found: "none"})); got != want {
				t.Errorf("%s: %s, want %s", v.Name, got, want)
			}
		}
		if c.flags["job"] == nil {
			continue
		}
		c, path, _ := refusals(t, v.Name, "# a job\n")
		for _, d := range c.flags {
			want := d.def.spelt() + ": none"
			if d.def.jobKey() {
				want = path + ":1:1: " + d.def.Key + ": none"
			}
			if d.def.Key == "job" {
				continue
			}
			if got := Message(c.Placed(&fault.Error{About: d.def.Key, Found: "none"})); got != want {
				t.Errorf("%s: %s, want %s", v.Name, got, want)
			}
		}
	}
}

// TestEveryMachineKeyHasItsPlace goes through all keys of the machine file, at its top and
// in its tables, bad and lacking.
func TestEveryMachineKeyHasItsPlace(t *testing.T) {
	refused := func(text string) (c *Ask, path string, list []string) {
		c, path = New(FindVerb("prepare")), written(t, "machine.toml", text)
		c.flags["machine"].Set(path)
		if _, err := c.Machine(); err != nil {
			for _, e := range Listed(err) {
				list = append(list, Message(c.Placed(e)))
			}
		}
		return c, path, list
	}
	rows := slices.Clone(machineTable)
	for i := range Table {
		if Table[i].From == machineFile {
			rows = append(rows, Table[i])
		}
	}
	for _, d := range rows {
		head := ""
		switch d.Table {
		case "":
		case "offset":
			head = "[[offset]]"
		default:
			head = "[" + d.Table + "]"
		}
		for _, value := range []string{`[["?"]]`, `2026-11-25`, `"?"`} {
			if value == `"?"` && (d.Form == "text" || d.Form == "TEXT" || d.Form == "LINE" || d.Key == "name") {
				continue
			}
			_, path, list := refused(fmt.Sprintf("# a machine\n%s\n %s = %s\n", head, d.Key, value))
			if want := path + ":3:2: " + d.Key + ": "; !said(list, want) {
				t.Errorf("%s %s = %s: %q, want %s", head, d.Key, value, list, want)
			}
		}
	}
	_, path, list := refused("# a machine\n\n [travel]\nx = [0, 600]\n")
	for _, want := range []string{path + ":3:3: travel.y: missing, expected [least, greatest]", path + ":3:3: travel.z: missing"} {
		if !said(list, want) {
			t.Errorf("%q, want %s", list, want)
		}
	}
	if _, path, list = refused(""); !said(list, path+":1:1: travel.x: missing") {
		t.Errorf("%q", list)
	}
	c, path, list := refused("[travel]\nx = [0, 600]\ny = [0, 400]\nz = [-90, 0]\n[[offset]]\nname = \"G54\"\n")
	if len(list) > 0 {
		t.Fatal(list)
	}
	// The face's offset is a question of its own, which the file's [[offset]] doesn't answer.
	for about, want := range map[string]string{"longest": path + ":1:1: longest: none", "offset": "--offset: none"} {
		if got := Message(c.Placed(&fault.Error{About: about, Found: "none"})); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}
