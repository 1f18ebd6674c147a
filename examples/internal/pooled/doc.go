// Package pooled is what the programs that put many stations together have in common:
// how a description is told from a summary, which eclipse is meant, and the answer in JSON,
// so that however the stations were reduced, the bytes are the same.
package pooled
