package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"

	"github.com/apache/beam/sdks/v2/go/pkg/beam/io/filesystem"

	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/demo"
)

// demoScheme is the file system of the invented school network, which every worker has with it.
const demoScheme = "demo"

func init() {
	filesystem.Register(demoScheme, func(context.Context) filesystem.Interface { return demoFiles{demo.Network()} })
}

// demoFiles are read-only.
type demoFiles struct{ fs.FS }

func inDemo(name string) string { return strings.TrimPrefix(name, demoScheme+"://") }

func (demoFiles) Close() error { return nil }

func (d demoFiles) List(_ context.Context, glob string) ([]string, error) {
	names, err := fs.Glob(d.FS, inDemo(glob))
	for i := range names {
		names[i] = demoScheme + "://" + names[i]
	}
	return names, err
}

func (d demoFiles) OpenRead(_ context.Context, name string) (io.ReadCloser, error) {
	return d.Open(inDemo(name))
}

func (d demoFiles) OpenWrite(_ context.Context, name string) (io.WriteCloser, error) {
	return nil, &fs.PathError{Op: "write", Path: name, Err: fs.ErrPermission}
}

func (d demoFiles) Size(_ context.Context, name string) (int64, error) {
	info, err := fs.Stat(d.FS, inDemo(name))
	if err != nil {
		return 0, err
	}
	return info.Size(), nil
}

// A folder is where a description lies, in any of the engine's file systems.
type folder struct {
	files filesystem.Interface
	path  string // with its last slash
}

// folderOf splits a name. A scheme's slashes stay as they are, so that it is no work for package path.
func folderOf(files filesystem.Interface, name string) (folder, string) {
	cut := strings.LastIndex(name, "/") + 1
	return folder{files, name[:cut]}, name[cut:]
}

// open opens a file beside or below the description, and no other. Errors name it as the
// description does.
func (f folder) open(ctx context.Context, name string) (io.ReadCloser, error) {
	if !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrInvalid}
	}
	r, err := f.files.OpenRead(ctx, f.path+path.Clean(name))
	if at := (*fs.PathError)(nil); errors.As(err, &at) {
		return nil, &fs.PathError{Op: at.Op, Path: name, Err: at.Err}
	}
	if err != nil {
		return nil, fmt.Errorf("open %s: %w", name, err)
	}
	return r, nil
}

// read reads all of a file.
func (f folder) read(ctx context.Context, name string) (text []byte, err error) {
	r, err := f.open(ctx, name)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, r.Close()) }()
	return io.ReadAll(r)
}

// logs are the files that a description names.
func (f folder) logs(ctx context.Context, names []string) []station.File {
	out := make([]station.File, len(names))
	for i, name := range names {
		out[i] = station.File{Name: name, Open: func() (io.ReadCloser, error) { return f.open(ctx, name) }}
	}
	return out
}
