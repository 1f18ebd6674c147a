package logfile

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestRefusedLayouts(t *testing.T) {
	for _, tt := range []struct {
		name, in string
		opt      Options
		decides  string
	}{
		{"day or month", "time,light\n02/08/2027 07:00:00,812\n02/08/2027 07:00:01,813\n", Options{}, "order"},
		{"day or month, a day apart", "time,light\n02/08/2027 07:00:00,812\n03/08/2027 07:00:01,813\n", Options{}, "order"},
		{"day, month or year", "time,light\n07-08-02 07:00:00,812\n07-08-02 07:00:01,813\n", Options{}, "order"},
		{"which is light", "time,a,b\n2027-08-02 07:00:00,1,812\n2027-08-02 07:00:01,2,813\n", Options{}, "light"},
		{"which is light, no header", "2027-08-02 07:00:00,1,812\n2027-08-02 07:00:01,2,1600\n", Options{}, "light"},
		{"a gas is no light", "time,temp,CO2\n2027-08-02 07:00:00,24,812\n2027-08-02 07:00:01,24,813\n", Options{Light: "colour"}, "light"},
		{"no such column", "time,light\n2027-08-02 07:00:00,812\n2027-08-02 07:00:01,813\n", Options{Light: "colour"}, "light"},
		{"no such number", "time,light\n2027-08-02 07:00:00,812\n2027-08-02 07:00:01,813\n", Options{Light: "0"}, "light"},
		{"the time as light", "time,light\n2027-08-02 07:00:00,812\n2027-08-02 07:00:01,813\n", Options{Light: "time"}, "light"},
		{"one column", "812\n813\n814\n", Options{}, "columns"},
		{"one column with a decimal comma", "812,5\n813,5\n814,5\n", Options{}, "columns"},
		{"one column of stamps", "2027-08-02 07:00:00\n2027-08-02 07:00:01\n", Options{}, "columns"},
		{"no time", "a,b\n1,2\n3,4\n", Options{}, "columns"},
		{"seconds since boot", "time,light\n1,2\n3,4\n", Options{}, "columns"},
		{"no date", "07:00:00,812\n07:00:01,813\n", Options{Name: "log.csv"}, "date"},
		{"columns do not fit", "2027-08-02 07:00:00,812\n2027-08-02 07:00:01,813\n", Options{Columns: []Role{Time, Light, Temp}}, "columns"},
		{"seconds since boot called time", "1,812\n2,813\n", Options{Columns: []Role{Time, Light}}, "columns"},
		{"times of day called time", "07:00:00,812\n07:00:01,813\n", Options{Columns: []Role{Time, Light}}, "date"},
		{"columns without a time", "2027-08-02 07:00:00,812\n2027-08-02 07:00:01,813\n", Options{Columns: []Role{Temp, Light}}, "columns"},
	} {
		opt := tt.opt
		if opt.Name == "" {
			opt.Name = "made up.csv"
		}
		_, rep, err := drain(t, strings.NewReader(tt.in), opt)
		var e *LayoutError
		if !errors.As(err, &e) || e.Decides != tt.decides || !errors.Is(err, ErrNoLayout) {
			t.Errorf("%s: %v, want a LayoutError that %q decides", tt.name, err, tt.decides)
			continue
		}
		if !strings.Contains(err.Error(), opt.Name) || !strings.Contains(err.Error(), tt.decides) {
			t.Errorf("%s: %q names neither the file nor what decides", tt.name, err)
		}
		lawful(t, rep, int64(len(tt.in)))
	}
}

// Which column is light, by its heading; the rest of the roles with it.
func TestRolesByHeading(t *testing.T) {
	for _, tt := range []struct{ head, want string }{
		{"time,light,temp", "time light temp"},
		{"Zeit,lux,T", "time light skip"},
		{"timestamp,clear,nir,f1,f2", "time light skip skip skip"},
		{"utc,GHI,DNI,DHI,air_temperature,air_pressure,relative_humidity", "time light skip skip temp pressure humidity"},
		{"t,Illumination (lux),UVB Intensity (mW/m²),UVA Intensity (mW/m²)", "time light skip skip"},
		{"time,UV intensity,intensity", "time skip light"},
		{"time,raw,lux", "time skip light"},
		{"time,counts,light", "time skip light"},
		{"time,light1,light2,airTemp", "time light light2 temp"},
		{"time,light2,light1", "time light2 light"},
		{"time,lightLevel,battery voltage", "time light skip"},
		{"time,LDR,boardTemp,airTemp", "time light skip temp"},
		{"time,adc0,rh,hPa", "time light humidity pressure"},
		{"stamp,a0,temperature", "time light temp"},
		{"time,flightLevel,x,lux", "time skip skip light"},
		{"time,lat,lon,ambient light", "time lat lon light"},
		{"time,temp,humidity,pressure", "time temp humidity pressure"},
		{"time,batt,whatever", "time skip light"},
		{"time,W/m²,°C", "time light temp"},
		{"time,T_air (°C),daylight", "time temp light"},
		{"time,Solar Radiation,AIRTEMP,wind", "time light temp skip"},
		{"time,net radiation,illum.", "time skip light"},
		{"time,sun elevation,sun azimuth,SW_in", "time skip skip light"},
		{"time,light_ok,light_gain,foot-candles", "time skip skip light"},
		{"time,ambient temperature,ambient", "time temp light"},
		{"time,full spectrum,ir,lumens", "time skip skip light"},
		{"time,degC,klx", "time temp light"},
	} {
		n := strings.Count(tt.head, ",")
		in := tt.head + "\n"
		for i := range 4 {
			in += fmt.Sprintf("2027-08-02 07:00:0%d", i) + strings.Repeat(fmt.Sprintf(",%d", 40+i), n) + "\n"
		}
		_, rep, err := drain(t, strings.NewReader(in), Options{})
		if err != nil {
			t.Errorf("%s: %v", tt.head, err)
			continue
		}
		var got []string
		for _, c := range rep.Layout.Columns {
			got = append(got, c.Role.String())
		}
		if strings.Join(got, " ") != tt.want {
			t.Errorf("%s: %v, want %s", tt.head, got, tt.want)
		}
		if l := strings.Join(rep.Layout.Reasons, "\n"); strings.Contains(tt.want, "light") && !strings.Contains(l, "light") {
			t.Errorf("%s: the reasons do not speak of light: %s", tt.head, l)
		}
	}
}

func TestUnits(t *testing.T) {
	for name, want := range map[string]string{
		"Illumination (lux)": "lux", "temp [°C]": "°C", "temp_c": "C", "tempC": "C", "pressure.hPa": "hPa", "RF %": "%", "light": "", "T": "", "uv (mW/m²)": "mW/m²", "": "",
	} {
		if got := unitOf(name); got != want {
			t.Errorf("%q: %q, want %q", name, got, want)
		}
	}
	_, rep, err := drain(t, strings.NewReader("time;light (lux);temp \xb0C\n2027-08-02 07:00:00;1;2\n"), Options{})
	require.NoError(t, err)
	if c := rep.Layout.Columns; c[1].Unit != "lux" || c[2].Name != "temp °C" || c[2].Role != Temp {
		t.Errorf("%+v", c)
	}
}

func TestZoneIsSaid(t *testing.T) {
	for _, tt := range []struct {
		in      string
		opt     Options
		zone    string
		assumed bool
	}{
		{"time,light\n2027-08-02 07:00:00,1\n", Options{}, "UTC, assumed", true},
		{"time (UTC),light\n2027-08-02 07:00:00,1\n", Options{}, "UTC, by the heading", false},
		{"time UTC-03:30,light\n2027-08-02 07:00:00,1\n", Options{}, "-3.5 h from UTC, by the heading", false},
		{"time UTC,light\n2027-08-02 07:00:00,1\n", Options{Zone: time.FixedZone("ours", 3600)}, "given: ours", false},
		{"time,light\n2027-08-02 07:00:00Z,1\n", Options{}, "in the stamps", false},
		{"time,light\n2027-08-02 07:00:61,1\n", Options{}, "", false},
		{"time,light\n1817190000,1\n", Options{}, "UTC, counted since 1970", false},
	} {
		_, rep, err := drain(t, strings.NewReader(tt.in), tt.opt)
		require.NoError(t, err)
		if rep.Layout.Zone != tt.zone || rep.ZoneAssumed != tt.assumed {
			t.Errorf("%q: %q %v, want %q %v", tt.in, rep.Layout.Zone, rep.ZoneAssumed, tt.zone, tt.assumed)
		}
	}
}

// Day and month are told apart by any date of the sample, and over midnight.
func TestOrderOfDates(t *testing.T) {
	late := body("02/08/2027 23:%02d:%02d,%d\n", 3600)
	for _, tt := range []struct {
		name, in string
		want     Order
	}{
		{"over midnight, day first", late + "03/08/2027 00:00:00,5\n", DMY},
		{"over midnight, month first", strings.ReplaceAll(late, "02/08", "08/02") + "08/03/2027 00:00:00,5\n", MDY},
		{"over midnight, date and clock apart", strings.ReplaceAll(late, " ", ",") + "03/08/2027,00:00:00,5\n", DMY},
		{"over midnight, backwards", "03/08/2027 00:00:30,5\n02/08/2027 23:59:59,5\n02/08/2027 23:59:30,5\n", DMY},
		{"a 31st, and a clock that was not set", "45/25/2165 45:85:85,1\n31/12/2027 07:00:00,5\n31/12/2027 07:00:01,5\n", DMY},
		{"month first but for a damaged one", body("12/31/2027 07:%02d:%02d,%d\n", 30) + "31/12/2027 07:00:30,5\n", MDY},
		{"month first but for a damaged one at the beginning", "31/12/2027 06:59:59,5\n" + body("12/31/2027 07:%02d:%02d,%d\n", 30), MDY},
		{"two digits, year first", "27-08-31 07:00:00,5\n27-08-31 07:00:01,5\n27-13-31 00:00:00,5\n32-08-02 07:00:00,5\n", YMD},
		{"year first", "2027-08-02 07:00:00,5\n2027-08-02 07:00:01,5\n", YMD},
	} {
		recs, rep, err := drain(t, strings.NewReader(tt.in), Options{})
		if err != nil || rep.Layout.Order != tt.want {
			t.Errorf("%s: %v %v, want %v (%v)", tt.name, rep.Layout.Order, err, tt.want, rep.Layout.Reasons)
		}
		lawful(t, rep, int64(len(tt.in)))
		if int64(len(recs)) != rep.Lines.Records {
			t.Errorf("%s: %d records, %+v", tt.name, len(recs), rep.Lines)
		}
	}
	both := "01/02/2027 23:59:59,1\n02/02/2027 00:00:01,1\n02/02/2027 23:59:59,1\n02/03/2027 00:00:01,1\n"
	if _, rep, err := drain(t, strings.NewReader(both), Options{}); !errors.Is(err, ErrNoLayout) {
		t.Errorf("a clock that contradicts itself: %v, %v", rep.Layout.Order, err)
	}
	halves := strings.Repeat("31/12/2027 07:00:00,5\n12/31/2027 07:00:01,5\n", 10)
	if _, rep, err := drain(t, strings.NewReader(halves), Options{}); !errors.Is(err, ErrNoLayout) {
		t.Errorf("half the dates day first, half month first: %v, %v", rep.Layout.Order, err)
	}
	never := body("02/08/2027 07:%02d:%02d,%d\n", 60_000) // past what is held
	r := NewReader(strings.NewReader(never), Options{})
	if err := r.open(); !errors.Is(err, ErrNoLayout) || r.heldBytes > datesBytes+lineCap {
		t.Errorf("one date for ever: %v, %d bytes held", err, r.heldBytes)
	}
	rep := r.Report()
	lawful(t, rep, int64(len(never)))
}

// New firmware: columns change places, or one more appears.
func TestAnotherHeader(t *testing.T) {
	const old = "time,light,temp\n2027-08-02 07:00:00,812,24\n2027-08-02 07:00:01,813,24\n2027-08-02 07:00:02,814,24\n"
	for _, tt := range []struct {
		name, in string
		lines    Accounts
		light    float64 // of the last record
		temp     float64
	}{
		{"places", old + "time,temp,light\n2027-08-02 07:00:03,25,815\n", Accounts{Records: 4, Headers: 2}, 815, 25},
		{"one more", old + "time,hum,light,temp\n2027-08-02 07:00:03,40,815,25\n", Accounts{Records: 4, Headers: 2}, 815, 25},
		{"cut between names", old + "time,light\n2027-08-02 07:00:03,815,25\n", Accounts{Records: 4, Headers: 2}, 815, 25},
		{"cut between names, and so a line later", old + "time,light\n2027-08-02 07:00:03,815,25\n2027-08-02 07:00:04,816\n", Accounts{Records: 4, Headers: 2, Problems: 1}, 815, 25},
		{"cut between names, nothing behind it fits", old + "time,light\n2027-08-02,815\n2027-08-02 07:00:03,815,25\n", Accounts{Records: 4, Headers: 2, Problems: 1}, 815, 25},
		{"no light any more", old + "time,temp,hum\n2027-08-02 07:00:03,25,40\n", Accounts{Records: 4, Headers: 2}, 25, 40},
	} {
		recs, rep, err := drain(t, strings.NewReader(tt.in), Options{})
		require.NoError(t, err)
		lawful(t, rep, int64(len(tt.in)))
		last := recs[len(recs)-1]
		if rep.Lines != tt.lines || last.Light != tt.light || last.Temp != tt.temp {
			t.Errorf("%s: %+v %+v %v", tt.name, rep.Lines, last, rep.List)
		}
	}
}

// Without a header a few rows are not enough to be sure that none comes.
func TestHeaderBelowBareRows(t *testing.T) {
	in := body("2027-08-02 07:%02d:%02d,%d\n", 5) + "time,temp\n" + body("2027-08-02 07:%02d:%02d,%d\n", 5)
	_, rep, err := drain(t, strings.NewReader(in), Options{})
	require.NoError(t, err)
	if c := rep.Layout.Columns[1]; c.Role != Temp || rep.Lines != (Accounts{Records: 10, Headers: 1}) {
		t.Errorf("%+v, %+v", c, rep.Lines)
	}
}

func TestNameInQuotes(t *testing.T) {
	_, rep, err := drain(t, strings.NewReader("time,\"light, \"\"raw\"\"\"\n2027-08-02 07:00:00,1\n"), Options{Light: `light, "raw"`})
	require.NoError(t, err)
	if got := rep.Layout.Columns[1].Name; got != `light, "raw"` {
		t.Errorf("the name is %s", got)
	}
}

func TestNamesOfRolesAndOrders(t *testing.T) {
	for r := range roleCount {
		if got, err := ParseRole(r.String()); err != nil || got != r {
			t.Errorf("%v: %v %v", r, got, err)
		}
	}
	for o := Auto; o <= MDY; o++ {
		if got, err := ParseOrder(o.String()); err != nil || got != o {
			t.Errorf("%v: %v %v", o, got, err)
		}
	}
	if o, err := ParseOrder(""); err != nil || o != Auto {
		t.Error(o, err)
	}
	for want, got := range map[string]fmt.Stringer{"role 99": Role(99), "order 99": Order(99), "kind 99": Kind(99), "kind 0": Kind(0), "event 0": EventKind(0), "direction 99": Direction(99), "mixed": Mixed, "torn line": TornLine} {
		if got.String() != want {
			t.Errorf("%v, want %s", got, want)
		}
	}
	if _, err := ParseRole("lux"); err == nil {
		t.Error("lux is no role")
	}
	if _, err := ParseOrder("ydm"); err == nil {
		t.Error("ydm is no order")
	}
}

// Without a header the column that changes far more than the others is light.
func TestLiveliestColumnIsLight(t *testing.T) {
	recs, rep, err := drain(t, strings.NewReader("2027-08-02 07:00:00,24.5,812\n2027-08-02 07:00:01,24.5,800\n2027-08-02 07:00:02,24.6,700\n"), Options{})
	require.NoError(t, err)
	if len(recs) != 3 || recs[2].Light != 700 || !strings.Contains(strings.Join(rep.Layout.Reasons, " "), "change far more") {
		t.Errorf("%+v, %v", recs, rep.Layout.Reasons)
	}
}
