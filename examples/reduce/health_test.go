package main

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/examples/internal/golden"
)

// The demo's page from the logger's health to the clock's verdict, word for word; before
// are the reader's own words, behind the fit's digits.
func TestPageOfTheDemo(t *testing.T) {
	out, err := reduce(t)
	require.NoError(t, err)
	_, got, found := strings.Cut(out, "THE LOGGER'S HEALTH\n")
	require.True(t, found)
	got, _, found = strings.Cut(got, "THE CLOCK\n")
	require.True(t, found)
	golden.Page(t, "testdata/demo.txt", got)
}

// Health stands in the answer where the clock is refused too, under keys that
// programs rely on.
func TestHealthWhereTheFitRefuses(t *testing.T) {
	log := write(t, "log.csv", twoLines)
	for _, args := range [][]string{
		{"-site", "36,-5.6", "-date", "2027-09-20", log},                               // no eclipse
		{"-site", "-70,100", "-date", "2027-08-02", log},                               // not visible
		{"-site", "36,-5.6", "-date", "2027-08-02", log},                               // too little light
		{"-site", "36,-5.6", "-date", "2027-08-02", write(t, "empty.csv", "")},         // nothing
		{"-site", "36,-5.6", "-date", "2027-08-02", write(t, "h.csv", "time,light\n")}, // a header alone
	} {
		out, err := reduce(t, append([]string{"-json"}, args...)...)
		require.NoError(t, err)
		var v struct {
			Clock  struct{ Verdict string }
			Health map[string]any
		}
		require.NoError(t, json.Unmarshal([]byte(out), &v))
		for _, key := range []string{"samples", "cadence_s", "used", "saturated", "dark", "records", "span_h", "steps", "gaps", "stamps", "lines",
			"range", "ceiling", "floor", "noise", "sky", "advice"} {
			if _, ok := v.Health[key]; !ok {
				t.Errorf("%v: health lacks %s", args, key)
			}
		}
		if advice, ok := v.Health["advice"].([]any); v.Clock.Verdict != "refused" || !ok || len(advice) == 0 {
			t.Errorf("%v: verdict %s, advice %v", args, v.Clock.Verdict, v.Health["advice"])
		}
		page, err := reduce(t, args...)
		require.NoError(t, err)
		if !strings.Contains(page, "THE LOGGER'S HEALTH") || !strings.Contains(page, "WHAT TO CHANGE") || strings.Contains(page, "NaN") {
			t.Errorf("%v:\n%s", args, page)
		}
	}
}

// Of many refused lines and events the first stand there with their place, the rest as
// counts, so that the page stays short.
func TestLongReportsStayShort(t *testing.T) {
	var b strings.Builder
	b.WriteString("time,light\n")
	at := time.Date(2027, 9, 20, 8, 0, 0, 0, time.UTC)
	for i := range 2000 {
		fmt.Fprintf(&b, "%s,%d\n", at.Add(time.Duration(i)*time.Second).Format(time.RFC3339), i%80)
		if i%20 == 0 {
			b.WriteString("2027-09-20T0\n") // torn
		}
		if i%100 == 50 {
			fmt.Fprintf(&b, "%s,1,2,3\n", at.Format(time.RFC3339))             // run together
			fmt.Fprintf(&b, "%s,7\n", at.Add(-time.Hour).Format(time.RFC3339)) // a step back
		}
	}
	log := write(t, "log.csv", b.String())
	out, err := reduce(t, "-site", "36,-5.6", "-date", "2027-09-20", log)
	require.NoError(t, err)
	for _, want := range []string{
		log + ":3 (byte 34): torn line: \"2027-09-20T0\"",
		"and 95 x torn line, 19 x lines run together",
		"step back, line ",
		"x step back",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if n := strings.Count(out, "\n"); n > 60 {
		t.Errorf("the page has %d lines", n)
	}
	if t.Failed() {
		t.Log(out)
	}
}

// Each thing that a layout can leave open has a flag, and the error names it.
func TestDeciders(t *testing.T) {
	count := "count;light\n"
	for i := range 40 {
		count += fmt.Sprintf("%d;%d\n", i, 500+i)
	}
	log := write(t, "log.csv", count)
	base := []string{"-site", "36,-5.6", "-date", "2027-09-20", "-columns", "time,light"}
	if _, err := reduce(t, append(base, "-delimiter", "dash", log)...); err == nil || !strings.Contains(err.Error(), "-delimiter") {
		t.Errorf("%v", err)
	}
	if _, err := reduce(t, append(base, "-tick", "h", log)...); err == nil || !strings.Contains(err.Error(), "-tick") {
		t.Errorf("%v", err)
	}
	if _, err := reduce(t, append(base, "-starts", "noon", log)...); err == nil || !strings.Contains(err.Error(), "-starts") {
		t.Errorf("%v", err)
	}
	out, err := reduce(t, append(append([]string{"-json"}, base...), "-tick", "s", "-starts", "2027-09-20T10:00:00+02:00", "-delimiter", "semicolon", "-decimal", "point", log)...)
	require.NoError(t, err)
	var v verdict
	require.NoError(t, json.Unmarshal([]byte(out), &v))
	if v.Records != 40 {
		t.Errorf("%d records of 40", v.Records)
	}
	for _, flag := range deciders {
		if _, err := reduce(t, flag+"=x", "-nosuchflag"); err == nil || strings.Contains(err.Error(), "not defined: "+flag) {
			t.Errorf("%s is no flag: %v", flag, err)
		}
	}
}

func TestTwoDigits(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 8.19: "8.2", 17.9: "18", 1308: "1300", 0.0351: "0.035", 99.9: "100"} {
		if got := twoDigits(v); got != want {
			t.Errorf("%g is %s, want %s", v, got, want)
		}
	}
}
