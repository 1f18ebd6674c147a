// Package bracket finds zeros between two points at which a function has opposite
// signs, for contacts and for the shadow's edges.
package bracket
