package main

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// The command by which the sheet has the second zero corrected is one that a shell runs
// as it stands, and asks the question that the sheet answered: with nothing measured off
// it gives that zero again.
func TestSheetCorrects(t *testing.T) {
	sh, err := exec.LookPath("sh")
	if err != nil {
		t.Skip("no sh")
	}
	job := filepath.Join(t.TempDir(), "the maker's job.toml")
	if err := os.WriteFile(job, []byte("stock = \"140x90x19\"\nflip = \"y\"\nregister = \"fence\"\nfence = \"near\"\nstop = \"left\"\nround = false\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{"--stock", "140x90x19", "--flip", "y", "--register", "fence", "--fence", "near", "--stop", "left", "--back-stop", "right", "--at", "50,60,-20"},
		{"--stock=120x80x12", "-f", "y", "-r", "dowels", "--pin", "60,6,6", "--pin", "60,74,5", "--at", "100,50,-30", "--units", "mm", "--set", "title=two words"},
		{"--job", job, "--at", "50,60", "--measured", "140.2x90x19", "--back-stop", "left@50"},
	} {
		var out, errs bytes.Buffer
		if code := run(append([]string{"sheet", "--json"}, args...), strings.NewReader(""), &out, &errs); code != 0 {
			t.Fatalf("%v: exit %d, %s", args, code, errs.String())
		}
		var sheet struct {
			Origin struct {
				SecondZero json.RawMessage `json:"second_zero"`
			}
			Steps []struct{ Text string }
		}
		if err := json.Unmarshal(out.Bytes(), &sheet); err != nil {
			t.Fatal(err)
		}
		var command string
		for _, s := range sheet.Steps {
			if _, after, ok := strings.Cut(s.Text, "once: flipcalc "); ok {
				command, _, _ = strings.Cut(after, " --landed")
			}
		}
		words, err := exec.Command(sh, "-c", "printf '%s\\n' "+command).Output()
		if command == "" || err != nil {
			t.Fatalf("%v: command %q, %v", args, command, err)
		}
		again := append(strings.Split(strings.TrimSuffix(string(words), "\n"), "\n"), "--landed", "0,0@10,10", "--landed", "0,0@100,50", "--json")
		out.Reset()
		if code := run(again, strings.NewReader(""), &out, &errs); code != 0 {
			t.Fatalf("%q: exit %d, %s", command, code, errs.String())
		}
		var corrected struct {
			After json.RawMessage `json:"second_zero"`
		}
		if err := json.Unmarshal(out.Bytes(), &corrected); err != nil {
			t.Fatal(err)
		}
		if compact(corrected.After) != compact(sheet.Origin.SecondZero) || len(corrected.After) == 0 {
			t.Errorf("%q gives %s, the sheet %s", command, corrected.After, sheet.Origin.SecondZero)
		}
	}
}

func compact(b []byte) string { return strings.Join(strings.Fields(string(b)), "") }
