// Package disc is the geometry of one disc in front of another: how much of the
// Sun is covered, and how much of its light.
//
// # Two numbers
//
// The unit of length is the radius of the source, the Sun. Seen from the ground
// two numbers say everything: p, the radius of the occulting Moon (0.94 to 1.06 as
// eclipses go), and z, the distance between the two centres. Nothing else has a
// place here, neither clock nor site nor direction. The discs touch from outside at
// z = 1 + p, first and last contact; they touch from inside at z = |1 - p|, second
// and third contact, where totality begins if p > 1 and the ring closes if p < 1.
//
// [Overlap] gives the covered part of the area, which eclipse tables call
// obscuration. The light that is left is another matter, because the Sun's disc is
// darker at its limb than at its middle. A [Law] describes that as a function of mu,
// the cosine of the angle between the line of sight and the vertical on the Sun's
// surface,
//
//	mu = sqrt(1 - r^2)
//
// with r the distance from the centre of the disc, and [Law.Flux] integrates it
// over what the Moon leaves free:
//
//	law, err := disc.NeckelLabs(550)   // brightness at 550 nm, as measured
//	if err != nil {
//		return err                     // the wavelength is outside the table
//	}
//	lost := disc.Overlap(1.03, 0.5)    // part of the area
//	left := law.Flux(1.03, 0.5)        // part of the light
//
// With nine tenths of the area covered a uniform Sun would have 10 % of its light
// left. The real one has 7 %: the crescent is all limb.
//
// # Method
//
// Let H(mu) be the integral of I(m) m dm from 0 to mu, the light of the ring
// between mu and the limb. By Green's theorem the light beyond the Moon's edge is
// the integral of H over the angle that the edge sweeps about the Sun's centre. With
// psi the angle about the Moon's centre instead,
//
//	light = 1/2 integral of H (1 + (p^2 - z^2)/r^2) d psi
//
// over the part of the edge that lies on the disc. Even powers of mu in the law
// give polynomials in cos psi, and closed forms. Odd powers give elliptic
// integrals, of all three kinds; but the third kind, which flashes up where the
// edge passes near the Sun's centre, splits off exactly as half the disc's light,
// and the rest is so smooth that six to ten nodes of Gauss and Chebyshev give it
// to twelve digits. Only near the inner contact of an annular eclipse is it not;
// there Gauss' (Landen's) transformation, which doubles the exponent of the small
// number at each step, makes it so. The crescent before totality is summed without
// any subtraction, so that the last millionth of light has its digits too. The power
// law goes the same way with more nodes.
//
// # Accuracy
//
// Overlap is good to 1e-14 of the disc's area for radii from 1e-9 to 1e100, at and
// beside every tangency (worst of 3133 pairs against 1200-bit arithmetic: 7.5e-16).
// Flux is good to 3e-12 of the disc's light with a polynomial and 1e-13 with a
// power law (worst of 210 pairs a law against adaptive integration over rings,
// radii 0.01 to 10, half of them at a contact or through the centre: 1.0e-12 for
// mu^5 alone, 2e-13 for the published laws; worst of 1200 pairs over all presets,
// radii 1e-8 to 1e8: 2e-14). All 441 values of a table integrated at 30 digits
// (testdata/references/eclipse_lightcurve_check.csv) agree to the rounding of its
// twelve. In a crescent, 0.04 to 1e-6 solar radii before totality, the relative
// error is 1e-11 and what rounding p - z costs.
//
// # Speed
//
// A flux with a fifth-order law, over whole eclipses, takes six times a
// math.Sincos with a math.Sqrt and a cubic, next to an annular contact twenty
// times, and no allocation (go test -bench Flux). The power law takes thirty times as long.
//
// # Limits
//
// Both discs are plane and round: no mountains on the Moon, which decide the last
// seconds of light, and no spots on the Sun. The laws are those of the
// photosphere's continuum, measured from 303 to 1099 nm, and are extrapolated
// within a few seconds of arc of the limb: polynomials are not to be trusted below
// mu = 0.02, a fifth of a second of arc inside it. One row of Neckel & Labs, at
// 365.875 nm, was handed down with coefficients that add up to 0.998; it is divided
// by that, and its [Preset.Note] says so. A quadratic is about 0.01 too bright
// at mu = 0.1 against the fifth-order fits. Neither corona nor chromosphere shines.
//
// # Sources
//
// K. Mandel & E. Agol, ApJ 580 (2002) L171; E. Agol, R. Luger & D. Foreman-Mackey,
// AJ 159 (2020) 123; H. Neckel & D. Labs, Solar Physics 153 (1994) 91; A. K. Pierce
// & C. D. Slaughter, Solar Physics 51 (1977) 25; D. Hestroffer & C. Magnan, A&A 333
// (1998) 338; NIST Handbook of Mathematical Functions (2010), chapter 19.
package disc
