package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/cmd/flipcalc/job"
)

// snapshot lists a folder's files with their content.
func snapshot(t *testing.T, dir string) string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if errors.Is(err, os.ErrNotExist) {
		return "no folder"
	}
	var b strings.Builder
	for _, e := range entries {
		text, _ := os.ReadFile(filepath.Join(dir, e.Name()))
		b.WriteString(e.Name() + "=" + string(text) + " ")
	}
	return b.String()
}

// tester is a run of prepare without a job, for the file layer alone.
func tester(said io.Writer) *call {
	return &call{Job: job.New(ask.New(ask.FindVerb("prepare")), nil, ""), out: io.Discard, err: said}
}

// stopAt lets the nth change of the disk fail, and under kill all that come after too, as
// when the process is killed or the power goes. It gives the count of changes.
func stopAt(t *testing.T, nth int, kill bool) *int {
	t.Helper()
	n := 0
	onDisk = func(does, path string) error {
		if n++; n == nth || kill && n > nth {
			return errors.New("no luck")
		}
		return nil
	}
	t.Cleanup(forgetStop)
	return &n
}

// forgetStop lets the disk work again, in a new process: nothing is known of the files
// that the old one left unfinished.
func forgetStop() {
	onDisk = func(does, path string) error { return nil }
	unfinished.Lock()
	unfinished.paths = nil
	unfinished.Unlock()
}

// visible is a snapshot without the record.
func visible(t *testing.T, dir string) string {
	t.Helper()
	var b strings.Builder
	for _, f := range strings.SplitAfter(snapshot(t, dir), " ") {
		if !strings.HasPrefix(f, recordName) && strings.Contains(f, ".nc=") {
			b.WriteString(f)
		}
	}
	return b.String()
}

// All of a folder's files or none, whichever change of the disk fails; and where the
// process is killed at one, all, none, or a set that the next run names and repairs.
func TestWriteSet(t *testing.T) {
	first := []job.File{{Name: "a.nc", Content: []byte("A1")}, {Name: "b.nc", Content: []byte("B1")}}
	second := []job.File{{Name: "a.nc", Content: []byte("A2")}, {Name: "b.nc", Content: []byte("B2")}, {Name: "c.nc", Content: []byte("C2")}}
	const was, is = "a.nc=A1 b.nc=B1 ", "a.nc=A2 b.nc=B2 c.nc=C2 "
	for _, old := range []string{"", was} {
		for _, kill := range []bool{false, true} {
			for nth := 1; ; nth++ {
				dir := filepath.Join(t.TempDir(), "out")
				if old != "" {
					if _, err := tester(io.Discard).write(set{dir: dir, files: first}); err != nil {
						t.Fatal(err)
					}
				}
				n := stopAt(t, nth, kill)
				_, err := tester(io.Discard).write(set{dir: dir, files: second})
				done := *n < nth
				forgetStop()
				got := visible(t, dir)
				if done {
					if err != nil || got != is {
						t.Fatalf("nothing failed: %v, %q", err, got)
					}
					break
				}
				name := fmt.Sprintf("old %q, change %d, killed %v", old, nth, kill)
				if err == nil && got != is {
					t.Errorf("%s: no error, %q", name, got)
				}
				if !kill && err != nil && got != old {
					t.Errorf("%s: %v, left %q", name, err, got)
				}
				var said bytes.Buffer
				if _, err := tester(&said).write(set{dir: dir, files: second}); err != nil {
					t.Errorf("%s: the next run: %v", name, err)
				}
				if kill && got != old && got != is && !strings.Contains(said.String(), "a run was stopped while it wrote") {
					t.Errorf("%s: %q was taken for whole: %s", name, got, &said)
				}
				if now := visible(t, dir); now != is {
					t.Errorf("%s: after the next run %q", name, now)
				}
				said.Reset()
				if _, err := tester(&said).write(set{dir: dir, files: second}); err != nil || said.Len() > 0 || len(strays(dir)) > 0 {
					t.Errorf("%s: the run after: %v %s", name, err, &said)
				}
			}
		}
	}
	dir := t.TempDir()
	dry := tester(io.Discard)
	dry.Put("dry-run", "", []string{"true"})
	if _, err := dry.write(set{dir: filepath.Join(dir, "dry"), files: second}); err != nil || snapshot(t, dir) != "" {
		t.Errorf("a dry run left %q, %v", snapshot(t, dir), err)
	}
}

// TestStoppedPrepare stops prepare of a whole job at every change of the disk, dead from
// there on, and lets the next run find a whole set or name it. Changed lines between the
// two runs: the title, so every sheet, and the blank, so the programs.
func TestStoppedPrepare(t *testing.T) {
	t.Setenv("FLIPCALC_MACHINE", "")
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	job := filepath.Join(t.TempDir(), "job.toml")
	text := fmt.Sprintf("stock = \"120x80x12\"\nflip = \"y\"\nface = %q\nmirror = %q\n", filepath.Join(orchard(t), "face.nc"), filepath.Join(orchard(t), "outline.nc"))
	if err := os.WriteFile(job, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	prepare := func(dir, stock string) (int, string) {
		var said bytes.Buffer
		code := run([]string{"prepare", job, "--stock", stock, "-o", dir}, strings.NewReader(""), io.Discard, &said)
		return code, said.String()
	}
	// whole reads the folder by its own sheet: each program has the sum that stands there.
	whole := func(dir string) bool {
		data, err := os.ReadFile(filepath.Join(dir, "sheet.json"))
		if err != nil {
			return false
		}
		var sheet struct {
			Programs []struct{ Name, SHA256 string }
		}
		if json.Unmarshal(data, &sheet) != nil || len(sheet.Programs) == 0 {
			return false
		}
		for _, p := range sheet.Programs {
			if text, err := os.ReadFile(filepath.Join(dir, p.Name)); err != nil || sumOf(text) != p.SHA256 {
				return false
			}
		}
		return true
	}
	first := filepath.Join(t.TempDir(), "out")
	if code, said := prepare(first, "120x80x12"); code != 0 {
		t.Fatal(said)
	}
	for nth := 1; ; nth++ {
		dir := filepath.Join(t.TempDir(), "out")
		if err := os.CopyFS(dir, os.DirFS(first)); err != nil {
			t.Fatal(err)
		}
		n := stopAt(t, nth, true)
		code, said := prepare(dir, "121x80x12")
		done := *n < nth
		forgetStop()
		if done {
			if code != 0 {
				t.Fatal(said)
			}
			if nth < 20 {
				t.Errorf("only %d changes of the disk", nth-1)
			}
			break
		}
		before := whole(dir)
		code, said = prepare(dir, "121x80x12")
		if code != 0 {
			t.Errorf("change %d: the next run: %s", nth, said)
		}
		if !before && !strings.Contains(said, "a run was stopped while it wrote") {
			t.Errorf("change %d: a set of two runs was taken for whole: %s", nth, said)
		}
		if !whole(dir) {
			t.Errorf("change %d: the next run didn't repair the set", nth)
		}
	}
}
