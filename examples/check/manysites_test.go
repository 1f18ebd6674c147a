package main

import (
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
)

// Four thousand claims, each of a site of its own: a fifth on local time, a tenth west
// positive, a tenth late by anything. Sampling leaves no site twice, and both mistakes are
// found all the same, with about as many claims as have them.
func TestManySites(t *testing.T) {
	e := computedHere.elements(t)
	rng := rand.New(rand.NewPCG(1, 1))
	var rows []printed
	for i := range 4000 {
		s := sun.Site{Lat: 35 + 20*rng.Float64(), Lon: -5 + 35*rng.Float64()}
		o, err := eclipse.NewObserver(e, s, eclipse.Options{})
		require.NoError(t, err)
		c := o.Circumstances()
		name := []string{"c1", "max", "c4", "magnitude"}[i%4]
		f, ok := quantities[name].of(&c, false)
		require.True(t, ok)
		p := printed{i, "1999-08-11", s, "UTC", "", name, f.at, f.v, "", ","}
		switch rng.IntN(10) {
		case 0:
			p.site.Lon *= -1
		case 1, 2:
			late(2 * time.Hour)(&p)
		case 3:
			late(time.Duration(rng.IntN(5000)) * time.Second)(&p)
		}
		rows = append(rows, p)
	}
	got, text := named(t, file(rows))
	if len(got) != 2 || !strings.HasPrefix(got[0], "instants are local time, +2 h") || !strings.HasPrefix(got[1], "the longitude has the other sign") {
		t.Errorf("named %q:\n%s", got, text)
	}
	if !strings.Contains(text, "spread over the whole file") {
		t.Errorf("the sample is not owned up to:\n%s", text)
	}
}
