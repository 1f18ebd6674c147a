package cli

import (
	"errors"
	"flag"
)

// A Limb says which edge of the Moon is meant.
type Limb uint8

// The zero value is the smooth one.
const (
	Mean Limb = iota // the smooth disc of the printed almanacs
	Real             // with its mountains and valleys
)

func (l Limb) String() string {
	if l == Real {
		return "real"
	}
	return "mean"
}

type limbFlag struct{ limb *Limb }

func (c *Common) registerLimb(fs *flag.FlagSet) {
	fs.Var(limbFlag{&c.Limb}, "limb", "the Moon's edge, `mean|real`: smooth as in the printed almanacs, or with its mountains")
}

func (f limbFlag) String() string {
	if f.limb == nil { // the flag package asks a zero value
		return ""
	}
	return f.limb.String()
}

func (f limbFlag) Set(s string) error {
	for _, l := range []Limb{Mean, Real} {
		if s == l.String() {
			*f.limb = l
			return nil
		}
	}
	return errors.New("want mean or real")
}
