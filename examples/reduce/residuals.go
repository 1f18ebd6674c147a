package main

import (
	"fmt"
	"io"
	"math"

	"gonum.org/v1/gonum/stat"

	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/examples/internal/cli"
)

// A residual is one reading of the fit beside its prediction, for programs.
type residual struct {
	UTC       cli.Instant `json:"utc"` // the stamp with the offset taken out
	Measured  cli.Number  `json:"measured_lx"`
	Predicted cli.Number  `json:"predicted_lx"`
	Residual  cli.Number  `json:"residual"` // natural logarithm
}

func residualsOf(c *fit.Result) []residual {
	out := []residual{}
	if c == nil {
		return out
	}
	for _, p := range c.Points {
		out = append(out, residual{cli.Instant(p.UTC), cli.Number(p.Measured), cli.Number(p.Predicted), cli.Number(p.Residual)})
	}
	return out
}

// writeResiduals says what the fit leaves, and where it leaves most.
func writeResiduals(w io.Writer, c *fit.Result) {
	if len(c.Points) < 2 {
		return
	}
	left := leftOver(c)
	worst := 0
	for i, p := range c.Points {
		if math.Abs(p.Residual) > math.Abs(left[worst]) {
			worst = i
		}
	}
	fmt.Fprintf(w, "  The readings lie %.1f %% (standard deviation) from the fit, the furthest %+.0f %% at %s UTC.\n",
		100*stat.StdDev(left, nil), 100*math.Expm1(left[worst]), c.Points[worst].UTC.Format("15:04:05"))
}

// leftOver are the residuals, natural logarithms.
func leftOver(c *fit.Result) []float64 {
	left := make([]float64, len(c.Points))
	for i, p := range c.Points {
		left[i] = p.Residual
	}
	return left
}
