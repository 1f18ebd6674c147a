package campaign_test

import (
	"bytes"
	"fmt"

	"example.org/noonfall/eclipse/campaign"
	"example.org/noonfall/eclipse/station"
)

// Three made-up schools in two halves, one of them in both: whichever half is merged into
// which, the campaign is the same, byte for byte.
func ExampleCampaign_Merge() {
	half := func(codes ...string) *campaign.Campaign {
		var c campaign.Campaign
		for _, code := range codes {
			s := &station.Summary{
				Version: station.SummaryVersion, Code: code, Eclipse: "2027-08-02", Site: station.Site{Lat: 36, Lon: -5.6},
				Refusal: &station.Refusal{Reason: "indoor lamp", Detail: "the light never moved"},
			}
			if err := c.Add(s); err != nil {
				fmt.Println(err)
			}
		}
		return &c
	}
	one, other := half("NORTH", "SHORE"), half("SHORE", "EAST")
	one.Merge(half("SHORE", "EAST"))
	other.Merge(half("NORTH", "SHORE"))
	a, err := one.MarshalJSON()
	if err != nil {
		fmt.Println(err)
		return
	}
	b, err := other.MarshalJSON()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(one.Len(), "stations, the same bytes:", bytes.Equal(a, b))
	for _, s := range one.All() {
		fmt.Println(s.Eclipse, s.Code)
	}
	// Output:
	// 3 stations, the same bytes: true
	// 2027-08-02 EAST
	// 2027-08-02 NORTH
	// 2027-08-02 SHORE
}
