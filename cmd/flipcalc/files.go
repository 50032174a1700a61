package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"syscall"

	"flipcalc/cmd/flipcalc/ask"
)

// Output files. Nothing is left half written and nothing is overwritten unless
// the whole output is ready: symlinks are followed, an absent or regular target
// is written beside itself, synced and renamed; anything else (a device, a FIFO)
// is opened and written straight and never replaced.

// onDisk is asked before each change of the disk: create, write, sync, rename, remove
// or make a folder. Tests stop a run at any of them.
var onDisk = func(does, path string) error { return nil }

// onDiskWriter asks before each write to a file.
type onDiskWriter struct{ f *os.File }

func (w onDiskWriter) Write(b []byte) (int, error) {
	if err := onDisk("write", w.f.Name()); err != nil {
		return 0, err
	}
	return w.f.Write(b)
}

// rename puts a file in another's place.
func rename(from, to string) error {
	if err := onDisk("rename", to); err != nil {
		return err
	}
	return os.Rename(from, to)
}

// remove takes a file away.
func remove(path string) error {
	if err := onDisk("remove", path); err != nil {
		return err
	}
	return os.Remove(path)
}

// unfinished are the temporary files to remove when the run is interrupted.
var unfinished struct {
	sync.Mutex
	paths map[string]bool
}

// renames is held while a set of files takes its places: a signal waits for it.
var renames sync.Mutex

// watchInterrupt removes unfinished files on Ctrl-C, Ctrl-\ or a termination signal. It
// is begun with the first such file, since a quick look-up has none and shouldn't wait
// for it.
var watchInterrupt = sync.OnceFunc(func() {
	c := make(chan os.Signal, 1)
	signal.Notify(c, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP, syscall.SIGQUIT)
	go func() {
		s := <-c
		renames.Lock()
		unfinished.Lock() // both held to the end: nothing new is begun
		for p := range unfinished.paths {
			os.Remove(p)
		}
		code := 128
		if n, ok := s.(syscall.Signal); ok {
			code += int(n)
		}
		os.Exit(code)
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
				return "", false, ask.Wrong(path, "a folder", "a file", "")
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
	return "", false, ask.Wrong(path, "too many symbolic links", "a file", "")
}

// writeFile writes path through fill, whole or not at all.
func (c *call) writeFile(path string, fill func(io.Writer) error) (err error) {
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
	c.clearStrays(filepath.Dir(real))
	p, err := stage(path, real, fill)
	if err != nil {
		return err
	}
	defer p.discard()
	if err := p.place(); err != nil {
		return err
	}
	c.written = true
	return nil
}

// pending is a file that is written whole beside the place that it is for.
type pending struct{ temp, real string }

// strayName is the name of a temporary file, with the number of the process that wrote it.
var strayName = regexp.MustCompile(`^\..+\.flipcalc-([0-9]+)-[0-9]+$`)

// createBeside opens a new temporary file beside real with a mode, less the umask.
func createBeside(real string, mode os.FileMode) (*os.File, error) {
	if err := onDisk("create", real); err != nil {
		return nil, err
	}
	for n := 0; ; n++ {
		name := fmt.Sprintf(".%s.flipcalc-%d-%d", filepath.Base(real), os.Getpid(), n)
		f, err := os.OpenFile(filepath.Join(filepath.Dir(real), name), os.O_RDWR|os.O_CREATE|os.O_EXCL, mode)
		if !errors.Is(err, os.ErrExist) || n > 1000 {
			return f, err
		}
	}
}

// stage writes a file through fill beside real, which path leads to. A new file has
// read and write for all, less the umask; one that is replaced keeps its mode, and one
// that is write-protected is refused.
func stage(path, real string, fill func(io.Writer) error) (_ *pending, err error) {
	mode, old := os.FileMode(0o666), os.FileMode(0)
	if info, err := os.Stat(real); err == nil {
		if err := protected(path, real, info); err != nil {
			return nil, err
		}
		mode, old = 0o600, info.Mode().Perm()
	}
	dir := filepath.Dir(real)
	if _, err := os.Stat(dir); err != nil {
		return nil, ask.Wrong(path, fmt.Sprintf("there is no folder %s", dir), "", "make the folder first")
	}
	watchInterrupt()
	unfinished.Lock()
	f, err := createBeside(real, mode)
	if err != nil {
		unfinished.Unlock()
		return nil, ask.Wrong(path, "can't write: "+unwrapped(err), "", "")
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
	w := bufio.NewWriterSize(onDiskWriter{f}, 256<<10)
	if err := fill(w); err != nil {
		return nil, err
	}
	if err := w.Flush(); err != nil {
		return nil, ask.Wrong(path, "can't write: "+unwrapped(err), "", "")
	}
	if old != 0 {
		if err := f.Chmod(old); err != nil {
			return nil, err
		}
	}
	if err := onDisk("sync", path); err != nil {
		return nil, ask.Wrong(path, "can't write: "+unwrapped(err), "", "")
	}
	if err := f.Sync(); err != nil {
		return nil, ask.Wrong(path, "can't write: "+unwrapped(err), "", "")
	}
	return begun, f.Close()
}

// protected refuses a file that its owner has protected from being written. The mode is
// asked first, since it binds root too.
func protected(path, real string, info os.FileInfo) error {
	refused := ask.Wrong(path, "a write-protected file", "one that may be written over", "give another name, or take the protection off")
	if info.Mode().Perm()&0o222 == 0 {
		return refused
	}
	f, err := os.OpenFile(real, os.O_WRONLY, 0)
	if errors.Is(err, os.ErrPermission) {
		return refused
	}
	if err == nil {
		f.Close()
	}
	return nil
}

// strays lists the temporary files that runs which are no more left in a folder.
func strays(dir string) (list []string) {
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		m := strayName.FindStringSubmatch(e.Name())
		if m == nil || !e.Type().IsRegular() {
			continue
		}
		path := filepath.Join(dir, e.Name())
		if n, err := strconv.Atoi(m[1]); err == nil && n == os.Getpid() {
			unfinished.Lock()
			ours := unfinished.paths[path]
			unfinished.Unlock()
			if !ours {
				list = append(list, path)
			}
		} else if err == nil && !running(n) {
			list = append(list, path)
		}
	}
	return list
}

// running reports whether there is a process of a number.
func running(number int) bool {
	p, err := os.FindProcess(number)
	if err != nil {
		return false
	}
	err = p.Signal(syscall.Signal(0))
	return err == nil || errors.Is(err, os.ErrPermission)
}

// clearStrays removes what stopped runs left in a folder, and names it.
func (c *call) clearStrays(dir string) {
	var cleared, left []string
	for _, path := range strays(dir) {
		if !c.On("dry-run") && remove(path) == nil {
			cleared = append(cleared, filepath.Base(path))
		} else {
			left = append(left, filepath.Base(path))
		}
	}
	if len(cleared) > 0 {
		c.warning(fmt.Sprintf("%s: removed what a stopped run left: %s", filepath.Clean(dir), strings.Join(cleared, ", ")))
	}
	if len(left) > 0 {
		c.warning(fmt.Sprintf("%s: left by a stopped run: %s", filepath.Clean(dir), strings.Join(left, ", ")))
	}
}

// warning prints a warning to standard error.
func (c *call) warning(text string) {
	fmt.Fprintln(c.err, "flipcalc: warning: "+ask.OneLine(text))
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
		remove(p.temp)
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
