// Package mirror rewrites part programs for the second side of a part: it turns
// every word that the flip turns, keeps every other byte, and hands over nothing
// that a separate interpreter hasn't proved.
//
// # How a word is read
//
// The modal state of the control is followed in the order in which NISTIR 6556,
// table 8, has a block carried out, so that a G91 at the end of a line counts for the
// words in front of it. Codes that a mirror can't follow are refused with their place,
// what they are and what the maker can do; nothing passes silently.
//
// # Numbers
//
// A changed number has as many decimals as the original, or as many as the offset
// needs where those are more. The decimal point stays ("X5." becomes "X95."), and so do
// a plus sign, padding zeros and a bare point in front ("X.25"). Zero never gets a minus
// sign. A number whose value doesn't change keeps its bytes, whatever they are. Numbers
// of up to 18 digits are reckoned as scaled integers, longer ones in decimal: always
// exactly. Spaces between letter and number stay, spaces inside a changed number go.
//
// Mirrored twice, a program is the same bytes wherever each changed number was written
// plainly (no plus sign, a digit before the point, no padding) with at least the offset's
// decimals; elsewhere it is the same values. Mirroring a third time gives what the first
// gave.
//
// A parameter, an expression or a function isn't mirrored word by word: package plain runs
// such a program and writes its moves out.
//
// # Units
//
// The transform's offsets are converted exactly. An offset in mm that is no finite number
// of inches is rounded once, to the most decimals of an axis word in the program's first
// 500 blocks with axis words, at least 4; the report says so.
//
// # Where a cut starts
//
// A cut that starts where a reversed axis isn't given can be mirrored only if the tool
// then stands at the mirror image: it gets a warning. At a place of the machine, where
// G28, G30, G53 or another work offset left the axis, it is refused, and so is a curve
// that leads from an unknown start to given places.
//
// # The end
//
// What stands behind the closing % or ^Z never runs and keeps its bytes.
//
// # Block delete
//
// A program with slashes is followed twice, with the switch off and on, until both ways
// stand alike. A block that would have to be mirrored differently is refused.
//
// # Subprograms
//
// From the first M98 on the program is held and followed in the order in which it runs.
// A block that runs more than once must mirror alike each time; one that never runs is
// refused, since it can't be proved.
package mirror
