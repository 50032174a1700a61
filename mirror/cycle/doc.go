// Package cycle writes the programs of our own: the first, the steady and the last of a
// batch on pairs of stations, the one that drills for the dowels and the one that stores
// work offsets; and it plans the batch: its cycles, their times, the tool's travel between
// stations.
//
// A steady cycle cuts a face and a back at each pair of stations, with as few tool changes
// as each side's own order allows. Each side's program is cut into pieces at its tool
// changes. A piece is written with its blocks as they were, less the words that belong to a
// whole program (N, T, M6, work offsets, M2, M30), and opens with everything that it relied
// on where it stood: it goes up to the clear height, selects its station's offset, moves in
// X and Y alone, then down. What is written is interpreted again and must make, at each
// station, exactly the motions of that station's program.
package cycle
