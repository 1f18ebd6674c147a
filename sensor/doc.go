// Package sensor turns the counts of a light sensor into lux, and lux into
// counts, and says how sure that is.
//
// # The divider
//
// A microcontroller reads a voltage, not a resistance. A photoresistor and a
// fixed load in series across the supply make one:
//
//	            cell on top            cell at the bottom
//	supply ---- cell ----+             supply ---- load ----+
//	                     |                                  |
//	                     +--- ADC                           +--- ADC
//	                     |                                  |
//	ground ---- load ----+             ground ---- cell ----+
//
//	V/supply = load/(load + cell)      V/supply = cell/(load + cell)
//
// On top the counts rise with light, at the bottom they fall. The converter's
// own input resistance lies across the lower part and counts as part of it. Where
// the converter measures against the supply itself ("ratiometric") the supply
// cancels. The cell's resistance falls with light as a power,
//
//	R = R10 (E / 10 lx)^-gamma,  in parallel with its dark resistance
//
// and a phototransistor's current rises in proportion to it until the voltage
// across the load has used up the supply. A digital sensor gives lux itself.
//
// A [Chain] describes the parts; Compile checks it once and gives a [Converter]:
//
//	chain := sensor.Chain{
//		ADC:    sensor.ADC{Bits: 12, ReferenceV: 3.3, Ratiometric: true},
//		Divider: &sensor.Divider{SupplyV: 3.3, LoadOhm: 1000, CellOnTop: true,
//			Cell: sensor.Photoresistor{R10Ohm: 10e3, Gamma: 0.7}},
//	}
//	c, err := chain.Compile()
//	r := c.Lux(2929)  // 1000 lx, with its uncertainty and a status
//
// # Uncertainty
//
// A [Reading] carries a standard uncertainty after JCGM 100:2008 (GUM): what the
// counting does to one reading and no other (RandomU), and what the parts'
// tolerances do to all readings alike (the rest of LuxU). The two must be kept
// apart: a load that is 5 % off shifts a whole log, and moves no eclipse in time.
// A reading at a rail of the converter is a bound: its Status says so and Lux
// holds the bound.
//
// The propagation is linear in the logarithm of the light. Where one step of
// counts is more than a third of the light, at the dark end, the true spread is
// lopsided and RandomU is no more than an indication.
//
// # Limits
//
// Catalogue curves of photoresistors hold between about 1 and 1000 lx; in full
// Sun they are an extrapolation. Their reading depends on the light seen before,
// for minutes, and on temperature, up to 1 % a kelvin in dim light. Two cells of
// one type differ by a factor of two: calibrate yours.
//
// # Wiring
//
// Keep to the supply's rated voltage, fuse or limit a battery that can deliver
// more than the wiring bears, and let nobody without training work on anything
// that is connected to the mains: local codes and qualified people come first.
package sensor
