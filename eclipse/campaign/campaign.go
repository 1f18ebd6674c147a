package campaign

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"iter"
	"maps"
	"slices"

	"example.org/noonfall/eclipse/station"
)

// Version is the version of a campaign's JSON that this package writes and reads.
const Version = 1

// A Campaign is a set of summaries. The zero value is empty and ready. A summary that is
// added twice is there once; merging is the union of sets, so that neither order nor
// grouping can matter. It is not safe for concurrent use while it is being added to.
type Campaign struct {
	summaries map[Key]*station.Summary
}

// A Key names one summary: two stations of one name have two keys, one summary that comes
// by two ways has one. Keys are ordered as they are printed.
type Key string

// keyOf is made of the eclipse, the code and the summary's own bytes. A null byte cannot be
// in the first and ends the second, so that the order is that of day, then code.
func keyOf(s *station.Summary) (Key, error) {
	text, err := json.Marshal(s)
	if err != nil {
		return "", fmt.Errorf("campaign: station %q: %w", s.Code, err)
	}
	sum := sha256.Sum256(text)
	return Key(s.Eclipse + "\x00" + s.Code + "\x00" + hex.EncodeToString(sum[:8])), nil
}

// Add puts in a summary, which is not copied: leave it alone afterwards. The error says
// what no station can have given.
func (c *Campaign) Add(s *station.Summary) error {
	if err := s.Validate(); err != nil {
		return fmt.Errorf("campaign: %w", err)
	}
	k, err := keyOf(s)
	if err != nil {
		return err
	}
	if c.summaries == nil {
		c.summaries = map[Key]*station.Summary{}
	}
	c.summaries[k] = s
	return nil
}

// Merge adds all that another campaign has.
func (c *Campaign) Merge(other *Campaign) {
	if c.summaries == nil {
		c.summaries = make(map[Key]*station.Summary, len(other.summaries))
	}
	maps.Copy(c.summaries, other.summaries)
}

// Len is the number of summaries.
func (c *Campaign) Len() int { return len(c.summaries) }

// All walks the summaries by day, then code. The iterator can be used again.
func (c *Campaign) All() iter.Seq2[Key, *station.Summary] {
	return func(yield func(Key, *station.Summary) bool) {
		for _, k := range slices.Sorted(maps.Keys(c.summaries)) {
			if !yield(k, c.summaries[k]) {
				return
			}
		}
	}
}

// Days counts the summaries of each eclipse.
func (c *Campaign) Days() map[string]int {
	out := map[string]int{}
	for _, s := range c.summaries {
		out[s.Eclipse]++
	}
	return out
}

// MarshalJSON writes the campaign, a summary a line, in the order of All: the same set
// gives the same bytes. The error names the station that cannot be written.
func (c *Campaign) MarshalJSON() ([]byte, error) {
	out := fmt.Appendf(nil, "{\"version\":%d,\"summaries\":[", Version)
	between := "\n"
	for _, s := range c.All() {
		text, err := json.Marshal(s)
		if err != nil {
			return nil, fmt.Errorf("campaign: station %q: %w", s.Code, err)
		}
		out = append(append(out, between...), text...)
		between = ",\n"
	}
	return append(out, "\n]}\n"...), nil
}

// UnmarshalJSON reads what MarshalJSON wrote and puts it in. A summary that cannot be used is
// an error that names it.
func (c *Campaign) UnmarshalJSON(data []byte) error {
	var in struct {
		Version   int               `json:"version"`
		Summaries []json.RawMessage `json:"summaries"`
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&in); err != nil {
		return fmt.Errorf("campaign: %w", err)
	}
	if in.Version != Version {
		return fmt.Errorf("campaign: version is %d, this library reads %d", in.Version, Version)
	}
	for i, raw := range in.Summaries {
		s, err := station.ParseSummary(raw)
		if err != nil {
			return fmt.Errorf("campaign: summaries[%d]: %w", i, err)
		}
		if err := c.Add(s); err != nil {
			return err
		}
	}
	return nil
}
