package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"sync"
	"syscall"
)

// Output files. Nothing is left half written and nothing is overwritten unless
// the whole output is ready: symlinks are followed, an absent or regular target
// is written beside itself, synced and renamed; anything else (a device, a FIFO)
// is opened and written straight and never replaced.

// unfinished are the temporary files to remove when the run is interrupted.
var unfinished struct {
	sync.Mutex
	paths map[string]bool
}

// watchInterrupt removes unfinished files on Ctrl-C or a termination signal. It is
// begun with the first such file, since a quick look-up has none and shouldn't wait
// for it.
var watchInterrupt = sync.OnceFunc(func() {
	c := make(chan os.Signal, 1)
	signal.Notify(c, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	go func() {
		s := <-c
		unfinished.Lock() // held to the end: nothing new is begun
		for p := range unfinished.paths {
			os.Remove(p)
		}
		if s == os.Interrupt {
			os.Exit(130)
		}
		os.Exit(143)
	}()
})

// target resolves symlinks, also of a file that isn't there yet.
func target(path string) (resolved string, regular bool, err error) {
	for range 40 {
		info, err := os.Lstat(path)
		switch {
		case errors.Is(err, os.ErrNotExist):
			return path, true, nil
		case err != nil:
			return "", false, err
		case info.Mode()&os.ModeSymlink == 0:
			if info.IsDir() {
				return "", false, wrong(path, "a folder", "a file", "")
			}
			return path, info.Mode().IsRegular(), nil
		}
		to, err := os.Readlink(path)
		if err != nil {
			return "", false, err
		}
		if !filepath.IsAbs(to) {
			to = filepath.Join(filepath.Dir(path), to)
		}
		path = to
	}
	return "", false, wrong(path, "too many symbolic links", "a file", "")
}

// writeFile writes path through fill, whole or not at all.
func writeFile(path string, fill func(io.Writer) error) (err error) {
	real, regular, err := target(path)
	if err != nil {
		return err
	}
	if !regular {
		f, err := os.OpenFile(real, os.O_WRONLY, 0)
		if err != nil {
			return err
		}
		defer f.Close()
		w := bufio.NewWriterSize(f, 256<<10)
		if err := fill(w); err != nil {
			return err
		}
		return w.Flush()
	}
	p, err := stage(path, real, fill)
	if err != nil {
		return err
	}
	defer p.discard()
	return p.place()
}

// pending is a file that is written whole beside the place that it is for.
type pending struct{ temp, real string }

// stage writes a file through fill beside real, which path leads to.
func stage(path, real string, fill func(io.Writer) error) (_ *pending, err error) {
	mode := os.FileMode(0o644)
	if info, err := os.Stat(real); err == nil {
		mode = info.Mode().Perm()
	}
	dir := filepath.Dir(real)
	if _, err := os.Stat(dir); err != nil {
		return nil, wrong(path, fmt.Sprintf("there is no folder %s", dir), "", "make the folder first")
	}
	watchInterrupt()
	unfinished.Lock()
	f, err := os.CreateTemp(dir, "."+filepath.Base(real)+".*")
	if err != nil {
		unfinished.Unlock()
		var pe *os.PathError
		if errors.As(err, &pe) {
			return nil, wrong(path, "can't write: "+pe.Err.Error(), "", "")
		}
		return nil, err
	}
	if unfinished.paths == nil {
		unfinished.paths = map[string]bool{}
	}
	unfinished.paths[f.Name()] = true
	unfinished.Unlock()
	begun := &pending{temp: f.Name(), real: real}
	defer func() {
		f.Close()
		if err != nil {
			begun.discard()
		}
	}()
	w := bufio.NewWriterSize(f, 256<<10)
	if err := fill(w); err != nil {
		return nil, err
	}
	if err := w.Flush(); err != nil {
		return nil, wrong(path, "can't write: "+unwrapped(err), "", "")
	}
	if err := f.Chmod(mode); err != nil {
		return nil, err
	}
	if err := f.Sync(); err != nil {
		return nil, wrong(path, "can't write: "+unwrapped(err), "", "")
	}
	return begun, f.Close()
}

// place puts the file where it belongs.
func (p *pending) place() error {
	if err := rename(p.temp, p.real); err != nil {
		return err
	}
	p.forget()
	return nil
}

// discard removes the file where it wasn't put in its place.
func (p *pending) discard() {
	if p.temp != "" {
		os.Remove(p.temp)
		p.forget()
	}
}

// forget says that nothing is left to remove.
func (p *pending) forget() {
	unfinished.Lock()
	delete(unfinished.paths, p.temp)
	unfinished.Unlock()
	p.temp = ""
}

// unwrapped words a write error without the temporary file's name.
func unwrapped(err error) string {
	var pe *os.PathError
	if errors.As(err, &pe) {
		return pe.Err.Error()
	}
	return err.Error()
}

// change says what writing a file would do or did.
type change struct {
	path string
	what string // "new", "changed" or "as it was"
}

// open opens a program for reading; - is standard input.
func (c *call) open(path string) (io.ReadCloser, string, error) {
	if text, ok := c.kept[path]; ok {
		return io.NopCloser(bytes.NewReader(text)), map[bool]string{true: "standard input", false: path}[path == "-"], nil
	}
	if path == "-" {
		return io.NopCloser(c.in), "standard input", nil
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, path, err
	}
	if info, err := f.Stat(); err == nil && info.IsDir() {
		f.Close()
		return nil, path, wrong(path, "a folder", "a program", "")
	}
	return f, path, nil
}

// sameFile reports whether two paths lead to one file.
func sameFile(a, b string) bool {
	x, err := os.Stat(a)
	if err != nil {
		return false
	}
	y, err := os.Stat(b)
	return err == nil && os.SameFile(x, y)
}
