package report

import (
	"bytes"
	"errors"
	"fmt"
	"image/png"
	"maps"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"flipcalc/registration"
	"flipcalc/report/internal/readback"
)

// sheets are the pages that the browser looks at.
func sheets() map[string]Setup {
	x := drawn()
	x.Title = "Row marker, <b>bold</b> & \"quoted\""
	found := drawn()
	found.Check = &Check{Cell: 0.1, HasWeb: true, WebMin: -0.4, WebAt: Place{105, 65}, Islands: []Island{{Area: 50, Overlap: 0.4, X: 105, Y: 65}}, Findings: []Finding{
		{Code: "broken-through", Level: "finding", Place: &Place{105, 65}, Text: "face and back meet", Do: "cut one of them less deep", Cuts: Cuts{FaceLine: 12, BackLine: 40}},
		{Code: "pin", Level: "finding", Hit: true, Place: &Place{60, 10}, Text: "the cutter runs 1.5 mm into a pin", Do: "move the pin or the cut", Cuts: Cuts{FaceLine: 31}}}}
	return map[string]Setup{"marker": x, "findings": found,
		"fence": {Answer: stopAnswer(registration.Left), Checklist: true, Unit: 0}}
}

func writePage(t *testing.T, s Setup, edit func(string) string) (path string) {
	t.Helper()
	var b bytes.Buffer
	if err := HTML(&b, s); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	if edit != nil {
		text = edit(text)
	}
	path = filepath.Join(t.TempDir(), "sheet.html")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestMain(m *testing.M) {
	m.Run()
	readback.Close()
}

// The page is fetched from a server: no message on the console, and no request
// but for the page itself.
func TestPageIsQuietAndAlone(t *testing.T) {
	for _, name := range []string{"marker", "findings"} {
		page := readback.Open(t)
		path := writePage(t, sheets()[name], nil)
		var mu sync.Mutex
		var asked []string
		server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			mu.Lock()
			asked = append(asked, r.URL.Path)
			mu.Unlock()
			http.ServeFile(w, r, path)
		}))
		page.Load(server.URL + "/sheet")
		server.Close()
		if len(page.Console) > 0 {
			t.Errorf("%s: the console says\n%s", name, strings.Join(page.Console, "\n"))
		}
		if len(asked) != 1 || asked[0] != "/sheet" {
			t.Errorf("%s: asked for %v, want the page alone", name, asked)
		}
	}
}

// The console check can see a fault: a page with a script must fail it, since the
// page forbids scripts.
func TestConsoleFaultsAreSeen(t *testing.T) {
	page := readback.Open(t)
	page.Load("file://" + writePage(t, markerSetup(), func(s string) string { return strings.Replace(s, "</body>", "<script>nothing()</script></body>", 1) }))
	if len(page.Console) == 0 {
		t.Error("a script that the page forbids went unnoticed")
	}
}

// pdfPage matches one page object of a PDF (ISO 32000-1, 7.7.3.3).
var pdfPage = regexp.MustCompile(`/Type\s*/Page\b`)

// jobPages are the pages that the command writes for whole jobs, as a shop gets them: the
// example with all its parts, the same at three pairs of stations, and two pairs in inches.
var jobPages = sync.OnceValues(func() (map[string]string, error) {
	dir, err := os.MkdirTemp("", "pages")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	router, err := os.ReadFile("../testdata/orchard/machine.toml")
	if err != nil {
		return nil, err
	}
	wide, inch := filepath.Join(dir, "wide.toml"), filepath.Join(dir, "inch.toml")
	err = errors.Join(os.WriteFile(wide, bytes.Replace(router, []byte("extended = false"), []byte("extended = true"), 1), 0o644), os.WriteFile(inch, []byte(`units = "in"
bed = "0,0,26x18"
table = -6
extended = true
longest = 2.5
[travel]
x = [0, 26]
y = [0, 18]
z = [-5, 0]
[rapid]
x = 200
y = 200
z = 100
[[offset]]
name = "G55"
for = "bread boards"
rectangle = "18,1,7x5"
`), 0o644))
	if err != nil {
		return nil, err
	}
	pages := map[string]string{}
	for name, args := range map[string][]string{"orchard": {"testdata/orchard/job.toml"}, "three pairs": {"testdata/orchard/job.toml", "--pairs", "3", "--machine", wide},
		"inch pairs": {"testdata/clean/inch-tag.toml", "--pairs", "2", "--machine", inch},
		"bobbin":     {"testdata/clean/bobbin-end.toml"}, "board": {"testdata/clean/bread-board.toml"}} {
		out := filepath.Join(dir, name)
		cmd := exec.Command("go", append([]string{"run", "./cmd/flipcalc", "prepare", "-o", out, "-q"}, args...)...)
		cmd.Dir = ".."
		if b, err := cmd.CombinedOutput(); err != nil {
			return nil, fmt.Errorf("%s: %w\n%s", name, err, b)
		}
		b, err := os.ReadFile(filepath.Join(out, "index.html"))
		if err != nil {
			return nil, err
		}
		pages[name] = string(b)
	}
	return pages, nil
})

// save writes a page into a folder of its own.
func save(t *testing.T, text string) (path string) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "sheet.html")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// Page one is one page, and the whole sheet isn't long. Letter is the lower sheet, A4 the
// narrower (ISO 216: 210 x 297 mm).
func TestPagesOnPaper(t *testing.T) {
	page := readback.Open(t)
	jobs, err := jobPages()
	if err != nil {
		t.Fatal(err)
	}
	pages := maps.Clone(jobs)
	for _, id := range []string{"fit", "touch-off", "check", "plan", "programs", "budget"} {
		if !strings.Contains(pages["orchard"], `<section id="`+id+`"`) {
			t.Errorf("the example's sheet has no section %q: it is not a full one", id)
		}
	}
	for name, s := range sheets() {
		var b bytes.Buffer
		if err := HTML(&b, s); err != nil {
			t.Fatal(err)
		}
		pages[name] = b.String()
	}
	for _, c := range []struct {
		name, paper, hide string
		most              int
	}{
		{"orchard", "letter", ".two,.record,footer", 1}, {"orchard", "A4", ".two,.record,footer", 1},
		{"marker", "letter", ".two,.record,footer", 1}, {"findings", "A4", ".two,.record,footer", 1}, {"fence", "letter", ".two,.record,footer", 1},
		{"three pairs", "letter", ".two,.record,footer", 1}, {"three pairs", "A4", ".two,.record,footer", 1},
		{"inch pairs", "letter", ".two,.record,footer", 1}, {"inch pairs", "A4", ".two,.record,footer", 1},
		{"bobbin", "letter", ".two,.record,footer", 1}, {"bobbin", "A4", ".two,.record,footer", 1},
		{"board", "letter", ".two,.record,footer", 1}, {"board", "A4", ".two,.record,footer", 1},
		{"orchard", "A4", "nothing", 9}, {"marker", "letter", "nothing", 8},
	} {
		text := strings.Replace(pages[c.name], "@page{", "@page{size:"+c.paper+";", 1)
		page.Load("file://" + save(t, strings.Replace(text, "</style>", c.hide+"{display:none}.one{break-after:auto!important}</style>", 1)))
		if n := len(pdfPage.FindAll(page.Print(), -1)); n < 1 || n > c.most {
			t.Errorf("%s on %s without %s: %d pages, want at most %d", c.name, c.paper, c.hide, n, c.most)
		}
	}
}

// On paper no table, text or drawing is wider than its column. The zeros are at least
// 24 pt, nothing on page one and in the steps is under 11 pt, letters in drawings
// included, and nothing in the record under 6.5 pt. The page is shown with its rules for
// paper, as wide as A4 between its margins: 210 - 2 x 10 mm.
func TestSizesOnPaper(t *testing.T) {
	page := readback.Open(t)
	page.Size(1400, 3000)
	page.Media("print", "light")
	jobs, err := jobPages()
	if err != nil {
		t.Fatal(err)
	}
	const script = `(()=>{document.head.insertAdjacentHTML("beforeend","<style>body{width:190mm;margin:0}</style>");const bad=[],pt=96/72;
for(const e of document.querySelectorAll("article table,article pre,article p,article dl,article ul,article ol,article figure svg")){const a=e.closest("article");
if(e.getClientRects().length==1){const w=a.clientWidth,col=a.className=="record"?(w-5*96/25.4)/2:w;
if(e.getBoundingClientRect().width>col+1||!(e instanceof SVGElement)&&e.scrollWidth>col+1)bad.push(e.tagName+" "+Math.round(e.getBoundingClientRect().width)+" in "+Math.round(col)+": "+e.textContent.trim().slice(0,40))}}
for(const e of document.querySelectorAll("article *:not(svg *):not(input)")){const own=[...e.childNodes].some(n=>n.nodeType==3&&n.textContent.trim());const least=e.closest(".record")?6.5:11;
if(own&&e.getClientRects().length&&parseFloat(getComputedStyle(e).fontSize)<least*pt-.01)bad.push("small "+e.tagName+": "+e.textContent.trim().slice(0,30))}
for(const e of document.querySelectorAll(".one svg text")){if(!e.getClientRects().length||e.closest(".slim"))continue;
const high=parseFloat(getComputedStyle(e).fontSize)*e.getScreenCTM().a;if(high<11*pt-.05)bad.push("small letters "+(high/pt).toFixed(1)+" pt: "+e.textContent)}
for(const e of document.querySelectorAll(".value"))if(parseFloat(getComputedStyle(e).fontSize)<24*pt)bad.push("small zero");
const looked=document.querySelectorAll("article table").length+document.querySelectorAll(".value").length;
return {looked,bad}})()`
	for name, text := range jobs {
		page.Load("file://" + save(t, text))
		var got struct {
			Looked int
			Bad    []string
		}
		page.Ask(script, &got)
		if got.Looked < 9 {
			t.Errorf("%s: only %d tables and zeros on the page", name, got.Looked)
		}
		for _, b := range got.Bad {
			t.Errorf("%s: %s", name, b)
		}
	}
}

const layoutScript = `(()=>{
const r=e=>{const b=e.getBoundingClientRect();return b.width>0&&b.height>0};
const small=[...document.querySelectorAll("body *:not(svg *)")].filter(e=>e.childNodes.length&&[...e.childNodes].some(n=>n.nodeType==3&&n.textContent.trim())&&parseFloat(getComputedStyle(e).fontSize)<12).length;
const letters=[...document.querySelectorAll("svg text")].filter(r).map(e=>e.getBoundingClientRect().height);
return {asked:performance.getEntriesByType("resource").length,wide:document.documentElement.scrollWidth,checks:[...document.querySelectorAll("input[type=checkbox]")].filter(r).length,
drawings:[...document.querySelectorAll("figure svg")].filter(r).length,small:small,letters:Math.min(...letters),travel:Math.max(...[...document.querySelectorAll("#check .wide")].filter(e=>e.textContent.includes("Verdict")).map(e=>e.scrollWidth-e.clientWidth)),turned:Math.max(...[...document.querySelectorAll("#fig-turn .panel")].filter(r).map(e=>e.getBoundingClientRect().right))}})()`

// On a telephone nothing runs off the side, text is at least 12 px and letters
// in drawings at least 9 px high, and all three steps of the turn are in sight; on a
// screen likewise.
func TestPageLayout(t *testing.T) {
	page := readback.Open(t)
	s := drawn()
	path := writePage(t, s, nil)
	for _, wide := range []int{360, 1100} {
		page.Size(wide, 6000)
		page.Load("file://" + path)
		var got struct {
			Asked, Wide, Checks, Drawings, Small int
			Travel                               *int
			Letters, Turned                      float64
		}
		page.Ask(layoutScript, &got)
		if got.Asked > 0 {
			t.Errorf("%d px: the page asked for %d other things", wide, got.Asked)
		}
		if got.Wide > wide {
			t.Errorf("%d px: the page is %d wide", wide, got.Wide)
		}
		ticks, _ := s.inShort()
		n := len(s.Steps()) + len(ticks)
		if got.Checks != n {
			t.Errorf("%d px: %d boxes to tick show, want %d", wide, got.Checks, n)
		}
		if got.Travel == nil || *got.Travel > 0 {
			t.Errorf("%d px: the verdicts on the travel are not in sight", wide)
		}
		if got.Turned < 100 || got.Turned > float64(wide) {
			t.Errorf("%d px: the third step of the turn ends at %.0f px", wide, got.Turned)
		}
		if got.Drawings != 5 {
			t.Errorf("%d px: %d drawings show, want 5", wide, got.Drawings)
		}
		if got.Small > 0 || got.Letters < 9 {
			t.Errorf("%d px: %d texts under 12 px, smallest letters in drawings %.1f px", wide, got.Small, got.Letters)
		}
	}
}

// A screenshot shows ink on paper, in the light and in the dark.
func TestPageScreenshot(t *testing.T) {
	page := readback.Open(t)
	page.Size(1100, 5000)
	page.Load("file://" + writePage(t, drawn(), nil))
	for _, scheme := range []string{"light", "dark"} {
		page.Media("screen", scheme)
		img, err := png.Decode(bytes.NewReader(page.Shot()))
		if err != nil {
			t.Fatal(err)
		}
		r, g, b, _ := img.At(2, 2).RGBA()
		if ground := (r + g + b) / 3 >> 8; (ground < 128) != (scheme == "dark") {
			t.Errorf("%s: the ground is %d of 255", scheme, ground)
		}
		ink := 0
		bounds := img.Bounds()
		for y := bounds.Min.Y; y < bounds.Max.Y; y += 3 {
			for x := bounds.Min.X; x < bounds.Max.X; x += 3 {
				r2, g2, b2, _ := img.At(x, y).RGBA()
				if d := int(r2>>8) - int(r>>8); d > 60 || d < -60 || g2>>8 != g>>8 && b2>>8 == b>>8 {
					ink++
				}
			}
		}
		if ink < 2000 {
			t.Errorf("%s: only %d dots of ink", scheme, ink)
		}
	}
}

// axeCore finds the accessibility checker from the npm registry, where it is
// installed: in $AXE_CORE or npm's global folder.
func axeCore(t *testing.T) string {
	t.Helper()
	path := os.Getenv("AXE_CORE")
	if path == "" {
		if out, err := exec.Command("npm", "root", "-g").Output(); err == nil {
			path = filepath.Join(strings.TrimSpace(string(out)), "axe-core", "axe.min.js")
		}
	}
	b, err := os.ReadFile(path)
	if err != nil {
		t.Skip("no axe-core; npm install -g axe-core, or set AXE_CORE to axe.min.js")
	}
	return string(b)
}

func TestPageIsAccessible(t *testing.T) {
	page := readback.Open(t)
	axe := axeCore(t)
	run := axe + `;axe.run().then(r=>({passes:r.passes.length,violations:r.violations.map(v=>v.id+": "+v.help+" "+v.nodes.slice(0,3).map(n=>n.html.slice(0,120)).join(" | "))}))`
	for name, s := range sheets() {
		path := writePage(t, s, nil)
		for _, wide := range []int{360, 1100} {
			page.Size(wide, 6000)
			page.Load("file://" + path)
			var got struct {
				Passes     int
				Violations []string
			}
			page.Ask(run, &got)
			for _, v := range got.Violations {
				t.Errorf("%s at %d px: %s", name, wide, v)
			}
			if got.Passes < 15 {
				t.Errorf("%s: only %d rules passed: was the page there?", name, got.Passes)
			}
		}
	}
}
