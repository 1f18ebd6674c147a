// Package course has no code, only tests: that every program in examples is a chapter
// with all its parts, that what a chapter says its run prints is what it prints, that
// examples/ANSWERS.md does what it says, and that examples/README.md leads through them
// all. What a page tells a reader to type runs in a temporary folder with a copy of
// examples in it.
package course
