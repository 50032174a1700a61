package readback

import (
	"bufio"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"testing"
	"time"
)

// Page is a page of a headless Chromium, spoken to in its DevTools protocol: a command
// is a JSON object with a number, its answer bears the same number, and events come
// between them. One browser serves all tests of a package, since its start takes longer
// than what most of them ask.
type Page struct {
	// Console is what the page said there, faults of its own rules included.
	Console []string

	t       *testing.T
	session string
	loads   map[string]bool // documents that are loaded whole
}

// process is a browser that runs.
type process struct {
	cmd     *exec.Cmd
	profile string // its folder
	to      *os.File
	from    *os.File
	answers *bufio.Reader
	last    int // number of a command
	pages   map[string]*Page
}

// browser is nil before the first page.
var browser *process

// message is a command, an answer or an event; a zero byte ends it.
type message struct {
	ID        int             `json:"id,omitempty"`
	SessionID string          `json:"sessionId,omitempty"`
	Method    string          `json:"method,omitempty"`
	Params    json.RawMessage `json:"params,omitempty"`
	Result    json.RawMessage `json:"result,omitempty"`
	Error     json.RawMessage `json:"error,omitempty"`
}

// object is what a command wants to be told.
type object map[string]any

// Open gives an empty page; the test is skipped without a browser.
func Open(t *testing.T) *Page {
	t.Helper()
	if testing.Short() {
		t.Skip("short")
	}
	if browser == nil {
		start(t)
	}
	p := &Page{t: t, loads: map[string]bool{}}
	var target struct{ TargetID string }
	p.do("Target.createTarget", object{"url": "about:blank"}, &target)
	var session struct{ SessionID string }
	p.do("Target.attachToTarget", object{"targetId": target.TargetID, "flatten": true}, &session)
	p.session = session.SessionID
	browser.pages[p.session] = p
	for _, domain := range []string{"Page", "Log", "Runtime"} {
		p.do(domain+".enable", nil, nil)
	}
	p.do("Page.setLifecycleEventsEnabled", object{"enabled": true}, nil)
	t.Cleanup(func() {
		delete(browser.pages, p.session)
		p.session = ""
		p.do("Target.closeTarget", object{"targetId": target.TargetID}, nil)
	})
	return p
}

func start(t *testing.T) {
	var exe string
	for _, name := range []string{os.Getenv("CHROMIUM"), "chromium", "chromium-browser"} {
		if path, err := exec.LookPath(name); err == nil {
			exe = path
			break
		}
	}
	if exe == "" {
		t.Skip("no chromium")
	}
	profile, err := os.MkdirTemp("", "browser")
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(exe, "--headless", "--remote-debugging-pipe", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--no-first-run",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-extensions", "--disable-default-apps",
		"--metrics-recording-only", "--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1", "--user-data-dir="+profile)
	theirsIn, to, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	from, theirsOut, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	cmd.ExtraFiles = []*os.File{theirsIn, theirsOut} // it reads commands at 3 and answers at 4
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	theirsIn.Close()
	theirsOut.Close()
	browser = &process{cmd: cmd, profile: profile, to: to, from: from, answers: bufio.NewReader(from), pages: map[string]*Page{}}
}

// Close ends the browser, for TestMain; it leaves when nobody can speak to it.
func Close() {
	if browser == nil {
		return
	}
	browser.to.Close()
	browser.cmd.Wait()
	os.RemoveAll(browser.profile)
}

// do gives a command and waits for its answer.
func (p *Page) do(method string, params object, answer any) {
	p.t.Helper()
	if params == nil {
		params = object{}
	}
	browser.last++
	id := browser.last
	said, err := json.Marshal(params)
	if err == nil {
		said, err = json.Marshal(message{ID: id, SessionID: p.session, Method: method, Params: said})
	}
	if err == nil {
		_, err = browser.to.Write(append(said, 0))
	}
	if err != nil {
		p.t.Fatalf("%s: %v", method, err)
	}
	for {
		m := p.next()
		switch {
		case m.ID != id:
			continue
		case m.Error != nil:
			p.t.Fatalf("%s: %s", method, m.Error)
		case answer != nil:
			if err := json.Unmarshal(m.Result, answer); err != nil {
				p.t.Fatalf("%s: %v in %s", method, err, m.Result)
			}
		}
		return
	}
}

// next reads one message; what is an event it puts to its page.
func (p *Page) next() message {
	p.t.Helper()
	err := browser.from.SetReadDeadline(time.Now().Add(90 * time.Second))
	var b []byte
	if err == nil {
		b, err = browser.answers.ReadBytes(0)
	}
	var m message
	if err == nil {
		err = json.Unmarshal(b[:len(b)-1], &m)
	}
	if err == nil && browser.pages[m.SessionID] != nil {
		err = browser.pages[m.SessionID].take(m)
	}
	if err != nil {
		p.t.Fatalf("the browser's answer: %v", err)
	}
	return m
}

// take notes an event of the page.
func (p *Page) take(m message) error {
	switch m.Method {
	case "Page.lifecycleEvent":
		var event struct{ LoaderID, Name string }
		err := json.Unmarshal(m.Params, &event)
		p.loads[event.LoaderID] = p.loads[event.LoaderID] || event.Name == "load"
		return err
	case "Log.entryAdded", "Runtime.consoleAPICalled", "Runtime.exceptionThrown":
		p.Console = append(p.Console, string(m.Params))
	}
	return nil
}

// Load shows what stands at an address, and waits until all of it is there.
func (p *Page) Load(address string) {
	p.t.Helper()
	var to struct{ LoaderID, ErrorText string }
	p.do("Page.navigate", object{"url": address}, &to)
	if to.ErrorText != "" {
		p.t.Fatalf("%s: %s", address, to.ErrorText)
	}
	for !p.loads[to.LoaderID] {
		p.next()
	}
	p.Ask("document.fonts.ready.then(()=>0)", new(int))
}

// Size makes the window so many pixels wide and high.
func (p *Page) Size(wide, high int) {
	p.t.Helper()
	p.do("Emulation.setDeviceMetricsOverride", object{"width": wide, "height": high, "deviceScaleFactor": 1, "mobile": false}, nil)
}

// Media shows the page as it is for a kind of media, "screen" or "print", where light or
// dark is liked.
func (p *Page) Media(kind, scheme string) {
	p.t.Helper()
	p.do("Emulation.setEmulatedMedia", object{"media": kind, "features": []map[string]string{{"name": "prefers-color-scheme", "value": scheme}}}, nil)
}

// Ask gives the value of a script, or of its promise. The page's own rules on scripts
// don't bind it.
func (p *Page) Ask(script string, answer any) {
	p.t.Helper()
	var got struct {
		Result           struct{ Value json.RawMessage }
		ExceptionDetails json.RawMessage
	}
	p.do("Runtime.evaluate", object{"expression": script, "awaitPromise": true, "returnByValue": true}, &got)
	err := errors.New(string(got.ExceptionDetails))
	if got.ExceptionDetails == nil {
		err = json.Unmarshal(got.Result.Value, answer)
	}
	if err != nil {
		p.t.Fatalf("%v: %s", err, got.Result.Value)
	}
}

// Print gives the page as a PDF of the size that its own rules ask for.
func (p *Page) Print() []byte {
	p.t.Helper()
	return p.data("Page.printToPDF", object{"printBackground": true, "preferCSSPageSize": true})
}

// Shot is a PNG of what the window shows.
func (p *Page) Shot() []byte {
	p.t.Helper()
	return p.data("Page.captureScreenshot", nil)
}

func (p *Page) data(method string, params object) []byte {
	p.t.Helper()
	var got struct{ Data []byte }
	p.do(method, params, &got)
	return got.Data
}
