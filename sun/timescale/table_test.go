package timescale

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../../testdata/references/" + name)
	require.NoError(t, err)
	defer f.Close()
	return records(t, csv.NewReader(f))
}

func records(t *testing.T, r *csv.Reader) []map[string]string {
	t.Helper()
	all, err := r.ReadAll()
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

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err, s)
	return v
}
