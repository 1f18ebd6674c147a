package main

import (
	"gonum.org/v1/plot/plotter"

	"example.org/noonfall/eclipse/shadow"
)

// A flank is a side of a cell of the grid: the one from a node to the next column's, or up to the
// next row's.
type flank struct {
	row, col int
	up       bool
}

// contour are the lines on which a grid has a level, by marching squares: every cell is
// crossed from side to side, straight, where its corners are on either side of the level.
// Lines that end at the grid's edge come first, closed ones after them, each in the order in
// which their first sides lie in the grid, so that a picture is the same every time.
func contour(grid *shadow.Grid, level float64) (lines []plotter.XYs) {
	next := map[flank][]flank{} // one or two
	var all []flank
	join := func(a, b flank) {
		for _, s := range []flank{a, b} {
			if next[s] == nil {
				all = append(all, s)
			}
		}
		next[a], next[b] = append(next[a], b), append(next[b], a)
	}
	for row := range grid.Rows - 1 {
		for col := range grid.Cols - 1 {
			crossed(grid, level, row, col, join)
		}
	}
	done := map[flank]bool{}
	for _, ends := range []int{1, 2} {
		for _, s := range all {
			if !done[s] && len(next[s]) == ends {
				lines = append(lines, walked(grid, level, s, next, done))
			}
		}
	}
	return lines
}

// walked is the line that begins at a flank; a closed one comes back to it.
func walked(grid *shadow.Grid, level float64, s flank, next map[flank][]flank, done map[flank]bool) (line plotter.XYs) {
	first := s
	for on := true; on; {
		done[s] = true
		line = append(line, crossing(grid, level, s))
		on = false
		for _, n := range next[s] {
			if !done[n] {
				s, on = n, true
				break
			}
		}
	}
	if len(next[first]) == 2 {
		line = append(line, line[0])
	}
	return line
}

// crossed joins the sides of a cell that the level crosses. Where it crosses all four, the
// mean of the corners tells which two belong together.
func crossed(grid *shadow.Grid, level float64, row, col int, join func(a, b flank)) {
	corner := [4]float64{grid.At(row, col), grid.At(row, col+1), grid.At(row+1, col+1), grid.At(row+1, col)}
	sides := [4]flank{{row, col, false}, {row, col + 1, true}, {row + 1, col, false}, {row, col, true}} // around, as the corners
	var cut []flank
	mean := 0.0
	for i, v := range corner {
		mean += v / 4
		if (v < level) != (corner[(i+1)%4] < level) {
			cut = append(cut, sides[i])
		}
	}
	switch {
	case len(cut) == 2:
		join(cut[0], cut[1])
	case len(cut) == 4 && (mean < level) == (corner[0] < level):
		join(cut[0], cut[1])
		join(cut[2], cut[3])
	case len(cut) == 4:
		join(cut[3], cut[0])
		join(cut[1], cut[2])
	}
}

// crossing is where the level crosses a flank.
func crossing(grid *shadow.Grid, level float64, s flank) plotter.XY {
	row, col := s.row, s.col+1
	if s.up {
		row, col = s.row+1, s.col
	}
	a, b := grid.At(s.row, s.col), grid.At(row, col)
	part := (level - a) / (b - a)
	x, y := grid.X(s.col), grid.Y(s.row)
	return plotter.XY{X: x + part*(grid.X(col)-x), Y: y + part*(grid.Y(row)-y)}
}
