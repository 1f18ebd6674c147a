package campaign_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/campaign"
	"example.org/noonfall/eclipse/station"
)

// Whatever claims to be a campaign is refused with a word or pooled, never a panic, and what was taken
// is written and read again as it was.
func FuzzCampaign(f *testing.F) {
	e := elements(f, 2027, 8, 2)
	var c campaign.Campaign
	for i, s := range some() {
		one := new(campaign.Campaign)
		require.NoError(f, one.Add(s))
		text, err := json.Marshal(one)
		require.NoError(f, err)
		if i < 6 {
			f.Add(text)
		}
		require.NoError(f, c.Add(s))
	}
	text, err := json.Marshal(&c)
	require.NoError(f, err)
	f.Add(text)
	f.Add([]byte(`{"version":1,"summaries":[]}`))
	f.Add([]byte(`{"version":1,"summaries":[null]}`))
	f.Fuzz(func(t *testing.T, in []byte) {
		var c, back campaign.Campaign
		if err := json.Unmarshal(in, &c); err != nil {
			return
		}
		text, err := json.Marshal(&c)
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(text, &back))
		again, err := json.Marshal(&back)
		require.NoError(t, err)
		if !bytes.Equal(text, again) {
			t.Fatalf("%s\nread again %s", text, again)
		}
		if _, err := c.Pool(e, eclipse.Options{}); err != nil && !errors.Is(err, campaign.ErrNoStations) {
			t.Fatal(err)
		}
	})
}

func TestSummaryNull(t *testing.T) {
	if _, err := station.ParseSummary([]byte("null")); err == nil {
		t.Error("nothing was taken for a summary")
	}
}
