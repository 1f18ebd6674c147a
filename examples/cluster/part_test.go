package main

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/campaign"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/demo"
)

// full are a summary's bytes with all that one can have: the demo's first station's.
func full(t testing.TB) []byte {
	t.Helper()
	o := given(t, demoScheme+"://SCHOOL-01/"+demo.StationFile)
	o.answered(t)
	all, err := merge(context.Background(), o.parts())
	require.NoError(t, err)
	for _, s := range all.summaries.All() {
		text, err := encode(s)
		require.NoError(t, err)
		return text
	}
	t.Fatal("no summary")
	return nil
}

// varied is the same station at another place with another clock.
func varied(like []byte, i int) (*station.Summary, error) {
	s, err := station.ParseSummary(like)
	if err != nil {
		return nil, err
	}
	s.Code = fmt.Sprintf("MADE-UP-%06d", i)
	s.Site.Lat, s.Site.Lon = 35+float64(i%300)/100, -6+float64(i/300)/100
	s.Clock.OffsetS += float64(i%7) / 10
	return s, nil
}

// Groupings, orders and repetitions leave no trace in what is joined.
func TestPartsJoinToTheSameBytes(t *testing.T) {
	like := full(t)
	var single [][]byte
	for i := range 60 {
		o := campaign.Outcome{Name: fmt.Sprintf("n%02d", i), Err: errors.New("made up")}
		if i%4 != 0 {
			s, err := varied(like, i)
			require.NoError(t, err)
			o = campaign.Outcome{Name: s.Code, Summary: s}
		}
		_, p := partOf(o)
		text, err := encodePart(p)
		require.NoError(t, err)
		single = append(single, text)
	}
	var want []byte
	for seed := range uint64(20) {
		r := rand.New(rand.NewPCG(seed, 3))
		all := slices.Concat(single, single[:r.IntN(len(single))])
		r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
		var m mergeFn
		total := m.CreateAccumulator()
		for some := range slices.Chunk(all, 1+r.IntN(9)) {
			acc := m.CreateAccumulator()
			for _, text := range some {
				p, err := decodePart(text)
				require.NoError(t, err)
				acc = m.AddInput(acc, p)
			}
			total = m.MergeAccumulators(total, acc)
		}
		got, err := encodePart(total)
		require.NoError(t, err)
		if want == nil {
			want = got
			require.Equal(t, 45, total.summaries.Len())
			require.Len(t, total.failed, 15)
		}
		if string(got) != string(want) {
			t.Errorf("seed %d: the bytes differ", seed)
		}
	}
}

func TestDecodePartRefuses(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{`{"version":2,"failed":[],"summaries":{"version":1,"summaries":[]}}`, "version is 2"},
		{`{"version":1,"failed":[],"summaries":null}`, "no summaries"},
		{`{"version":1,"failed":[],"summaries":{"version":1,"summaries":[{}]}}`, "summaries[0]"},
		{`{"version":1,"more":1}`, "more"},
		{`{"version":1`, "unexpected EOF"},
	} {
		if _, err := decodePart([]byte(tt.text)); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, want %q", tt.text, err, tt.want)
		}
	}
}
