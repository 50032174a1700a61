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

func notePara(n Note, unit transform.Unit) Para {
	text := NoteWords(n, unit)
	where := n.File
	if n.Line > 0 {
		if where != "" {
			where += ":"
		} else {
			where = "line "
		}
		where += itoa(n.Line)
	}
	if where != "" {
		text = where + ": " + text
	}
	return Para{n.Level, text}
}

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
