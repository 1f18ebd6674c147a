package station

import (
	"context"
	"io"
)

// A cancellable source ends with the context's error, so that a file of a gigabyte in
// which no line is a record stops as soon as any other.
type cancellable struct {
	ctx context.Context
	io.Reader
}

// Read is that of the source, until the context ends.
func (c cancellable) Read(p []byte) (int, error) {
	if err := c.ctx.Err(); err != nil {
		return 0, err
	}
	return c.Reader.Read(p)
}
