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

type limbFlag struct {
	limb *Limb
	both bool
}

func (c *Common) registerLimb(fs *flag.FlagSet) {
	usage := "the Moon's edge, `mean|real`: smooth as in the printed almanacs, or with its mountains"
	if !c.BothLimbs {
		usage = "the Moon's edge, `mean`: this program knows no other than the smooth one"
	}
	fs.Var(limbFlag{&c.Limb, c.BothLimbs}, "limb", usage)
}

func (f limbFlag) String() string {
	if f.limb == nil { // the flag package asks a zero value
		return ""
	}
	return f.limb.String()
}

func (f limbFlag) Set(s string) error {
	switch {
	case s == "mean":
		*f.limb = Mean
	case s == "real" && f.both:
		*f.limb = Real
	case s == "real":
		return errors.New("this program knows the smooth Moon only, use -limb mean")
	case f.both:
		return errors.New("want mean or real")
	default:
		return errors.New("want mean")
	}
	return nil
}
