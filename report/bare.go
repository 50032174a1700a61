package report

// ProgramCautions are the cautions that go with every written program, for the
// terminal where the program itself carries no comment.
func ProgramCautions() []string {
	var out []string
	for _, code := range []string{"dry-run", "check-zero", "hands", "wear", "practice"} {
		out = append(out, cautionText(code, ""))
	}
	return out
}
