package main

import (
	"runtime/debug"
	"testing"
)

// The settings are those that 'go build' stamps, as the documentation of
// debug.BuildSetting names them.
func TestVersion(t *testing.T) {
	commit := debug.BuildSetting{Key: "vcs.revision", Value: "0123456789abcdef0123456789abcdef01234567"}
	time := debug.BuildSetting{Key: "vcs.time", Value: "2026-11-25T10:15:08Z"}
	changed := debug.BuildSetting{Key: "vcs.modified", Value: "true"}
	for _, c := range []struct {
		name, version string
		settings      []debug.BuildSetting
		want          string
	}{
		{"without a repository", "(devel)", nil, "(devel), go1.26"},
		{"no version at all", "", nil, "(devel), go1.26"},
		{"from a checkout", "(devel)", []debug.BuildSetting{commit, time}, "(devel) 0123456789abcdef0123456789abcdef01234567 of 2026-11-25T10:15:08Z, go1.26"},
		{"from a changed checkout", "(devel)", []debug.BuildSetting{commit, time, changed},
			"(devel) 0123456789abcdef0123456789abcdef01234567 of 2026-11-25T10:15:08Z, with changes since, go1.26"},
		{"a version that has the commit", "v0.0.0-20261125101508-0123456789ab", []debug.BuildSetting{commit, time},
			"v0.0.0-20261125101508-0123456789ab of 2026-11-25T10:15:08Z, go1.26"},
	} {
		if got := versionOf(&debug.BuildInfo{GoVersion: "go1.26", Main: debug.Module{Version: c.version}, Settings: c.settings}); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	if got := versionOf(nil); got != "(devel)" {
		t.Errorf("no build information: %q", got)
	}
}
