package block

import (
	"fmt"

	"flipcalc/mirror/fault"
)

// Kind says what is wrong with the text of a program.
type Kind uint8

// What can be wrong with the text of a program.
const (
	LineTooLong    Kind = iota + 1 // longer than MaxLine
	BadByte                        // a character that no block may hold
	NoNumber                       // a letter without a number
	TwoPoints                      // a number with two decimal points
	OpenComment                    // '(' without ')'
	NestedComment                  // '(' inside a comment
	StrayClose                     // ')' or ']' without its partner
	StraySlash                     // '/' that isn't the first character
	DoubleSlash                    // a line that starts with //
	StrayPercent                   // '%' that isn't the first character
	PercentText                    // '%' with text behind it that is no program number
	BareCR                         // a carriage return without a line feed
	ByteOrderMark                  // the text starts with a byte-order mark
	BadBlockNumber                 // an N word that isn't first or isn't a plain number
	TooManyWords                   // more words than any block needs
	Symbol                         // a parameter, an expression or a function: what only a control that runs the program knows
	UnknownName                    // letters after a letter that name no function
	LetterO                        // the letter O where a digit is meant
	ControlFlow                    // IF, WHILE, GOTO and the like
	LongNumber                     // a number of more digits than anybody writes
	CornerWord                     // ',R' or ',C': a corner that the control rounds or bevels
)

// refusal is the error of a fault at a column of a line; text is the offending
// character or word. Whoever reads the file puts in its name.
func (k Kind) refusal(line, col int, text string) *fault.Error {
	return &fault.Error{Line: line, Col: col, Found: k.found(text), Expected: k.expected(text), Hint: k.hint(text)}
}

// colon is the character that numbers a program on some controls (common practice) and a block
// to which a tape is wound back on others (ISO 6983-1, alignment function, from memory).
const colon = "':'"

// found gives the fault in a machinist's words.
func (k Kind) found(text string) string {
	switch k {
	case LineTooLong:
		return fmt.Sprintf("a line longer than %d bytes", MaxLine)
	case BadByte:
		return "character " + text
	case NoNumber:
		return fmt.Sprintf("%s without a number", text)
	case TwoPoints:
		return "a number with two decimal points"
	case LongNumber:
		return fmt.Sprintf("a number of more than %d digits", mostDigits)
	case OpenComment:
		return "a comment that isn't closed"
	case NestedComment:
		return "'(' inside a comment"
	case StrayClose:
		return fmt.Sprintf("%s without its partner", text)
	case StraySlash:
		return "'/' in the middle of a block"
	case DoubleSlash:
		return "a line that starts with //"
	case StrayPercent:
		return "'%' in the middle of a block"
	case PercentText:
		return "text after '%'"
	case BareCR:
		return "a carriage return without a line feed"
	case ByteOrderMark:
		return "a byte-order mark (" + text + ")"
	case BadBlockNumber:
		return "a block number that isn't first in its block or isn't a plain whole number"
	case TooManyWords:
		return fmt.Sprintf("more than %d words in one block", MaxWords)
	case Symbol:
		return "a parameter or an expression"
	case UnknownName:
		return "unknown word " + text
	case LetterO:
		return "the letter O behind " + text
	case ControlFlow:
		return text + " (program flow)"
	case CornerWord:
		if text == ",R" {
			return text + " (a corner that the control rounds)"
		}
		return text + " (a corner that the control bevels)"
	}
	return "unreadable text"
}

// expected says what should stand there, where that can be said.
func (k Kind) expected(text string) string {
	switch k {
	case BadByte:
		if text == colon {
			return "the letter O or N"
		}
	case NoNumber:
		return "at least one digit"
	case LetterO:
		return "a number"
	case PercentText:
		return "'%' alone on its line"
	case LongNumber:
		return "a shorter number"
	case OpenComment:
		return "')' before the end of the line"
	}
	return ""
}

// hint says what the maker can do.
func (k Kind) hint(text string) string {
	switch k {
	case LineTooLong, ByteOrderMark:
		return "save the program as plain text, one block a line"
	case BadByte:
		switch text {
		case "','":
			return "write a decimal point, or put it into a comment in parentheses"
		case colon:
			return "write O where it numbers the program, N where it numbers a block"
		}
		return "take it out or put it into a comment in parentheses"
	case LetterO:
		return "write the digit 0"
	case NestedComment:
		return "controls differ on where such a comment ends; keep one pair of parentheses"
	case StraySlash:
		return "controls differ on what a slash there deletes; put it first in a block of its own"
	case DoubleSlash:
		return "some controls run such a line; write the comment in parentheses"
	case StrayPercent:
		return "keep % on a line of its own"
	case PercentText:
		return "some controls take such a line as a comment, others run it: write the comment in parentheses"
	case BareCR:
		return "give the program LF or CRLF line ends"
	case BadBlockNumber:
		return "write N and up to nine digits at the start of the block"
	case CornerWord:
		if text == ",R" {
			return "end the move before the corner and write the corner as an arc"
		}
		return "end the move before the corner and write the chamfer as a move of its own"
	case ControlFlow, Symbol:
		return fault.MovesOut
	}
	return ""
}
