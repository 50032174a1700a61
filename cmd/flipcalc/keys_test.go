package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"flipcalc/cmd/flipcalc/ask"
)

// A key without a flag is refused as one, with the line of the file that says it and how
// one run says it. Few flags stay.
func TestKeysWithoutAFlag(t *testing.T) {
	t.Setenv("FLIPCALC_MACHINE", "")
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	flags := 0
	for i := range ask.Table {
		d := &ask.Table[i]
		file := d.File()
		if file == "" {
			flags++
			continue
		}
		verb := strings.Fields(d.Verbs)[0]
		var out, errw bytes.Buffer
		code := run([]string{verb, "--" + d.Key, "1"}, strings.NewReader(""), &out, &errw)
		want := fmt.Sprintf("flipcalc: --%s: a key of %s: %s = ", d.Key, file, d.Key)
		if said := errw.String(); code != exitWrong || !strings.HasPrefix(said, want) || !strings.Contains(said, "for this run alone: --set "+d.Key+"=") {
			t.Errorf("%s --%s: exit %d, %s", verb, d.Key, code, said)
		}
		job := filepath.Join(t.TempDir(), "job.toml")
		if err := os.WriteFile(job, []byte("stock = \"120x80x12\"\nflip = \"y\"\n"+d.Key+" = \"1\"\n"), 0o666); err != nil {
			t.Fatal(err)
		}
		errw.Reset()
		run([]string{"origin", "--job", job}, strings.NewReader(""), &out, &errw)
		if refused := strings.Contains(errw.String(), job+":3:1: "+d.Key+": a key of the machine file"); refused != (file == "the machine file") {
			t.Errorf("%s in a job: %s", d.Key, &errw)
		}
	}
	if flags > 60 {
		t.Errorf("%d flags", flags)
	}
}

// What the machine file says of its tools holds in a job of the other unit, rounded up to
// what is finite there; --set goes before it.
func TestMachineKeysInTheOtherUnit(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	file := filepath.Join(t.TempDir(), "machine.toml")
	if err := os.WriteFile(file, []byte("table = -140\nlongest = 45\n[travel]\nx = [0, 700]\ny = [0, 400]\nz = [-110, 0]\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	t.Setenv("FLIPCALC_MACHINE", file)
	clear := func(args ...string) string {
		got := flipcalc(t, append([]string{"stations", "--units", "in", "--stock", "4x2x0.25", "--flip", "y"}, args...)...)
		_, after, _ := strings.Cut(got, "Clear height")
		line, _, _ := strings.Cut(after, "\n")
		return strings.TrimSpace(line)
	}
	// 45 mm are 1.77165354... in (the inch of 25.4 mm, 1959).
	if own, rounded, other := clear(), clear("--set", "longest=1.771654"), clear("--set", "longest=2"); own != rounded || own == other || !strings.Contains(own, "machine Z") {
		t.Errorf("clear height %q, want %q and not %q", own, rounded, other)
	}
}
