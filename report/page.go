package report

import (
	"bytes"
	"fmt"
	"io"
	"regexp"
	"strings"
)

// HTML writes the setup as one page that needs nothing else: no network, no
// script. It prints on A4 and Letter and follows the reader's light or dark
// setting on a screen.
func HTML(w io.Writer, s Setup) error {
	if s.Drawings == nil {
		s.Drawings = &Drawings{}
	}
	p := &page{s: &s}
	if err := p.write(); err != nil {
		return err
	}
	_, err := w.Write(p.b.Bytes())
	return err
}

type page struct {
	s  *Setup
	b  bytes.Buffer
	id int
}

func (p *page) f(format string, a ...any) { fmt.Fprintf(&p.b, format, a...) }

func (p *page) write() error {
	s := p.s
	name := s.Name()
	p.f("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n")
	p.f("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n")
	p.f("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; img-src data:\">\n")
	p.f("<link rel=\"icon\" href=\"data:,\">\n")
	p.f("<title>%s: set-up sheet</title>\n<style>\n%s%s%s</style>\n</head>\n<body>\n", esc(name), drawingColors, drawingStyle, pageStyle)
	p.f("<header>\n<h1>%s <span class=\"kind\">set-up sheet</span></h1>\n", esc(name))
	var facts []string
	if s.Job != "" {
		facts = append(facts, "job "+s.Job)
	}
	if s.Machine != nil && s.Machine.Name != "" {
		facts = append(facts, "machine "+s.Machine.Name)
	}
	facts = append(facts, "lengths in "+s.Unit.String())
	p.f("<p class=\"facts\">%s</p>\n", esc(strings.Join(facts, " · ")))
	if a := s.Answer; a != nil {
		p.f("<div class=\"key\">\n")
		if a.Second != nil {
			p.f("<p><span class=\"what\">second zero</span> <strong>%s</strong> <span class=\"frame\">%s</span></p>\n",
				esc(a.Second.Offset+"  "+xyz(a.Second.X, a.Second.Y, a.Second.Z)), esc(frameWords(a.Second.Machine)))
		}
		p.f("<p><span class=\"what\">flip %s</span> <strong>%s</strong></p>\n</div>\n", esc(a.Question.Flip.String()), esc(FlipWords(a.Question.Flip)))
	}
	p.f("</header>\n<main>\n")
	for _, sec := range s.Sections() {
		p.f("<section id=\"%s\" aria-labelledby=\"h-%s\">\n<h2 id=\"h-%s\">%s</h2>\n", sec.ID, sec.ID, sec.ID, esc(sec.Title))
		for _, b := range sec.Blocks {
			if err := p.block(sec, b); err != nil {
				return err
			}
		}
		p.f("</section>\n")
	}
	p.f("</main>\n<footer>\n<p>Written by flipcalc%s. Numbers in the tables are exact; drawings are to scale.</p>\n</footer>\n</body>\n</html>\n", esc(versionWords(s.Version)))
	return nil
}

func versionWords(v string) string {
	if v == "" {
		return ""
	}
	return " " + v
}

func (p *page) block(sec Section, b Block) error {
	switch b := b.(type) {
	case Para:
		if b.Level == "" {
			p.f("<p>%s</p>\n", prose(b.Text))
		} else {
			p.f("<p class=\"say %s\"><b>%s:</b> %s</p>\n", esc(b.Level), esc(capital(b.Level)), prose(b.Text))
		}
	case Pairs:
		p.f("<dl>\n")
		for _, r := range b.Rows {
			p.f("<div><dt>%s</dt><dd>%s</dd></div>\n", esc(r[0]), prose(r[1]))
		}
		p.f("</dl>\n")
	case Table:
		p.table(b)
	case Bullets:
		p.f("<ul>\n")
		for _, it := range b.Items {
			p.f("<li>%s</li>\n", prose(it))
		}
		p.f("</ul>\n")
	case Code:
		p.f("<pre tabindex=\"0\" role=\"region\" aria-label=\"%s\">", esc(codeLabel(sec.ID)))
		for _, l := range b.Lines {
			p.f("%s\n", esc(l))
		}
		p.f("</pre>\n")
	case Checks:
		p.checks(b)
	case Figure:
		if b.SVG == "" {
			return nil
		}
		p.f("<figure id=\"fig-%s\">\n", b.ID)
		if b.Slim != "" {
			p.f("<div class=\"view slim\">\n%s</div>\n<div class=\"view full\" tabindex=\"0\" role=\"region\" aria-label=\"%s, drawing\">\n%s</div>\n", b.Slim, esc(b.Title), b.SVG)
		} else {
			p.f("<div class=\"view\" tabindex=\"0\" role=\"region\" aria-label=\"%s, drawing\">\n%s</div>\n", esc(b.Title), b.SVG)
		}
		p.f("<figcaption>%s</figcaption>\n</figure>\n", esc(b.Title))
	default:
		return fmt.Errorf("report: unknown block %T", b)
	}
	return nil
}

// unbroken are words that a line must not end in: a browser breaks Z-88 and --beyond
// behind the minus or the hyphens.
var unbroken = regexp.MustCompile(`--[a-z][a-z-]*|[A-Za-z]*-[0-9][0-9.]*`)

// prose writes running text.
func prose(text string) string {
	return unbroken.ReplaceAllString(esc(text), `<span class="w">$0</span>`)
}

func codeLabel(id string) string {
	if id == "offsets" {
		return "offsets program"
	}
	return "check sums"
}

func (p *page) table(t Table) {
	p.id++
	// The number keeps the region's name its own among tables of one caption.
	p.f("<div class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"table %d: %s\">\n<table>\n<caption>%s</caption>\n<thead><tr>", p.id, esc(t.Caption), esc(t.Caption))
	for i, h := range t.Head {
		p.f("<th scope=\"col\"%s>%s</th>", numeric(t.Right, i), esc(h))
	}
	p.f("</tr></thead>\n<tbody>\n")
	for _, row := range t.Rows {
		p.f("<tr>")
		for i := range t.Head {
			text := ""
			if i < len(row) {
				text = row[i]
			}
			if i == 0 {
				p.f("<th scope=\"row\"%s>%s</th>", numeric(t.Right, i), esc(text))
				continue
			}
			class := numeric(t.Right, i)
			if class == "" && len(text) <= shortCell {
				class = ` class="s"`
			}
			p.f("<td%s>%s</td>", class, esc(text))
		}
		p.f("</tr>\n")
	}
	p.f("</tbody>\n</table>\n</div>\n")
}

// shortCell is how many letters a cell may have that stays one line on a telephone, where
// the table slides sideways.
const shortCell = 26

func numeric(right []int, i int) string {
	if contains(right, i) {
		return ` class="n"`
	}
	return ""
}

func (p *page) checks(c Checks) {
	p.f("<h3>%s</h3>\n<ol class=\"steps\" start=\"%d\">\n", esc(c.Phase), c.First)
	for i, st := range c.Steps {
		p.f("<li value=\"%d\"><label><input type=\"checkbox\"> <span>%s</span></label>\n", c.First+i, prose(st.Text))
		if len(st.Write) > 0 {
			p.f("<div class=\"fill\">")
			for _, wr := range st.Write {
				p.f("<label>%s <input type=\"text\" autocomplete=\"off\"></label> ", esc(wr))
			}
			p.f("</div>\n")
		}
		for _, ca := range st.Cautions {
			p.f("<p class=\"say caution\"><b>Caution:</b> %s</p>\n", prose(ca.Text))
		}
		p.f("</li>\n")
	}
	p.f("</ol>\n")
}

// pageStyle lays the sheet out: one column on a screen, two on paper, where the
// whole sheet flows through both and only rows, steps and drawings are kept whole. A
// table or drawing that goes on beyond the edge of a screen has a shadow there.
const pageStyle = `*{box-sizing:border-box}
html{color-scheme:light dark}
body{margin:0 auto;max-width:76rem;padding:1rem;font:1rem/1.45 ui-sans-serif,system-ui,sans-serif;color:var(--ink);background:var(--paper);overflow-wrap:anywhere}
header{border-bottom:3px solid var(--ink);padding-bottom:.6rem}
h1{font-size:1.7rem;line-height:1.2;margin:0}
.kind{font-weight:400;color:var(--soft)}
.facts{margin:.2rem 0 .8rem;color:var(--soft)}
.key{display:flex;flex-wrap:wrap;gap:.6rem 2.5rem}
.key p{margin:0;border-left:4px solid var(--mark);padding-left:.6rem}
.key .what{display:block;color:var(--soft);font-size:.9rem}
.key strong{font-size:1.2rem;white-space:pre-wrap}
.frame{color:var(--soft)}
h2{font-size:1.2rem;margin:1.4rem 0 .5rem;border-bottom:1px solid var(--ink)}
h3{font-size:1rem;margin:1rem 0 .3rem}
p{margin:.35rem 0}
dl{margin:.4rem 0}
dl div{display:grid;grid-template-columns:minmax(6.5rem,11rem) 1fr;gap:0 .8rem;padding:.15rem 0;border-bottom:1px dotted var(--soft)}
dt{color:var(--soft)}
dd{margin:0}
table{border-collapse:collapse;font-variant-numeric:tabular-nums;margin:.3rem 0;min-width:min(24rem,100%)}
caption{text-align:left;color:var(--soft);padding:.2rem 0}
th,td{border:1px solid var(--soft);padding:.18rem .5rem;text-align:left;vertical-align:top}
td{min-width:3rem}
th,td,caption{overflow-wrap:normal}
thead th{background:var(--tint)}
tbody th{font-weight:600}
.n{text-align:right;white-space:nowrap}
.w{white-space:nowrap}
.wide,.view{overflow-x:auto;background:linear-gradient(to right,var(--paper) 40%,transparent) 0 0/2rem 100% local,linear-gradient(to left,var(--paper) 40%,transparent) 100% 0/2rem 100% local,linear-gradient(to right,var(--soft),transparent) 0 0/.6rem 100%,linear-gradient(to left,var(--soft),transparent) 100% 0/.6rem 100%;background-repeat:no-repeat}
pre{white-space:pre-wrap;background:var(--tint);padding:.5rem;font:.9rem/1.35 ui-monospace,monospace;margin:.3rem 0}
.say{border-left:3px solid var(--soft);padding-left:.6rem}
.say.warning,.say.caution{border-left:5px double var(--mark)}
figure{margin:.6rem 0}
.view{border:1px solid var(--soft)}
.drawing{display:block;width:100%;min-width:29rem;max-height:34rem;height:auto}
.slim{display:none}
.slim .drawing{min-width:0;max-height:none}
figcaption{color:var(--soft);font-size:.9rem}
ol.steps{margin:0;padding-left:2.2rem}
ol.steps li{padding:.15rem 0}
ol.steps>li>label{display:grid;grid-template-columns:auto 1fr;gap:.5rem}
input[type=checkbox]{width:1.15rem;height:1.15rem;margin:.15rem 0 0}
.fill{display:flex;flex-wrap:wrap;gap:.3rem 1rem;padding-left:1.7rem}
.fill label{color:var(--soft);white-space:nowrap}
.fill input{width:7rem;border:0;border-bottom:1px solid var(--ink);background:transparent;color:var(--ink);font:inherit}
ol.steps .say{margin-left:1.7rem}
:focus-visible{outline:3px solid var(--route);outline-offset:2px}
footer{margin-top:1.5rem;border-top:1px solid var(--soft);color:var(--soft);font-size:.9rem}
@media (max-width:40rem){body{padding:.6rem}dl div{grid-template-columns:1fr}dt{font-size:.9rem}.fill{padding-left:0}ol.steps .say{margin-left:0}ol.steps{padding-left:1.6rem}td.s{white-space:nowrap}table{min-width:0;font-size:.92rem}th,td{padding:.18rem .35rem}td{min-width:0}td:empty{min-width:3rem}thead .n{white-space:normal}}
@media screen and (max-width:40rem){.slim{display:block}.slim+.full{display:none}}
@page{margin:9mm}
@media print{html{color-scheme:light}body{max-width:none;padding:0;font:7.6pt/1.18 Arial,Helvetica,"Liberation Sans",sans-serif}
header{padding-bottom:1mm;border-bottom-width:2px}h1{font-size:14pt}.kind{font-size:10.5pt}.facts{margin:0 0 .6mm}.key{gap:1mm 8mm}.key strong{font-size:11pt}.key .what{font-size:7.4pt}
main{columns:2;column-gap:5mm;column-fill:balance;padding-top:1mm}
h2{font-size:10pt;margin:1.8mm 0 .6mm;break-after:avoid}h3{font-size:8.6pt;margin:1mm 0 .3mm;break-after:avoid}
p{margin:.4mm 0;orphans:2;widows:2}.say{padding-left:1.2mm;border-left-width:2px}.say.warning,.say.caution{border-left-width:3px}
dl{margin:.5mm 0}dl div{grid-template-columns:22mm 1fr;gap:0 2mm;padding:.15mm 0}
table{margin:.3mm 0 .8mm;font-size:7.2pt;width:100%;min-width:0}caption{padding:.2mm 0;break-after:avoid}th,td{padding:.15mm .9mm}td{min-width:0}td:empty{min-width:9mm}thead{display:table-header-group}
thead .n{white-space:normal}figure,tr,ol.steps li,dl div,.say,ul li,table:not(:has(tbody tr:nth-child(9))){break-inside:avoid}tbody tr:first-child{break-before:avoid}
.wide,.view{overflow:visible;background:none}pre{font-size:6.5pt;line-height:1.2;white-space:pre-wrap;padding:.6mm;margin:.4mm 0}
figure{margin:.6mm 0}figcaption{font-size:7pt}.view{break-inside:avoid}.drawing{min-width:0;max-height:44mm}#fig-bed .drawing{max-height:60mm}
ol.steps{padding-left:5mm}ol.steps li{padding:.15mm 0}ol.steps>li>label{gap:1.2mm}ol.steps .say,.fill{margin-left:4.4mm;padding-left:1.2mm}
.fill{gap:.2mm 3mm;padding-left:0}.fill input{width:14mm;padding:0}input[type=checkbox]{width:3mm;height:3mm;margin:0}
ul{margin:0;padding-left:3.4mm}footer{margin-top:1.5mm;font-size:7pt}}
`
