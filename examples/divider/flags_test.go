package main

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/examples/internal/cli"
)

func TestMistakes(t *testing.T) {
	for _, tt := range []struct {
		args        string
		flag, tells string
	}{
		{"-supply 0", "-supply", "0.5 to 60"},
		{"-supply NaN", "-supply", "0.5 to 60"},
		{"-supply -3.3", "-supply", "0.5 to 60"},
		{"-supply 0.1 -sensor phototransistor", "-supply", "volts"},
		{"-supply 0.5 -sensor phototransistor", "-supply", "NONE"}, // 0.4 of 0.45 V is still left: an answer
		{"-load -5", "-load", "1 to 1e+09 ohms"},
		{"-load 0", "-load", "1 to 1e+09 ohms"},
		{"-load 1e9", "-load 1e+09", "no light gives a readable count"},
		{"-load NaN", "-load", "1 to 1e+09 ohms"},
		{"-bits 40", "-bits", "8 to 24"},
		{"-bits 12.5", "-bits", "-h lists"},
		{"-series E13", "-series", "E3, E6"},
		{"-series ''", "-series", "E3, E6"},
		{"-low 200000", "-high", "twice -low"},
		{"-low 100 -high 50", "-high", "twice -low"},
		{"-low 900000", "-low", "make -low less"},
		{"-low NaN", "-low", "1e-06 to 1e+06"},
		{"-high NaN", "-high", "twice -low"},
		{"-high Inf", "-high", "twice -low"},
		{"-low 0", "-low", "1e-06 to 1e+06"},
		{"-r10 1", "-r10", "10 to 1e+08 ohms"},
		{"-r10 NaN", "-r10", "ohms"},
		{"-gamma 0", "-gamma", "0.3 to 1.5"},
		{"-gamma NaN", "-gamma", "0.3 to 1.5"},
		{"-dark -1", "-dark", "0 for endless"},
		{"-dead 0.5", "-dead", "0.02"},
		{"-dead NaN", "-dead", "0.02"},
		{"-fine 0", "-fine", "20"},
		{"-fine NaN", "-fine", "20"},
		{"-amps 1", "-amps", "leave it out"},
		{"-sensor phototransistor -amps 1", "-amps", "0.5e-6"},
		{"-sensor phototransistor -r10 1000", "-r10", "-sensor photoresistor"},
		{"-sensor eye", "-sensor", "phototransistor"},
		{"-site 91,0", "-site", "90"},
		{"-date tomorrow", "-date", "YYYY-MM-DD"},
		{"-cell middle", "-cell", "top or bottom"},
		{"-json extra", "extra", "-h lists"},
		{"-nosuchflag", "-nosuchflag", "-h lists"},
	} {
		args := strings.Fields(strings.ReplaceAll(tt.args, "''", "no"))
		err := run(context.Background(), &bytes.Buffer{}, args)
		if tt.tells == "NONE" {
			require.NoError(t, err, tt.args)
			continue
		}
		if err == nil || cli.Status(err) != 2 || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: %v with status %d, want one line and 2", tt.args, err, cli.Status(err))
			continue
		}
		if !strings.Contains(err.Error(), tt.flag) || !strings.Contains(err.Error(), tt.tells) {
			t.Errorf("%q: %q, want %s and %q in it", tt.args, err, tt.flag, tt.tells)
		}
	}
}
