package logfile

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What the caller gives is taken, said among the reasons, and checked.
func TestMarksGiven(t *testing.T) {
	const semi = "time;light\n2027-08-02 07:00:00;812,250\n2027-08-02 07:00:01;813,250\n"
	const tabs = "time\tlight\n2027-08-02 07:00:00\t812,250\n2027-08-02 07:00:01\t813,250\n"
	for _, tt := range []struct {
		name, in string
		opt      Options
		decides  string
		light    float64 // of the first record
		reason   string
	}{
		{"a semicolon has a decimal comma beside it", semi, Options{}, "", 812.25, "decimal mark is a comma"},
		{"a tab says nothing of three digits behind a comma", tabs, Options{}, "decimal", 0, ""},
		{"decimal comma", tabs, Options{Decimal: ','}, "", 812.25, "decimal mark is a comma, as given"},
		{"decimal point", tabs, Options{Decimal: '.'}, "", 812250, "decimal mark is a point, as given"},
		{"point, against the semicolon", semi, Options{Decimal: '.'}, "", 812250, "as given"},
		{"delimiter", semi, Options{Delimiter: ';'}, "", 812.25, "cut at semicolons, as given"},
		{"a delimiter that is not there", semi, Options{Delimiter: '|'}, "delimiter", 0, ""},
		{"a letter", semi, Options{Delimiter: 'x'}, "delimiter", 0, ""},
		{"a letter for a mark", semi, Options{Decimal: 'x'}, "decimal", 0, ""},
		{"delimiter and columns", semi, Options{Delimiter: ';', Columns: []Role{Time, Light, Temp}}, "delimiter", 0, ""},
		{"given where the sample has no decimals", "time;light\n2027-08-02 07:00:00;812\n", Options{Decimal: '.'}, "", 812, "point, as given"},
	} {
		recs, rep, err := drain(t, strings.NewReader(tt.in), tt.opt)
		lawful(t, rep, int64(len(tt.in)))
		if tt.decides != "" {
			if e := (*LayoutError)(nil); !errors.As(err, &e) || e.Decides != tt.decides || !strings.Contains(err.Error(), "option decides") {
				t.Errorf("%s: %v, want a refusal that %q decides", tt.name, err, tt.decides)
			}
			continue
		}
		require.NoError(t, err, tt.name)
		if why := strings.Join(rep.Layout.Reasons, "\n"); recs[0].Light != tt.light || !strings.Contains(why, tt.reason) {
			t.Errorf("%s: %g, want %g; %s", tt.name, recs[0].Light, tt.light, why)
		}
	}
}

// A decimal mark given as a point is not given up for a comma behind the sample.
func TestGivenPointStays(t *testing.T) {
	in := "time;light\n" + body("2027-08-02 07:%02d:%02d;%d\n", 80) + "2027-08-02 07:02:00;812,5\n"
	recs, rep, err := drain(t, strings.NewReader(in), Options{Decimal: '.'})
	require.NoError(t, err)
	if rep.Layout.DecimalComma || rep.Missing[Light] != 1 || !alike(recs[80].Light, recs[80].Temp) {
		t.Errorf("%+v, %v", recs[80], rep.Layout.Reasons)
	}
}

// Every option that a refusal can name is a field of Options.
func TestDecidersAreOptions(t *testing.T) {
	fields := strings.ToLower(fmt.Sprintf("%+v", Options{}))
	for name := range deciders {
		if !strings.Contains(fields, " "+name+":") {
			t.Errorf("Options has no field for %q: %s", name, fields)
		}
	}
}

func TestThousands(t *testing.T) {
	for _, tt := range []struct {
		in   string
		mark byte
		want float64
		ok   bool
	}{
		{"1,234", '.', 1234, true}, {"-12,345,678.5", '.', -12345678.5, true}, {"1.234,5", ',', 1234.5, true}, {"1.234.567", ',', 1234567, true},
		{"1 234,5", ',', 1234.5, true}, {"1\u00a0234,5", ',', 1234.5, true}, {"1\xa0234,5", ',', 1234.5, true}, {"1\u202f234.5", '.', 1234.5, true}, {"1'234.5", '.', 1234.5, true},
		{"1.234", ',', 0, false}, // more likely a point
		{"1,23", '.', 0, false}, {"1234,567", '.', 0, false}, {"0,123", '.', 0, false}, {",123", '.', 0, false}, {"1,234,56", '.', 0, false}, {"1,234 567", '.', 0, false}, {"1,2345", '.', 0, false},
		{"12 5", '.', 0, false}, {"1,", '.', 0, false}, {"", '.', 0, false}, {"1,234e", '.', 0, false},
	} {
		if got, ok := parseNumber([]byte(tt.in), tt.mark); ok != tt.ok || got != tt.want {
			t.Errorf("%q, decimal %c: %v %v, want %v %v", tt.in, tt.mark, got, ok, tt.want, tt.ok)
		}
	}
}
