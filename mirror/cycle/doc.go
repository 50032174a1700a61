// Package cycle writes the programs of our own, and says how long they take: the first,
// the steady and the last program of a batch, the program that drills for the dowels, and
// the one that stores work offsets.
//
// A steady cycle cuts a face and a back at each pair of stations, with as few tool changes
// as each side's own order allows. Each side's program is cut into pieces at its tool
// changes. A piece is written with its blocks as they were, less the words that belong to a
// whole program (N, T, M6, work offsets, M2, M30), and opens with everything that it relied
// on where it stood: it goes up to the clear height, selects its station's offset, moves in
// X and Y alone, then down. What is written is interpreted again and must make, at each
// station, exactly the motions of that station's program.
package cycle
