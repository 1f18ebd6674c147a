package house_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// rootHolds is all that lies at the root, beside files whose names begin with a dot. A program
// that was built there and committed by an oversight is ten megabytes for ever.
var rootHolds = []string{"DEVELOPERS.md", "LICENSE", "README.md", "doc.go", "eclipse", "examples", "go.mod", "go.sum", "logfile", "sensor", "sun", "testdata"}

func TestRootHoldsNothingElse(t *testing.T) {
	entries, err := os.ReadDir(".") // main_test.go has gone there
	require.NoError(t, err)
	var found []string
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") {
			found = append(found, e.Name())
		}
	}
	slices.Sort(found)
	if !slices.Equal(found, rootHolds) {
		t.Errorf("the root holds %v, want %v", found, rootHolds)
	}
}
