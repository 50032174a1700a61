package main

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
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

// All of a folder's files or none, wherever it goes wrong: a target that is a
// folder, or a rename that fails at each of the three files in turn.
func TestPutFolder(t *testing.T) {
	files := []outFile{{"a.nc", []byte("A2")}, {"b.nc", []byte("B2")}, {"c.nc", []byte("C2")}}
	for _, old := range []string{"", "a.nc b.nc c.nc", "b.nc"} {
		for fail := 0; fail <= 4; fail++ {
			dir := filepath.Join(t.TempDir(), "out")
			for _, name := range strings.Fields(old) {
				os.Mkdir(dir, 0o755)
				os.WriteFile(filepath.Join(dir, name), []byte("old"), 0o644)
			}
			if fail == 4 && !strings.Contains(old, "c.nc") {
				os.MkdirAll(filepath.Join(dir, "c.nc", "x"), 0o755)
			}
			before, calls := snapshot(t, dir), 0
			rename = func(from, to string) error {
				if calls++; calls == fail {
					return errors.New("no luck")
				}
				return os.Rename(from, to)
			}
			changes, err := putFolder(dir, files, false)
			rename = os.Rename
			after := snapshot(t, dir)
			failed := fail >= 1 && fail <= 3 || fail == 4 && !strings.Contains(old, "c.nc")
			switch {
			case failed && (err == nil || after != before):
				t.Errorf("old %q, failure %d: %v, %q became %q", old, fail, err, before, after)
			case !failed && (err != nil || after != "a.nc=A2 b.nc=B2 c.nc=C2 " || len(changes) != 3):
				t.Errorf("old %q: %v, %q", old, err, after)
			}
		}
	}
	dir := t.TempDir()
	if _, err := putFolder(filepath.Join(dir, "dry"), files, true); err != nil || snapshot(t, dir) != "" {
		t.Errorf("a dry run left %q, %v", snapshot(t, dir), err)
	}
}

// A file's name says which side it is for, once.
func TestOutName(t *testing.T) {
	for _, c := range []struct{ path, key, want string }{
		{"shop/face.nc", "face", "face.nc"},
		{"face-a.nc", "face", "face-a.nc"},
		{"outline.nc", "face", "face-outline.nc"},
		{"outline.nc", "mirror", "back-outline.nc"},
		{"back-outline.nc", "mirror", "back-outline.nc"},
		{"back.nc", "mirror", "back-mirrored.nc"},
		{"tag back.nc", "mirror", "tag back-mirrored.nc"},
		{"tag-Back", "mirror", "tag-Back-mirrored"},
		{"back.nc", "back", "back.nc"},
		{"tag-back.nc", "back", "tag-back.nc"},
		{"lettering.nc", "back", "back-lettering.nc"},
		{"backgammon.nc", "mirror", "back-backgammon.nc"},
		{"pair2-back.nc", "mirror", "back-pair2-back.nc"}, // pair2- is for the second pair's programs
		{".nc", "back", "back-.nc"},
	} {
		if got := outName(c.path, c.key); got != c.want {
			t.Errorf("%s as %s: %s, want %s", c.path, c.key, got, c.want)
		}
	}
}
