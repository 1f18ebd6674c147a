package house_test

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// arrow is a line of the drawing in DEVELOPERS.md: a floor's number or none, words, a room,
// and the rooms that it opens onto.
var arrow = regexp.MustCompile(`(?m)^    ([1-8 ])  .{18}(\S+) +-> (.+)$`)

// The house as it is drawn is the one that the arrows' table holds the code to.
func TestDrawingOfTheHouse(t *testing.T) {
	page, err := os.ReadFile("DEVELOPERS.md")
	require.NoError(t, err)
	drawn, floors := drawing(string(page))
	delete(drawn, "examples/*")
	for room, allowed := range rooms {
		want := slices.DeleteFunc(slices.Clone(allowed), func(s string) bool { return s == units }) // meeus' own
		got := drawn[room]
		slices.Sort(want)
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Errorf("%s is drawn with arrows to %v, the table has %v", room, got, want)
		}
		for _, below := range got {
			if f, ok := floors[below]; ok && f >= floors[room] {
				t.Errorf("%s on floor %d has an arrow to %s on floor %d", room, floors[room], below, f)
			}
		}
		delete(drawn, room)
	}
	for room := range drawn {
		t.Errorf("%s is drawn and not in the table", room)
	}
}

// drawing reads the rooms, their arrows and their floors.
func drawing(page string) (arrows map[string][]string, floors map[string]int) {
	arrows, floors = map[string][]string{}, map[string]int{}
	floor := 0
	var all []string // a room that opens onto all below, but some
	for _, m := range arrow.FindAllStringSubmatch(page, -1) {
		if m[1] != " " {
			floor = int(m[1][0] - '0')
		}
		room, to := m[2], strings.Split(m[3], ", ")
		for i := range to {
			to[i] = strings.NewReplacer("gonum", gonum, "meeus", meeus).Replace(to[i])
		}
		if strings.HasPrefix(m[3], "all below but ") {
			to[0] = strings.TrimPrefix(to[0], "all below but ")
			all = append(all, room)
		}
		if m[3] == "nothing" {
			to = nil
		}
		arrows[room], floors[room] = to, floor
	}
	for _, room := range all {
		but := arrows[room]
		arrows[room] = nil
		for other, f := range floors {
			if f < floors[room] && !slices.Contains(but, other) {
				arrows[room] = append(arrows[room], other)
			}
		}
	}
	return arrows, floors
}
