package rehearsal_test

import (
	"bytes"
	"errors"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/logfile"
)

// What a reader makes of the written file must be the log's samples, and what it
// refuses the damage that the truth lists.
func TestWrittenLogIsAccountedFor(t *testing.T) {
	eclipses := years(t, "2001", "2060")
	for seed := range uint64(24) {
		p, err := rehearsal.Class{Weather: rehearsal.Weather(seed % 6)}.Draw(eclipses, seed)
		require.NoError(t, err)
		p.Cadence = 10 * time.Second
		p.Damage = rehearsal.Damage{PowerCycles: int(seed % 4), TornLines: int(seed % 7), NULRuns: int(seed % 3), Outage: 90 * time.Second}
		l := rehearse(t, p)
		var file bytes.Buffer
		n, err := l.WriteTo(&file)
		require.NoError(t, err)
		if n != int64(file.Len()) {
			t.Errorf("seed %d: WriteTo says %d bytes, it wrote %d", seed, n, file.Len())
		}
		want := l.Truth.Lines
		if want.Headers != 1+p.Damage.PowerCycles || want.Torn != p.Damage.TornLines || want.NULs != p.Damage.NULRuns ||
			len(l.Truth.Outages) != p.Damage.PowerCycles {
			t.Errorf("seed %d: damage is %+v and %d outages, want %+v", seed, want, len(l.Truth.Outages), p.Damage)
		}
		r := logfile.NewReader(&file, logfile.Options{Name: "rehearsed"})
		i := 0
		for rec, err := range r.Records() {
			require.NoError(t, err)
			require.Less(t, i, len(l.Samples), "more records than samples")
			s := l.Samples[i]
			if !rec.Time.Equal(s.Stamp) || !(math.Abs(rec.Light-s.Counts) <= 1e-9*s.Counts) || !(math.Abs(rec.Temp-s.Temp) <= 0.005001) {
				t.Fatalf("seed %d record %d reads %v %v %v, want %+v", seed, i, rec.Time, rec.Light, rec.Temp, s)
			}
			i++
		}
		rep := r.Report()
		got := rehearsal.Lines{
			Records: int(rep.Lines.Records), Headers: int(rep.Lines.Headers), Comments: int(rep.Lines.Comments),
			Torn: rep.ByKind[logfile.TornLine], NULs: rep.ByKind[logfile.NotText],
		}
		if got != want || i != want.Records || int(rep.Lines.Problems) != want.Torn+want.NULs || rep.Bytes.Sum() != n {
			t.Errorf("seed %d: read %+v of %d bytes, want %+v of %d", seed, got, rep.Bytes.Sum(), want, n)
		}
	}
}

// Between the ends of an outage nothing was recorded, and the stamps have just
// such gaps.
func TestOutages(t *testing.T) {
	l := rehearse(t, rehearsal.Plan{
		Elements: august2027(t), Site: strait, Offset: 20, Seed: 5,
		Damage: rehearsal.Damage{PowerCycles: 4, Outage: 5 * time.Minute},
	})
	gaps := 0
	for i := 1; i < len(l.Samples); i++ {
		if l.Samples[i].Stamp.Sub(l.Samples[i-1].Stamp) == time.Second {
			continue
		}
		o := l.Truth.Outages[gaps]
		for _, end := range []struct{ stamp, utc time.Time }{{l.Samples[i-1].Stamp, o.From}, {l.Samples[i].Stamp, o.To}} {
			if d := end.stamp.Sub(end.utc); d != 20*time.Second {
				t.Errorf("outage %d: stamp %v at %v, want 20 s ahead", gaps, end.stamp, end.utc)
			}
		}
		if d := o.To.Sub(o.From); d != 5*time.Minute+time.Second {
			t.Errorf("outage %d takes %v, want 300 records", gaps, d)
		}
		gaps++
	}
	if gaps != 4 || len(l.Truth.Outages) != 4 {
		t.Errorf("%d gaps and %d outages, want 4", gaps, len(l.Truth.Outages))
	}
}

// Blows may fall thick: each then strikes what is left, and the books still balance.
func TestMuchDamage(t *testing.T) {
	clean := len(rehearse(t, rehearsal.Plan{Elements: august2027(t), Site: strait, Cadence: 30 * time.Second}).Samples)
	for seed := range uint64(20) {
		l := rehearse(t, rehearsal.Plan{
			Elements: august2027(t), Site: strait, Seed: seed, Cadence: 30 * time.Second,
			Damage: rehearsal.Damage{PowerCycles: 60, TornLines: 60, NULRuns: 60, Outage: 2 * time.Minute},
		})
		n := l.Truth.Lines
		if n.Headers != 1+len(l.Truth.Outages) || n.Records != len(l.Samples) {
			t.Errorf("seed %d: %+v, %d outages, %d samples", seed, n, len(l.Truth.Outages), len(l.Samples))
		}
		gaps := 0
		var file bytes.Buffer
		_, err := l.WriteTo(&file)
		require.NoError(t, err)
		if got := bytes.Count(file.Bytes(), []byte("lat,lon,time,light,temp")); got != n.Headers {
			t.Errorf("seed %d: %d headers are written, want %d", seed, got, n.Headers)
		}
		last := time.Time{}
		for _, o := range l.Truth.Outages {
			if !o.From.After(last) || o.To.Sub(o.From) != 150*time.Second {
				t.Errorf("seed %d: an outage from %v to %v, the one before ended %v", seed, o.From, o.To, last)
			}
			last = o.From
			gaps++
		}
		if all := n.Records + n.Torn + n.NULs + 4*gaps; all != clean {
			t.Errorf("seed %d: %d records written or lost, want the clean log's %d", seed, all, clean)
		}
	}
}

// No two blows fall on one record.
func TestEveryBlowCounts(t *testing.T) {
	for seed := range uint64(5) {
		l := rehearse(t, rehearsal.Plan{
			Elements: august2027(t), Site: strait, Seed: seed, Cadence: 30 * time.Second, Damage: rehearsal.Damage{TornLines: 60, NULRuns: 40},
		})
		if n := l.Truth.Lines; n.Torn != 60 || n.NULs != 40 {
			t.Errorf("seed %d: %d torn lines and %d runs of NUL, want 60 and 40", seed, n.Torn, n.NULs)
		}
	}
}

// A full card stops the writing wherever it happens.
func TestWriteToAFullCard(t *testing.T) {
	l := rehearse(t, rehearsal.Plan{Elements: august2027(t), Site: strait, Cadence: 30 * time.Second})
	whole, err := l.WriteTo(&card{room: math.MaxInt})
	require.NoError(t, err)
	for _, room := range []int{0, 1, 100, 4096, 5000, int(whole) - 1} {
		n, err := l.WriteTo(&card{room: room})
		if !errors.Is(err, errFull) || n != int64(room) {
			t.Errorf("a card of %d bytes: %d written, error %v", room, n, err)
		}
	}
}

var errFull = errors.New("the card is full")

type card struct{ room int }

func (c *card) Write(p []byte) (int, error) {
	if len(p) > c.room {
		n := c.room
		c.room = 0
		return n, errFull
	}
	c.room -= len(p)
	return len(p), nil
}
