package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"

	"example.org/noonfall/eclipse/campaign"
	"example.org/noonfall/examples/internal/pooled"
)

// A Part is what some of the stations gave: a set of summaries, and a set of failures by name.
// It is all that the engine carries from worker to worker. Two parts are joined by the union of
// their sets, so that a station that was reduced twice, as engines do, is there once.
type Part struct {
	summaries *campaign.Campaign
	failed    map[string]string
}

func newPart() Part { return Part{&campaign.Campaign{}, map[string]string{}} }

// partOf is the part of one station alone, and the group that it goes to.
func partOf(o campaign.Outcome) (group string, p Part) {
	p = newPart()
	if o.Err == nil {
		o.Err = p.summaries.Add(o.Summary)
	}
	if o.Err != nil {
		p.failed[o.Name] = o.Err.Error()
		sum := sha256.Sum256([]byte(o.Name))
		return hex.EncodeToString(sum[:])[:groupDigits], p
	}
	for k := range p.summaries.All() {
		group = groupOf(k)
	}
	return group, p
}

// groupDigits makes 4096 groups: with 100,000 stations a group has 25 summaries or 100 kB, and
// with a million 1 MB, where many an engine refuses a message of more than 4 MiB.
const groupDigits = 3

// groupOf is the beginning of the digest at the key's end: even, and the same on every machine.
func groupOf(k campaign.Key) string { return string(k[len(k)-16:][:groupDigits]) }

// join puts all of another part into this one.
func (p Part) join(other Part) Part {
	p.summaries.Merge(other.summaries)
	maps.Copy(p.failed, other.failed)
	return p
}

// failures are in the order of their names.
func (p Part) failures() []pooled.Failure {
	out := make([]pooled.Failure, 0, len(p.failed))
	for _, name := range slices.Sorted(maps.Keys(p.failed)) {
		out = append(out, pooled.Failure{Name: name, Reason: p.failed[name]})
	}
	return out
}

// partJSON is a part on its way and in a file. The summaries are a campaign's JSON.
type partJSON struct {
	Version   int                `json:"version"`
	Failed    []pooled.Failure   `json:"failed"`
	Summaries *campaign.Campaign `json:"summaries"`
}

const partVersion = 1

func encodePart(p Part) ([]byte, error) {
	return json.Marshal(partJSON{partVersion, p.failures(), p.summaries})
}

func decodePart(text []byte) (Part, error) {
	in := partJSON{Summaries: &campaign.Campaign{}}
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&in); err != nil {
		return Part{}, fmt.Errorf("part: %w", err)
	}
	if in.Version != partVersion {
		return Part{}, fmt.Errorf("part: version is %d, this program reads %d", in.Version, partVersion)
	}
	if in.Summaries == nil {
		return Part{}, errors.New("part: there are no summaries")
	}
	p := Part{in.Summaries, map[string]string{}}
	for _, f := range in.Failed {
		p.failed[f.Name] = f.Reason
	}
	return p, nil
}

// mergeFn joins parts, as many at a time as the engine likes and in any order.
type mergeFn struct{}

func (*mergeFn) CreateAccumulator() Part          { return newPart() }
func (*mergeFn) AddInput(a, b Part) Part          { return a.join(b) }
func (*mergeFn) MergeAccumulators(a, b Part) Part { return a.join(b) }
