package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// TestSignals stops a running prepare by each signal at several moments, from its start to
// the time that a whole run takes. A signal that can be caught leaves no temporary file; after
// any the next run finds a whole set, or repairs what it finds and names it.
func TestSignals(t *testing.T) {
	if testing.Short() {
		t.Skip("it runs the command some thirty times")
	}
	dir := t.TempDir()
	job := filepath.Join(dir, "job.toml")
	text := fmt.Sprintf("stock = \"120x80x12\"\nflip = \"y\"\nface = %q\nmirror = %q\n", filepath.Join(orchard(t), "face.nc"), filepath.Join(orchard(t), "outline.nc"))
	if err := os.WriteFile(job, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	prepare := func(to, stock string) (*exec.Cmd, *strings.Builder) {
		cmd, said := exec.Command("flipcalc", "prepare", job, "--stock", stock, "-o", to), &strings.Builder{}
		cmd.Env, cmd.Stderr = append(os.Environ(), "FLIPCALC_MACHINE=", "XDG_CONFIG_HOME="+filepath.Join(dir, "none")), said
		return cmd, said
	}
	first, changed := filepath.Join(dir, "first"), filepath.Join(dir, "changed")
	var whole time.Duration
	for to, stock := range map[string]string{first: "120x80x12", changed: "121x80x12"} {
		cmd, said := prepare(to, stock)
		begun := time.Now()
		if err := cmd.Run(); err != nil {
			t.Fatalf("%v: %s", err, said)
		}
		whole = max(whole, time.Since(begun))
	}
	before, after := visible(t, first), visible(t, changed)
	const moments = 8
	for _, signal := range []syscall.Signal{syscall.SIGTERM, syscall.SIGQUIT, syscall.SIGKILL} {
		for i := range moments {
			name := fmt.Sprintf("%v, moment %d", signal, i)
			to := filepath.Join(t.TempDir(), "out")
			if err := os.CopyFS(to, os.DirFS(first)); err != nil {
				t.Fatal(err)
			}
			cmd, _ := prepare(to, "121x80x12")
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			time.Sleep(whole * time.Duration(i+1) / moments)
			if err := cmd.Process.Signal(signal); err != nil && !errors.Is(err, os.ErrProcessDone) {
				t.Fatal(err)
			}
			cmd.Wait()
			if left := strays(to); signal != syscall.SIGKILL && len(left) > 0 {
				t.Errorf("%s: left %q", name, left)
			}
			got := visible(t, to)
			again, said := prepare(to, "121x80x12")
			if err := again.Run(); err != nil {
				t.Errorf("%s: the next run: %v: %s", name, err, said)
			}
			if got != before && got != after && !strings.Contains(said.String(), "a run was stopped while it wrote") {
				t.Errorf("%s: a set of two runs was taken for whole: %s", name, said)
			}
			if now := visible(t, to); now != after || len(strays(to)) > 0 {
				t.Errorf("%s: the next run didn't repair the set", name)
			}
		}
	}
}
