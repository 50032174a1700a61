package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"flipcalc/cmd/flipcalc/ask"
)

// The examples in the help on files are whole: together they answer a question, and
// place its stations beside the machine's fixture.
func TestFileHelpExamples(t *testing.T) {
	t.Setenv("FLIPCALC_MACHINE", "")
	dir := t.TempDir()
	for name, text := range map[string]string{"job.toml": ask.JobExample, "machine.toml": ask.MachineExample} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"face.nc", "outline.nc", "lettering.nc"} {
		if err := os.Symlink(filepath.Join(orchard(t), name), filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	if got := flipcalc(t, "stations", "--job", filepath.Join(dir, "job.toml"), "-q"); !strings.HasPrefix(got, "G54 ") || !strings.Contains(got, "\nG56 ") {
		t.Errorf("stations of the example: %s", got)
	}
}

// Every key of a file is in its help and on its page.
func TestFileHelpComplete(t *testing.T) {
	for _, f := range ask.Files() {
		for _, verb := range []string{"help", "man"} {
			var out, errs bytes.Buffer
			if code := run([]string{verb, f.Name}, strings.NewReader(""), &out, &errs); code != 0 {
				t.Fatalf("%s %s: exit %d: %s", verb, f.Name, code, errs.String())
			}
			text := strings.NewReplacer(`\fB`, "  ", `\fR`, "", `\fI`, "", `\-`, "-").Replace(out.String())
			n := 0
			for _, k := range f.Keys() {
				if !strings.Contains(text, "  "+k.Key+" = ") {
					t.Errorf("%s %s: %s is missing", verb, f.Name, k.Key)
				}
				n++
			}
			if n < 20 {
				t.Errorf("%s: %d keys", f.Name, n)
			}
		}
	}
}
