package demo

import (
	"embed"
	"encoding/json"
	"fmt"
	"io/fs"

	"example.org/noonfall/eclipse/rehearsal"
)

//go:generate go run ./internal/gendemo -out data

//go:embed data/station data/truth.json
var files embed.FS

// The names of the files in the station's folder.
const (
	StationFile = "station.json" // describes the station and names its logs
	LogFile     = "20270802.csv" // the log of the eclipse's UTC day
)

// Station returns the station's folder: [StationFile] and the logs that it names,
// as a user would have them on disk. It is read-only and safe for concurrent use.
func Station() fs.FS {
	folder, err := fs.Sub(files, "data/station")
	if err != nil { // a malformed path alone can cause it, and that one is fixed
		return files
	}
	return folder
}

// Truth returns what the log hides, for tests: whoever reduces the log is not to
// look. The error means that the embedded file was damaged before the program was
// built.
func Truth() (rehearsal.Truth, error) {
	var t rehearsal.Truth
	text, err := files.ReadFile("data/truth.json")
	if err != nil {
		return t, fmt.Errorf("demo: %w", err)
	}
	if err := json.Unmarshal(text, &t); err != nil {
		return t, fmt.Errorf("demo: data/truth.json: %w", err)
	}
	return t, nil
}
