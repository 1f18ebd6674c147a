package logfile

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A header that lost a part of a name to a torn sector, or has it twice, names the same
// columns, be it the first of the file or a later one.
func TestHeaderTornInAName(t *testing.T) {
	const whole = "lat,lon,time,light,temp\n"
	rows := body("36.00001,-5.60001,2027-08-02T07:%02d:%02dZ,%d,24.01\n", 5)
	heads := []string{whole, "at,lon,time,light,temp\n", ",lon,time,light,temp\n", "lat,lon,time,light,te\n", "lat,lon,time,light,\n", "lat,,time,light,temp\n",
		"lat,lolon,time,light,temp\n", "lat,n,time,light,temp\n", "latlat,lon,time,light,temp\n", "36.00at,lon,time,light,temp\n", "lat,lon,time,light,te3.24\n"}
	for _, first := range heads {
		for _, then := range heads {
			recs, rep, err := drain(t, strings.NewReader(first+rows+then+rows), damageOptions)
			require.NoError(t, err)
			if rep.Lines != (Accounts{Records: 10, Headers: 2}) {
				t.Errorf("%q and %q: %+v %v", first, then, rep.Lines, rep.ByKind)
			}
			for _, r := range recs {
				if !(r.Lat == 36.00001 && r.Lon == -5.60001 && r.Temp == 24.01) {
					t.Errorf("%q and %q: %+v", first, then, r)
					break
				}
			}
		}
	}
}
