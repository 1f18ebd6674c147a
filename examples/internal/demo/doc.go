// Package demo is the station on which the examples run when they are given no
// files: a logger in a school yard near the Strait of Gibraltar, one of a network
// of schools, on the morning of the total eclipse of 2 August 2027.
//
// All of it is invented, the school, the logger and every number, and both files
// say so. Package eclipse/rehearsal wrote the log; nothing was measured.
//
//	folder := demo.Station()                           // an fs.FS
//	text, err := fs.ReadFile(folder, demo.StationFile) // where, which eclipse, which sensor, which logs
//	truth, err := demo.Truth()                         // what a reduction should find
//
// What befell the logger is what befalls loggers. Its battery clock is some tens
// of seconds off and gains. Thin high cloud drifts over the yard all morning. The
// power failed once, so that a minute is missing and the header comes again, and
// one line is torn. Its cells are what their catalogue says within its tolerances,
// no better.
//
// The files are made by the program in internal/gendemo, which writes the same
// bytes every time:
//
//	go generate ./examples/internal/demo
package demo
