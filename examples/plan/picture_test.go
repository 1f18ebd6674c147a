package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A site without second and third contact has the limb alone, one without an eclipse
// no picture.
func TestPictureWithoutContacts(t *testing.T) {
	for site, touches := range map[string]int{"51.5,-0.1": 0, "36,-5.6": 2, "36.77,-5.6": 2} {
		folder := t.TempDir()
		answerOf(t, "-site", site, "-out", folder)
		svg, err := os.ReadFile(filepath.Join(folder, "limb.svg"))
		require.NoError(t, err)
		if n := strings.Count(string(svg), "touches at"); n != touches || strings.Contains(string(svg), "NaN") {
			t.Errorf("%s: %d contacts, want %d, and no NaN", site, n, touches)
		}
	}
	folder := t.TempDir()
	answerOf(t, "-site", "-70,100", "-out", folder)
	if _, err := os.Stat(filepath.Join(folder, "limb.svg")); err == nil {
		t.Error("a picture without an eclipse")
	}
}
