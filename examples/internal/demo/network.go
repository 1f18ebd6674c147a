package demo

import (
	"embed"
	"encoding/json"
	"fmt"
	"io/fs"

	"example.org/noonfall/eclipse/rehearsal"
)

//go:embed data/network data/network-truth.json
var network embed.FS

// Network returns the folders of a dozen stations of the school network, each of the name of
// its code, with [StationFile] and the compressed log that it names. It is read-only and
// safe for concurrent use.
func Network() fs.FS {
	folder, err := fs.Sub(network, "data/network")
	if err != nil { // a malformed path alone can cause it, and that one is fixed
		return network
	}
	return folder
}

// A SchoolTruth is what the log of one of them hides, and in words what befell it.
type SchoolTruth struct {
	Code  string          `json:"code"`
	What  string          `json:"what"`
	Truth rehearsal.Truth `json:"truth"`
}

// NetworkTruth returns what the network's logs hide, in the order of the codes. The error
// means that the embedded file was damaged before the program was built.
func NetworkTruth() ([]SchoolTruth, error) {
	text, err := network.ReadFile("data/network-truth.json")
	if err != nil {
		return nil, fmt.Errorf("demo: %w", err)
	}
	var out []SchoolTruth
	if err := json.Unmarshal(text, &out); err != nil {
		return nil, fmt.Errorf("demo: data/network-truth.json: %w", err)
	}
	return out, nil
}
