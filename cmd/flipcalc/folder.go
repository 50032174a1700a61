package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
)

// rename is os.Rename, but for tests that let it fail.
var rename = os.Rename

// putFolder writes files into a folder, all of them or none: each is written whole
// beside its target, and only when all are do they take their places. What is there
// already and equal stays. The folder is made where it isn't there.
func putFolder(dir string, files []outFile, dry bool) (out []change, err error) {
	made := false
	if !dry {
		if _, err := os.Stat(dir); errors.Is(err, os.ErrNotExist) {
			made = true
		}
		if err := ownFolder(dir); err != nil {
			return nil, err
		}
	}
	var staged []*pending
	var before []content
	defer func() {
		for _, p := range staged {
			p.discard()
		}
		if err != nil && made {
			os.Remove(dir) // only if it is still empty
		}
	}()
	for _, f := range files {
		path := filepath.Join(dir, f.name)
		real, regular, err := target(path)
		switch {
		case err != nil:
			return nil, err
		case !regular:
			return nil, wrong(path, "a device or pipe", "a file", "")
		}
		old, err := os.ReadFile(real)
		there := err == nil
		switch {
		case there && bytes.Equal(old, f.content):
			out = append(out, change{path, "as it was"})
			continue
		case there:
			out = append(out, change{path, "changed"})
		case errors.Is(err, os.ErrNotExist):
			out = append(out, change{path, "new"})
		default:
			return nil, err
		}
		if dry {
			continue
		}
		p, err := stage(path, real, func(w io.Writer) error { _, err := w.Write(f.content); return err })
		if err != nil {
			return nil, err
		}
		staged, before = append(staged, p), append(before, content{real, old, there})
	}
	for i, p := range staged {
		if err := p.place(); err != nil {
			return nil, takeBack(before[:i], err)
		}
	}
	return out, nil
}

// content is what stood at a place before.
type content struct {
	path  string
	text  []byte
	there bool
}

// takeBack restores what stood where files were put already, after err.
func takeBack(before []content, err error) error {
	for _, b := range before {
		var e error
		if b.there {
			e = writeFile(b.path, func(w io.Writer) error { _, err := w.Write(b.text); return err })
		} else {
			e = os.Remove(b.path)
		}
		err = errors.Join(err, e)
	}
	return err
}
