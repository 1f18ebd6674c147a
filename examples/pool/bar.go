package main

import (
	"os"
	"time"

	"github.com/mattn/go-isatty"
	"github.com/schollz/progressbar/v3"
)

// A bar shows how far the work is, on standard error and only where a terminal looks on.
type bar struct{ shown *progressbar.ProgressBar }

// longWork is how many stations are worth a bar: a second or so.
const longWork = 20

func newBar(stations int) *bar {
	if stations < longWork || !isatty.IsTerminal(os.Stderr.Fd()) {
		return &bar{}
	}
	return &bar{progressbar.NewOptions(stations, progressbar.OptionSetWriter(os.Stderr), progressbar.OptionSetDescription("stations"),
		progressbar.OptionShowCount(), progressbar.OptionThrottle(100*time.Millisecond), progressbar.OptionClearOnFinish())}
}

// step is one station more. A bar that cannot be drawn must not stop the work.
func (b *bar) step() {
	if b.shown != nil {
		_ = b.shown.Add(1)
	}
}

func (b *bar) end() {
	if b.shown != nil {
		_ = b.shown.Finish()
	}
}
