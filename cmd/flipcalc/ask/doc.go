// Package ask reads what is asked of flipcalc: one table of questions, from which come
// the flags of every verb, the keys of job and machine file, help, completion and manual
// pages. A value knows where it was given, by flag or as file:line:col, and every one
// that can't be read is told at once. No other room knows how a flag is spelt.
package ask
