package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"

	"example.org/noonfall/eclipse/station"
)

// A shelf keeps summaries between runs. Without a folder it keeps none.
type shelf struct{ folder string }

func (s shelf) path(mark string) string { return filepath.Join(s.folder, "summaries", mark+".json") }

// find is the summary of a former run; nil where there is none, or none that is whole.
func (s shelf) find(mark string) *station.Summary {
	if s.folder == "" {
		return nil
	}
	text, err := os.ReadFile(s.path(mark))
	if err != nil {
		return nil
	}
	summary, err := station.ParseSummary(text)
	if err != nil {
		return nil // a run was cut off while writing, or an older version wrote it: it is made again
	}
	return summary
}

// put writes a summary under another name first, so that a run that is cut off leaves no half of one.
func (s shelf) put(mark string, summary *station.Summary) error {
	if s.folder == "" {
		return nil
	}
	text, err := json.MarshalIndent(summary, "", " ")
	if err != nil {
		return fmt.Errorf("%s: %w", summary.Code, err)
	}
	if err := os.MkdirAll(filepath.Dir(s.path(mark)), 0o777); err != nil {
		return err
	}
	part := s.path(mark) + ".part"
	if err := os.WriteFile(part, append(text, '\n'), 0o666); err != nil {
		return err
	}
	return os.Rename(part, s.path(mark))
}
