package main

// A thinned keeps some of what it is given, spread evenly over the whole of it, in
// bounded memory and the same ones every time.
//
// The n-th thing is kept where the fraction of n times the golden ratio is small enough,
// and what small enough is halves whenever there are too many. Multiples of that ratio are
// spread most evenly, and do not fall in step with rows that come in sevens or eights, as
// every second or eighth row would.
type thinned[T any] struct {
	most int // are kept, and half of it at least; 0 for none
	seen int
	rare uint // how often it was halved
	kept []T
	at   []uint32
}

// goldenFraction is 2^32 over the golden ratio, odd.
const goldenFraction = 2654435769

func (s *thinned[T]) add(x T) {
	at := uint32(s.seen) * goldenFraction
	s.seen++
	if s.most <= 0 || at > ^uint32(0)>>s.rare {
		return
	}
	s.kept, s.at = append(s.kept, x), append(s.at, at)
	for len(s.kept) > s.most {
		s.rare++
		n := 0
		for i, at := range s.at {
			if at <= ^uint32(0)>>s.rare {
				s.kept[n], s.at[n] = s.kept[i], at
				n++
			}
		}
		clear(s.kept[n:])
		s.kept, s.at = s.kept[:n], s.at[:n]
	}
}

// each is how many each of the kept stands for.
func (s *thinned[T]) each() float64 {
	if len(s.kept) == 0 {
		return 1
	}
	return float64(s.seen) / float64(len(s.kept))
}
