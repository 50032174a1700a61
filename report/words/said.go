package words

// Said is what a reader was told: the same sentence is told once.
type Said map[string]bool

// First says that a text wasn't told yet, and takes it as told.
func (s Said) First(text string) bool {
	told := s[text]
	s[text] = true
	return !told
}
