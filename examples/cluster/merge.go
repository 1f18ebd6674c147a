package main

import (
	"context"
	"errors"
	"fmt"
	"io"

	"github.com/apache/beam/sdks/v2/go/pkg/beam/io/filesystem"
)

// merge reads the parts that the pipeline wrote and makes one of them, here: a set union has
// no use for a hundred machines.
func merge(ctx context.Context, from string) (Part, error) {
	names, err := list(ctx, from+"/*.json")
	if err != nil {
		return Part{}, err
	}
	files, err := filesystem.New(ctx, from)
	if err != nil {
		return Part{}, err
	}
	defer files.Close()
	all := newPart()
	for _, name := range names {
		if err := ctx.Err(); err != nil {
			return Part{}, err
		}
		text, err := filesystem.Read(ctx, files, name)
		if err != nil {
			return Part{}, err
		}
		p, err := decodePart(text)
		if err != nil {
			return Part{}, fmt.Errorf("%s: %w; empty the folder and run again", name, err)
		}
		all.join(p)
	}
	return all, nil
}

// list is what a pattern stands for.
func list(ctx context.Context, pattern string) ([]string, error) {
	files, err := filesystem.New(ctx, pattern)
	if err != nil {
		return nil, err
	}
	defer files.Close()
	return files.List(ctx, pattern)
}

// writeFile writes a file into any of the engine's file systems.
func writeFile(ctx context.Context, name string, write func(io.Writer) error) (err error) {
	files, err := filesystem.New(ctx, name)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, files.Close()) }()
	w, err := files.OpenWrite(ctx, name)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, w.Close()) }()
	return write(w)
}
