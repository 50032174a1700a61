package report

import _ "embed"

//go:embed sheet.schema.json
var sheetSchema []byte

// Schema gives the JSON Schema (draft 2020-12) of what JSON writes. The parts of
// it under $defs are the schemas of the other verbs' answers.
func Schema() []byte { return append([]byte(nil), sheetSchema...) }
