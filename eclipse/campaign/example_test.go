package campaign_test

import (
	"fmt"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/campaign"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/station"
)

// Five made-up stations along the path of 2 August 2027, their clocks set by a network, all of
// them 20 s slow: a habit of the device, and no one's own.
func ExampleCampaign_Pool() {
	var c campaign.Campaign
	for i, at := range []station.Site{{Lat: 35.3, Lon: -6.5}, {Lat: 36.2, Lon: -6}, {Lat: 36.5, Lon: -4.5}, {Lat: 35.2, Lon: -4}, {Lat: 36.7, Lon: -3}} {
		offset := -20 + 0.5*float64(i-2)
		s := &station.Summary{
			Version: station.SummaryVersion, Code: fmt.Sprintf("SCHOOL-%d", i+1), Eclipse: "2027-08-02", Site: at, ClockSet: station.SetByNetwork,
			Clock: &station.ClockSummary{OffsetS: offset, OffsetU: 1, CI95: [2]float64{offset - 2, offset + 2}},
		}
		if err := c.Add(s); err != nil {
			fmt.Println(err)
			return
		}
	}
	catalogue, err := canon.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := catalogue.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := c.Pool(e, eclipse.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("all are off by %.1f s, give or take %.1f (%d stations)\n", r.Shared.Value, r.Shared.U, r.Shared.N)
	fmt.Printf("the shadow: %.2f km/s, give or take %.2f, to %.0f degrees; the elements have %.2f\n", r.Sweep.Speed.Value, r.Sweep.Speed.U, r.Sweep.Heading.Value, r.Sweep.Predicted.Speed)
	// Output:
	// all are off by -20.0 s, give or take 0.4 (5 stations)
	// the shadow: 1.24 km/s, give or take 0.01, to 89 degrees; the elements have 1.25
}
