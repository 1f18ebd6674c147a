package house_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// An engine for clusters brings some hundred modules with it. They are wanted in
// examples/cluster, a module of its own, and by no one who imports the library.
const (
	engine = "github.com/apache/beam"
	nested = "examples/cluster"
)

func TestEngineStaysOutside(t *testing.T) {
	mod, err := os.ReadFile(filepath.Join(nested, "go.mod"))
	require.NoError(t, err)
	if !strings.Contains(string(mod), engine) {
		t.Errorf("%s/go.mod does not name %s: is this test of use?", nested, engine)
	}
	_, err = os.ReadFile("go.mod") // shows it to the cache of test results
	require.NoError(t, err)
	c := exec.Command("go", "list", "-m", "all")
	c.Env = append(os.Environ(), "GOWORK=off")
	out, err := c.Output()
	require.NoError(t, err)
	require.Contains(t, string(out), module)
	for _, line := range strings.Split(string(out), "\n") {
		if strings.HasPrefix(line, engine) || strings.HasPrefix(line, module+"/") {
			t.Errorf("go list -m all has %s", line)
		}
	}
}
