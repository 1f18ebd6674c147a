// Package house has no code, only tests: of the arrows between rooms, of the silence
// of the library, of a comment for every name that it exports, and of what README.md
// and DEVELOPERS.md tell a reader to type. They run with the module's root as their
// working folder.
package house
