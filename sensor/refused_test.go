package sensor

import (
	"errors"
	"testing"
)

// wantRefused asks for an error that is the given one; or, where that is nil, for one of a
// part, and of that field of it where one is named.
func wantRefused(t *testing.T, name string, err, is error, field string) {
	t.Helper()
	var part *PartError
	switch {
	case is != nil:
		if !errors.Is(err, is) {
			t.Errorf("%s: %v, want %v", name, err, is)
		}
	case !errors.As(err, &part):
		t.Errorf("%s: %v, want one of a part %s", name, err, field)
	case field != "" && part.Field != field:
		t.Errorf("%s: %v, want one of %s", name, err, field)
	}
}
