package readback

import (
	"bytes"
	"context"
	"encoding/json"
	"html"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
)

// Browser finds a headless Chromium; the test is skipped without one.
func Browser(t *testing.T) string {
	t.Helper()
	if testing.Short() {
		t.Skip("short")
	}
	for _, name := range []string{os.Getenv("CHROMIUM"), "chromium", "chromium-browser"} {
		if name == "" {
			continue
		}
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	t.Skip("no chromium")
	return ""
}

// Browse runs the browser on an address and gives what it wrote.
func Browse(t *testing.T, exe, address string, args ...string) (out, errs string) {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 90*time.Second)
	defer cancel()
	args = append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--no-first-run", "--disable-background-networking",
		"--disable-component-update", "--disable-sync", "--disable-extensions", "--disable-default-apps", "--metrics-recording-only",
		"--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1", "--user-data-dir=" + t.TempDir()}, args...)
	cmd := exec.CommandContext(ctx, exe, append(args, address)...)
	var o, e bytes.Buffer
	cmd.Stdout, cmd.Stderr = &o, &e
	if err := cmd.Run(); err != nil {
		t.Fatalf("%s: %v\n%s", exe, err, e.String())
	}
	return o.String(), e.String()
}

// PageAnswer is what a script of a test page looked at, and what it found wrong.
type PageAnswer struct {
	Looked int
	Bad    []string
}

// Answer reads the JSON between ANSWER and END that a test page's script leaves.
func Answer(t *testing.T, page string, answer any) {
	t.Helper()
	_, rest, ok := strings.Cut(page, "<pre>ANSWER")
	if !ok {
		t.Fatal("no answer from the page")
	}
	text, _, _ := strings.Cut(rest, "END</pre>")
	if err := json.Unmarshal([]byte(html.UnescapeString(text)), answer); err != nil {
		t.Fatalf("%v in %q", err, text)
	}
}
