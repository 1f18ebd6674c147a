package campaign_test

import (
	"bytes"
	"context"
	"fmt"
	"log"
	"slices"
	"testing/fstest"
	"time"

	"example.org/noonfall/eclipse/campaign"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/sun"
)

// Two schools at once, and a third whose file is missing: it fails alone. Outcomes come in no
// particular order; a campaign does not mind. (Invented logs.)
func ExampleReduce() {
	catalogue, err := canon.Load()
	if err != nil {
		log.Fatal(err)
	}
	elements, err := catalogue.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	if err != nil {
		log.Fatal(err)
	}
	folder := fstest.MapFS{}
	var jobs []campaign.Job
	for i, code := range []string{"SHORE", "HILL", "LOST"} {
		site := station.Site{Lat: 36, Lon: -5.6 - 0.3*float64(i)}
		if code != "LOST" {
			made, err := rehearsal.Make(context.Background(), rehearsal.Plan{
				Elements: elements, Site: sun.Site{Lat: site.Lat, Lon: site.Lon}, Cadence: 30 * time.Second, Offset: 5, Seed: uint64(i),
			})
			if err != nil {
				log.Fatal(err)
			}
			var text bytes.Buffer
			if _, err := made.WriteTo(&text); err != nil {
				log.Fatal(err)
			}
			folder[code+".csv"] = &fstest.MapFile{Data: text.Bytes()}
		}
		jobs = append(jobs, campaign.Job{
			Name:    code,
			Station: &station.Station{Version: station.Version, Code: code, Site: site, Eclipse: "2027-08-02"},
			Files:   station.FilesIn(folder, code+".csv"),
		})
	}
	var c campaign.Campaign
	for out := range campaign.Reduce(context.Background(), slices.Values(jobs), campaign.ReduceOptions{}) {
		if out.Err != nil {
			fmt.Println(out.Name, "failed")
			continue
		}
		if err := c.Add(out.Summary); err != nil {
			log.Fatal(err)
		}
	}
	for _, s := range c.All() {
		fmt.Println(s.Code, s.Clock.CI95[0] < 5 && 5 < s.Clock.CI95[1])
	}
	// Output:
	// LOST failed
	// HILL true
	// SHORE true
}
