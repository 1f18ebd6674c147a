package cli

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
)

// A UsageError is a mistake in the flags or arguments, rather than in what they
// name. It ends a program with status 2.
type UsageError struct{ Err error }

func (e *UsageError) Error() string { return e.Err.Error() }

// Unwrap returns the cause.
func (e *UsageError) Unwrap() error { return e.Err }

// Usagef makes a *UsageError as fmt.Errorf makes an error.
func Usagef(format string, args ...any) error { return &UsageError{fmt.Errorf(format, args...)} }

// Status returns the exit status that an error stands for: 0 for none and for
// a request for help, 2 for a [*UsageError], 1 for everything else.
func Status(err error) int {
	var usage *UsageError
	switch {
	case err == nil, errors.Is(err, flag.ErrHelp):
		return 0
	case errors.As(err, &usage):
		return 2
	}
	return 1
}

// A Run is a program: it answers on out and returns what went wrong.
type Run func(ctx context.Context, out io.Writer, args []string) error

// Main runs a program with the process's arguments and standard output and ends
// the process. An interrupt cancels the context.
func Main(name string, run Run) {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	err := run(ctx, os.Stdout, os.Args[1:])
	stop()
	os.Exit(report(os.Stderr, name, err))
}

// report writes an error as one line and returns the exit status.
func report(w io.Writer, name string, err error) int {
	status := Status(err)
	if status != 0 {
		fmt.Fprintf(w, "%s: %s\n", name, strings.ReplaceAll(err.Error(), "\n", "; "))
	}
	return status
}
