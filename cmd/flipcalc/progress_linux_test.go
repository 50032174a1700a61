package main

import (
	"bufio"
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"syscall"
	"testing"
	"time"
)

// A check of a long program shows on a terminal how much of it has been read, and ends at
// once by the terminal's interrupt character (termios(3): VINTR, Ctrl-C).
func TestProgressAndInterrupt(t *testing.T) {
	if testing.Short() {
		t.Skip("it writes and reads a long program")
	}
	dir := t.TempDir()
	face, back := filepath.Join(dir, "face.nc"), filepath.Join(dir, "back.nc")
	writeLong(t, face, 60_000_000)
	writeLong(t, back, 1000)

	terminal, end := pseudoTerminal(t)
	cmd := exec.Command("flipcalc", "check", "--stock", "100x100x10", "--flip", "y", "--face", face, "--back", back, "--tool", "1=flat,6")
	cmd.Env = append(os.Environ(), "FLIPCALC_MACHINE=", "XDG_CONFIG_HOME="+filepath.Join(dir, "none"), "TERM=xterm")
	cmd.Stdin, cmd.Stdout, cmd.Stderr = terminal, terminal, terminal
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	terminal.Close()
	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()

	progress := regexp.MustCompile(`face\.nc: [0-9]+ of 60 MB`)
	seen := make(chan struct{})
	go func() { // until the terminal's last holder is gone
		var said bytes.Buffer
		b, open := make([]byte, 4096), true
		for {
			n, err := end.Read(b)
			said.Write(b[:n])
			if open && progress.Match(said.Bytes()) {
				open = false
				close(seen)
			}
			if err != nil {
				return
			}
		}
	}()
	select {
	case <-seen:
	case err := <-ended:
		t.Fatalf("it ended before it showed how far it is: %v", err)
	case <-time.After(2 * time.Minute): // hangs
		cmd.Process.Kill()
		t.Fatal("nothing shown")
	}
	if _, err := end.Write([]byte{3}); err != nil {
		t.Fatal(err)
	}
	select {
	case <-ended:
	case <-time.After(2 * time.Minute):
		cmd.Process.Kill()
		t.Fatal("Ctrl-C doesn't end it")
	}
	status := cmd.ProcessState.Sys().(syscall.WaitStatus)
	if !status.Signaled() || status.Signal() != syscall.SIGINT {
		t.Errorf("it ended with %v, want the interrupt", cmd.ProcessState)
	}
}

// writeLong writes a program of about so many bytes, in cuts all over a blank of 100 x 100.
func writeLong(t *testing.T, path string, size int) {
	t.Helper()
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	w := bufio.NewWriter(f)
	fmt.Fprint(w, "G21 G90 G17\nT1 M6\nM3 S9000\nG0 X10 Y10 Z5\nG1 Z-1 F500\n")
	r := rand.New(rand.NewPCG(1, 2))
	for n := 0; n < size; {
		k, err := fmt.Fprintf(w, "G1 X%.3f Y%.3f\n", 10+80*r.Float64(), 10+80*r.Float64())
		if err != nil {
			t.Fatal(err)
		}
		n += k
	}
	fmt.Fprint(w, "G0 Z5\nM30\n")
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
}
