package report

import (
	"strings"

	"flipcalc/mirror"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report/words"
)

// factNotes are facts as notes.
func factNotes(facts []registration.Fact) []Note {
	var out []Note
	for _, f := range facts {
		out = append(out, factNote(f))
	}
	return out
}

// factNote is a fact as a note.
func factNote(f registration.Fact) Note { return Note{Level: f.Level, Is: f.Is} }

// NoteWords turns a note into a sentence.
func NoteWords(n Note, unit transform.Unit) string { return words.Fact(n.Is, unit) }

// NoteText is that sentence behind its place.
func NoteText(n Note, unit transform.Unit) string {
	text := NoteWords(n, unit)
	switch {
	case n.File != "" && n.Line > 0:
		return n.File + ":" + itoa(n.Line) + ": " + text
	case n.File != "":
		return n.File + ": " + text
	case n.Line > 0:
		return "line " + itoa(n.Line) + ": " + text
	}
	return text
}

func notePara(n Note, unit transform.Unit) Para { return Para{n.Level, NoteText(n, unit)} }

func (s *Setup) noteSection() Section {
	sec := Section{ID: "notes", Title: "Notes and assumptions"}
	for _, n := range s.Notes {
		if !idle(n) {
			sec.Blocks = append(sec.Blocks, notePara(n, s.Unit))
		}
	}
	return sec
}

// idle says that a note tells nothing: an offset that stays what it is.
func idle(n Note) bool {
	o, mapped := n.Is.(mirror.OffsetMapped)
	return mapped && o.Face == o.Back
}

// labelled puts a paragraph's level in front as a word.
func labelled(p Para) string {
	text := strings.TrimSpace(p.Text)
	if p.Level == "" {
		return text
	}
	return capital(p.Level) + ": " + text
}
