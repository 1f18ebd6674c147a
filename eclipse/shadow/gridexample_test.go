package shadow_test

import (
	"context"
	"fmt"
	"os"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/shadow"
	"example.org/noonfall/sun/timescale"
)

// How much of the Sun will be covered on 2 August 2027, from the Canaries to the Red
// Sea and from the Gulf of Guinea to the North Sea? The path crosses the Strait and Luxor.
func ExampleNewGrid() {
	c, err := canon.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := c.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	if err != nil {
		fmt.Println(err)
		return
	}
	area := shadow.Area{South: 0, North: 55, West: -15, East: 45, LatStep: 11, LonStep: 12}
	g, err := shadow.NewGrid(context.Background(), e, area, shadow.SeenObscuration, shadow.GridOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for row := g.Rows - 1; row >= 0; row-- { // north on top
		fmt.Printf("%2.0f N", g.Y(row))
		for col := range g.Cols {
			fmt.Printf("%5.0f%%", 100*g.At(row, col))
		}
		fmt.Println()
	}
	// Output:
	// 55 N   29%   30%   28%   22%   14%    5%
	// 44 N   69%   71%   68%   59%   44%   26%
	// 33 N   97%   94%   98%  100%   81%   55%
	// 22 N   52%   48%   52%   68%   94%   88%
	// 11 N   13%   11%   15%   30%   57%   91%
	//  0 N    0%    0%    0%    4%   25%   56%
}

// Any function of the circumstances will do: how long the eclipse lasts along a
// parallel, in minutes, as a file.
func ExampleGridOf() {
	c, err := canon.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := c.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	if err != nil {
		fmt.Println(err)
		return
	}
	minutes := func(c *eclipse.Circumstances) float64 {
		return float64(int((c.C4.TT - c.C1.TT) / 60))
	}
	area := shadow.Area{South: 36, North: 36, West: -10, East: 30, LatStep: 1, LonStep: 10}
	g, err := shadow.GridOf(context.Background(), e, area, minutes, shadow.GridOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	g.Name = "minutes"
	if err := g.WriteCSV(os.Stdout); err != nil {
		fmt.Println(err)
	}
	// Output:
	// lat_deg,lon_deg,minutes
	// 36,-10,135
	// 36,0,145
	// 36,10,153
	// 36,20,157
	// 36,30,154
}

// Instants are seconds after T0, so that they can be contoured, and become clock times
// by adding it.
func ExampleQuantity() {
	c, err := canon.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := c.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	if err != nil {
		fmt.Println(err)
		return
	}
	area := shadow.Area{South: 36, North: 36, West: -5.6, East: -5.6, LatStep: 1, LonStep: 1}
	g, err := shadow.NewGrid(context.Background(), e, area, shadow.Maximum, shadow.GridOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	utc := timescale.Scale{}.UTC(g.T0 + timescale.TT(g.At(0, 0)))
	fmt.Println(g.Name, utc.Format("15:04 UTC"))
	// Output:
	// maximum 08:47 UTC
}
