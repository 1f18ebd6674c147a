package station

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"io"
	"io/fs"

	"example.org/noonfall/logfile"
)

// A File is a log that can be opened: on disk, in an archive, embedded.
type File struct {
	Name string
	Open func() (io.ReadCloser, error)
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

// readerOptions are the station's settings in the reader's terms.
func (s *Station) readerOptions() (logfile.Options, error) {
	opt := logfile.Options{Light: s.Layout.Light}
	var err error
	if opt.Zone, err = ParseZone(s.Zone); err != nil {
		return opt, err
	}
	if opt.Order, err = logfile.ParseOrder(s.Layout.Order); err != nil {
		return opt, err
	}
	for _, name := range s.Layout.Columns {
		role, err := logfile.ParseRole(name)
		if err != nil {
			return opt, err
		}
		opt.Columns = append(opt.Columns, role)
	}
	return opt, nil
}
