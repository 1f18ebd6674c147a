package campaign_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"iter"
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/campaign"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/sun"
)

// rehearsed makes the log of one station of 2 August 2027, and the job that reduces it.
func rehearsed(t testing.TB, e *eclipse.Elements, i int, cadence, margin time.Duration) campaign.Job {
	t.Helper()
	site := sun.Site{Lat: 35.2 + 0.11*float64(i%16), Lon: -6.5 + 0.17*float64(i*5%13)}
	skies := []rehearsal.Weather{rehearsal.Clear, rehearsal.Haze, rehearsal.Cumulus, rehearsal.Shade}
	p := rehearsal.Plan{Elements: e, Site: site, Cadence: cadence, Offset: float64(i%7) - 3, Seed: uint64(i), Weather: skies[i%len(skies)], Margin: margin}
	l, err := rehearsal.Make(context.Background(), p)
	require.NoError(t, err)
	var text bytes.Buffer
	_, err = l.WriteTo(&text)
	require.NoError(t, err)
	s := &station.Station{Version: station.Version, Code: fmt.Sprintf("MADE-UP-%04d", i), Site: station.Site{Lat: site.Lat, Lon: site.Lon}, Eclipse: "2027-08-02", ClockSet: station.SetByNetwork}
	return campaign.Job{Name: s.Code + ".json", Station: s, Files: station.FilesIn(fstest.MapFS{"log.csv": {Data: text.Bytes()}}, "log.csv")}
}

// broken jobs fail alone, with their names.
func broken() []campaign.Job {
	s := func(code string) *station.Station {
		return &station.Station{Version: station.Version, Code: code, Site: station.Site{Lat: 36, Lon: -5.6}, Eclipse: "2027-08-02"}
	}
	return []campaign.Job{
		{Name: "no file", Station: s("GONE"), Files: station.FilesIn(fstest.MapFS{}, "gone.csv")},
		{Name: "a panic", Station: s("BOOM"), Files: []station.File{{Name: "boom.csv", Open: func() (io.ReadCloser, error) { panic("made up") }}}},
		{Name: "unread", Err: errors.New("no such key")},
		{Name: "no station"},
		{Name: "nowhere", Station: &station.Station{Version: 1, Site: station.Site{Lat: 300}, Eclipse: "2027-08-02"}},
	}
}

func TestReduceStationsInParallel(t *testing.T) {
	e := elements(t, 2027, 8, 2)
	var jobs []campaign.Job
	for i := range 6 {
		jobs = append(jobs, rehearsed(t, e, i, 30*time.Second, 0))
	}
	jobs = append(jobs, broken()...)
	var want []byte
	for _, workers := range []int{1, 2, 5} {
		var c campaign.Campaign
		failed := map[string]string{}
		for o := range campaign.Reduce(context.Background(), slices.Values(jobs), campaign.ReduceOptions{Workers: workers}) {
			if o.Err != nil {
				failed[o.Name] = o.Err.Error()
				continue
			}
			require.NoError(t, c.Add(o.Summary))
		}
		text, err := c.MarshalJSON()
		require.NoError(t, err)
		if want == nil {
			want = text
		}
		if !bytes.Equal(text, want) || c.Len() != 6 || len(failed) != 5 {
			t.Errorf("%d workers: %d summaries, %v", workers, c.Len(), failed)
		}
		for name, word := range map[string]string{"no file": "gone.csv", "a panic": "made up", "unread": "no such key", "nowhere": "Lat", "no station": "defect"} {
			if !strings.Contains(failed[name], word) {
				t.Errorf("%s: %q, want a word of %q", name, failed[name], word)
			}
		}
	}
}

// Whoever stops listening leaves no goroutine behind, and a context that ends does not either.
func TestReduceStops(t *testing.T) {
	e := elements(t, 2027, 8, 2)
	job := rehearsed(t, e, 1, 30*time.Second, 0)
	endless := func(yield func(campaign.Job) bool) {
		for yield(job) {
		}
	}
	before := runtime.NumGoroutine()
	n := 0
	for range campaign.Reduce(context.Background(), endless, campaign.ReduceOptions{Workers: 3}) {
		if n++; n == 4 {
			break
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	got := 0
	for o := range campaign.Reduce(ctx, iter.Seq[campaign.Job](endless), campaign.ReduceOptions{Workers: 2}) {
		if got++; got == 3 {
			cancel()
		}
		if got > 3 && o.Err != nil && !errors.Is(o.Err, context.Canceled) {
			t.Errorf("%v", o.Err)
		}
	}
	if got < 3 || got > 8 {
		t.Errorf("%d outcomes after the end", got)
	}
	// A goroutine that has said that it is done may take a moment more to be gone.
	var after int
	for range 200 {
		if after = runtime.NumGoroutine(); after <= before {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Errorf("%d goroutines before, %d two seconds after", before, after)
}

// The rehearsed stations' clocks, through files, fit, summary and pool: each one's truth in
// its interval, and the pooled light on the published curve's ratio of light to free disc.
func TestCampaignOfRehearsedStations(t *testing.T) {
	e := elements(t, 2027, 8, 2)
	var c campaign.Campaign
	const n = 12
	jobs := func(yield func(campaign.Job) bool) {
		for i := range n {
			if !yield(rehearsed(t, e, i, 10*time.Second, 0)) {
				return
			}
		}
	}
	for o := range campaign.Reduce(context.Background(), jobs, campaign.ReduceOptions{}) {
		require.NoError(t, o.Err)
		require.NoError(t, c.Add(o.Summary))
	}
	r, err := c.Pool(e, eclipse.Options{})
	require.NoError(t, err)
	held := 0
	for _, m := range r.Stations {
		var i int
		_, err := fmt.Sscanf(m.Summary.Code, "MADE-UP-%d", &i)
		require.NoError(t, err)
		if k := m.Summary.Clock; k != nil && k.CI95[0]-1 <= float64(i%7-3) && float64(i%7-3) <= k.CI95[1]+1 {
			held++
		}
	}
	if held < n-2 {
		t.Errorf("%d of %d intervals hold the truth", held, n)
	}
	if len(r.Curve) < 40 || r.Sweep == nil {
		t.Fatalf("%d points, %v", len(r.Curve), r.Untold)
	}
	// Three deviations, and the clocks' own differences are within what the stamps' scatter widens it to.
	if s := r.Sweep; !(math.Abs(s.Speed.Value-s.Predicted.Speed) <= 3*s.Speed.U && s.Speed.U < 0.2) {
		t.Errorf("%+v", s)
	}
}
