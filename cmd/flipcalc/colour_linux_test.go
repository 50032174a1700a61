package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"unsafe"
)

// pseudoTerminal opens a terminal and its other end (pty(7) of the Linux manual: unlock
// it with TIOCSPTLCK, ask its number with TIOCGPTN).
func pseudoTerminal(t *testing.T) (terminal, end *os.File) {
	t.Helper()
	end, err := os.OpenFile("/dev/ptmx", os.O_RDWR, 0)
	if err != nil {
		t.Skip(err)
	}
	t.Cleanup(func() { end.Close() })
	var lock, number int32
	for request, at := range map[uintptr]*int32{0x40045431: &lock, 0x80045430: &number} {
		if _, _, e := syscall.Syscall(syscall.SYS_IOCTL, end.Fd(), request, uintptr(unsafe.Pointer(at))); e != 0 {
			t.Skip(e)
		}
	}
	terminal, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", number), os.O_RDWR|syscall.O_NOCTTY, 0)
	if err != nil {
		t.Skip(err)
	}
	t.Cleanup(func() { terminal.Close() })
	return terminal, end
}

// TestColour: a report is coloured where the stream that it goes to is a terminal, be the
// other one what it is.
func TestColour(t *testing.T) {
	t.Setenv("FLIPCALC_MACHINE", "")
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	t.Setenv("NO_COLOR", "")
	t.Setenv("TERM", "xterm")
	mirror := []string{"mirror", filepath.Join(orchard(t), "outline.nc"), "--stock", "120x80x12", "--flip", "y", "-o", "-"}
	terminal, end := pseudoTerminal(t)
	text := make(chan string)
	go func() {
		b := make([]byte, 1<<16)
		n, _ := end.Read(b)
		text <- string(b[:n])
	}()
	var program bytes.Buffer
	if code := run(mirror, strings.NewReader(""), &program, terminal); code != 0 {
		t.Fatal(code)
	}
	if said := <-text; !strings.Contains(said, "\x1b[") {
		t.Errorf("the report on the terminal has no colour: %q", said)
	}
	var errs bytes.Buffer
	if code := run(mirror, strings.NewReader(""), terminal, &errs); code != 0 {
		t.Fatal(code)
	}
	if strings.Contains(errs.String(), "\x1b[") {
		t.Errorf("the report in a file has colour: %q", &errs)
	}
}
