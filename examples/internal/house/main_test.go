package house_test

import (
	"fmt"
	"os"
	"testing"
)

// TestMain goes to the module's root, which the tests and the pages speak of.
func TestMain(m *testing.M) {
	if err := os.Chdir("../../.."); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(m.Run())
}
