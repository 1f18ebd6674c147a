package station

import (
	"bufio"
	"bytes"
	"compress/flate"
	"compress/gzip"
	"errors"
	"io"
	"io/fs"
)

// A File is a log that can be opened: on disk, in an archive, embedded.
type File struct {
	Name string                        // in problems and warnings; a date in it dates times of day
	Open func() (io.ReadCloser, error) // called once; gzip is unpacked
	// Found says that nobody named the file: it lay in a folder. If it is no log, it is
	// passed over with a warning.
	Found bool
}

// FilesIn are files of a file system, by name.
func FilesIn(fsys fs.FS, names ...string) []File {
	out := make([]File, len(names))
	for i, name := range names {
		out[i] = File{Name: name, Open: func() (io.ReadCloser, error) { return fsys.Open(name) }}
	}
	return out
}

// unpack reads through gzip where the first bytes are gzip's (RFC 1952).
func unpack(r io.Reader) (io.Reader, error) {
	b := bufio.NewReader(r)
	if head, _ := b.Peek(2); bytes.Equal(head, []byte{0x1f, 0x8b}) {
		return gzip.NewReader(b)
	}
	return b, nil
}

// damaged says that a compressed file ends early or does not match its own sums; what
// came out of it before is still good.
func damaged(err error) bool {
	corrupt := flate.CorruptInputError(0)
	return errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, gzip.ErrChecksum) || errors.Is(err, gzip.ErrHeader) || errors.As(err, &corrupt)
}
