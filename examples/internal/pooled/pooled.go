package pooled

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/campaign"
	"example.org/noonfall/eclipse/canon"
)

// A Pooling is all that answers are written from.
type Pooling struct {
	*campaign.Result
	Elements *eclipse.Elements
	Failed   []Failure // by name
}

// A Failure is a station that gave no summary.
type Failure struct {
	Name   string `json:"name"`
	Reason string `json:"reason"`
}

// Pool puts the stations of one eclipse together: that of the day, or where the day is zero the
// one that most stations recorded. The error says why there is nothing to pool.
func Pool(c *campaign.Campaign, failed []Failure, day time.Time, opt eclipse.Options) (*Pooling, error) {
	slices.SortFunc(failed, func(a, b Failure) int { return strings.Compare(a.Name, b.Name) })
	if c.Len() == 0 {
		if len(failed) == 0 {
			return nil, errors.New("there are no stations")
		}
		return nil, fmt.Errorf("%s (of %d stations none gave a summary; this is the first)", failed[0].Reason, len(failed))
	}
	e, err := elements(c, day)
	if err != nil {
		return nil, err
	}
	r, err := c.Pool(e, opt)
	if errors.Is(err, campaign.ErrNoStations) {
		return nil, fmt.Errorf("%w; there are %v: choose one with -date", err, c.Days())
	}
	if err != nil {
		return nil, err
	}
	return &Pooling{Result: r, Elements: e, Failed: failed}, nil
}

// elements are those of the day, or else of the eclipse that most stations recorded.
func elements(c *campaign.Campaign, day time.Time) (*eclipse.Elements, error) {
	catalogue, err := canon.Load()
	if err != nil {
		return nil, err
	}
	if day.IsZero() {
		name, most := "", 0
		for d, n := range c.Days() {
			if n > most || n == most && d < name {
				name, most = d, n
			}
		}
		if day, err = time.Parse(time.DateOnly, name); err != nil {
			return nil, err
		}
	}
	return catalogue.On(day)
}
