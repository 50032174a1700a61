package main

import (
	"bytes"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestErrorJSON asks wrong questions with --json: standard output has the error as JSON,
// one or a list, standard error the same in words, and an answer that is there already
// is followed by nothing.
func TestErrorJSON(t *testing.T) {
	t.Setenv("FLIPCALC_MACHINE", "")
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	dir := t.TempDir()
	file := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	job := file("job.toml", "flip = \"z\"\nstock = \"120x80\"\n")
	bad := file("bad.nc", "G21 G90\nG1 X1.2.3\nM2\n")
	outline := filepath.Join(orchard(t), "outline.nc")
	spoiled := filepath.Join(orchard(t), "..", "spoiled", "outline-short.toml")
	for _, c := range []struct {
		args  []string
		where []string // of the errors; nil where standard output has an answer
		code  int
	}{
		{[]string{"origin", "--json"}, []string{"--stock", "--flip"}, 2},
		{[]string{"origin", "--json", "--nosuch"}, []string{"--nosuch"}, 2},
		{[]string{"orign", "--json"}, []string{""}, 2},
		{[]string{"origin", "--json", "--job", job}, []string{job + ":1:1: flip", job + ":2:1: stock"}, 2},
		{[]string{"origin", "--json", "--job", filepath.Join(dir, "none.toml")}, []string{filepath.Join(dir, "none.toml")}, 2},
		{[]string{"mirror", bad, "--json", "--stock", "120x80x12", "--flip", "y", "-o", filepath.Join(dir, "out.nc")}, []string{bad + ":2:8"}, 2},
		{[]string{"origin", "--json", "--stock", "120x80x12", "--flip", "y", "--register", "dowels", "--pin", "20,20,6", "--pin", "70,70,6"}, []string{"--pin"}, 1},
		{[]string{"mirror", outline, "-n", "--json", "--stock", "120x80x12", "--flip", "y"}, nil, 0},
		{[]string{"check", "--job", spoiled, "--json", "--set", "cell=1"}, nil, 1},
	} {
		name := strings.Join(c.args, " ")
		var out, errs bytes.Buffer
		if code := run(c.args, strings.NewReader(""), &out, &errs); code != c.code {
			t.Errorf("%s: exit %d, want %d: %s", name, code, c.code, &errs)
		}
		d := json.NewDecoder(&out)
		var answer struct {
			Error json.RawMessage `json:"error"`
		}
		if err := d.Decode(&answer); err != nil {
			t.Errorf("%s: %v: %s", name, err, &errs)
			continue
		}
		if err := d.Decode(new(any)); err != io.EOF {
			t.Errorf("%s: more than one answer", name)
		}
		type fault struct {
			Where, Found string
			Exit         int
		}
		var list []fault
		if len(answer.Error) > 0 && answer.Error[0] == '{' {
			list = make([]fault, 1)
			json.Unmarshal(answer.Error, &list[0])
		} else if len(answer.Error) > 0 {
			json.Unmarshal(answer.Error, &list)
		}
		if len(list) != len(c.where) {
			t.Errorf("%s: errors %s, want %d", name, answer.Error, len(c.where))
			continue
		}
		for i, f := range list {
			if f.Where != c.where[i] || f.Found == "" || f.Exit != c.code || !strings.Contains(errs.String(), f.Found) {
				t.Errorf("%s: error %+v, want at %q; said: %s", name, f, c.where[i], &errs)
			}
		}
	}
}
