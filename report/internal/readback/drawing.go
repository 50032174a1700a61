// Package readback reads drawings and pages back, for tests.
package readback

import (
	"encoding/xml"
	"errors"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// Node is one element of a drawing.
type Node struct {
	Name  string
	Attr  map[string]string
	Class string
	In    []map[string]string // attributes of the elements round it, the outermost first
	Text  string              // its own
}

// Nodes reads a drawing; it must be well-formed XML.
func Nodes(t *testing.T, svg string) []Node {
	t.Helper()
	dec := xml.NewDecoder(strings.NewReader(svg))
	var out []Node
	var stack []map[string]string
	var open []int
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatalf("no XML: %v", err)
		}
		switch e := tok.(type) {
		case xml.StartElement:
			a := map[string]string{}
			for _, x := range e.Attr {
				a[x.Name.Local] = x.Value
			}
			open = append(open, len(out))
			out = append(out, Node{Name: e.Name.Local, Attr: a, Class: a["class"], In: append([]map[string]string(nil), stack...)})
			stack = append(stack, a)
		case xml.EndElement:
			stack, open = stack[:len(stack)-1], open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				out[open[len(open)-1]].Text += string(e)
			}
		}
	}
}

// Number is an attribute's value.
func (n Node) Number(t *testing.T, key string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(n.Attr[key], 64)
	if err != nil {
		t.Fatalf("%s %s: %v", n.Name, key, err)
	}
	return v
}

// Group is the attributes of the element that the node stands in, nil for none.
func (n Node) Group() map[string]string {
	if len(n.In) == 0 {
		return nil
	}
	return n.In[len(n.In)-1]
}

// Line is one line of letters of a drawing.
type Line struct {
	Class, Anchor, Text string
	X, Y, Size          float64
}

// Lines are all letters of a drawing, of which there must be some.
func Lines(t *testing.T, svg string) (out []Line) {
	t.Helper()
	for _, n := range Nodes(t, svg) {
		if n.Name == "text" {
			out = append(out, Line{n.Class, n.Attr["text-anchor"], n.Text, n.Number(t, "x"), n.Number(t, "y"), n.Number(t, "font-size")})
		}
	}
	if len(out) == 0 {
		t.Fatal("no letters")
	}
	return out
}

var viewBox = regexp.MustCompile(`viewBox="(\S+) (\S+) (\S+) (\S+)"`)

// View is the part of its plane that a drawing shows: left, top, width, height.
func View(t *testing.T, svg string) (v [4]float64) {
	t.Helper()
	m := viewBox.FindStringSubmatch(svg)
	for i := range v {
		var err error
		if v[i], err = strconv.ParseFloat(m[i+1], 64); err != nil {
			t.Fatal(err)
		}
	}
	return v
}
