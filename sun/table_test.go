package sun

import (
	"compress/gzip"
	"encoding/csv"
	"io"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

func table(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(name)
	require.NoError(t, err)
	defer f.Close()
	var in io.Reader = f
	if name[len(name)-3:] == ".gz" {
		in, err = gzip.NewReader(f)
		require.NoError(t, err)
	}
	all, err := csv.NewReader(in).ReadAll()
	require.NoError(t, err)
	var out []map[string]string
	for _, row := range all[1:] {
		m := map[string]string{}
		for i, h := range all[0] {
			m[h] = row[i]
		}
		out = append(out, m)
	}
	require.NotEmpty(t, out)
	return out
}

func number(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err, s)
	return v
}
