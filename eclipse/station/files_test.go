package station

import (
	"bytes"
	"compress/gzip"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// A day file that was being compressed when the power went, or that lost a byte, is read
// as far as it goes.
func TestDamagedGzip(t *testing.T) {
	text := lines(time.RFC3339, time.Date(2027, 9, 20, 6, 0, 0, 0, time.UTC), 3000)
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	_, err := w.Write([]byte(text))
	require.NoError(t, err)
	require.NoError(t, w.Close())
	whole := b.Bytes()
	sum := bytes.Clone(whole)
	sum[len(sum)-7] ^= 1 // of the check sum
	for _, tt := range []struct {
		name        string
		data        []byte
		least, most int // records
		warning     bool
	}{
		{"whole", whole, 3000, 3000, false},
		{"half", whole[:len(whole)/2], 500, 2500, true},
		{"another sum", sum, 2999, 3000, true},
		{"hardly begun", whole[:12], 0, 0, true},
	} {
		rep := reduceFiles(t, Station{}, [2]string{"20270920.csv.gz", string(tt.data)})
		if n := len(rep.Samples); !(n >= tt.least && n <= tt.most) {
			t.Errorf("%s: %d records, want %d to %d", tt.name, n, tt.least, tt.most)
		}
		if all := strings.Join(rep.Warnings, "\n"); strings.Contains(all, "is damaged") != tt.warning {
			t.Errorf("%s: warnings %q", tt.name, all)
		}
	}
}
