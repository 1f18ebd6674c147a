package station

import "testing"

// Where the light goes before the day does, by an eclipse or a lid, that is no dusk.
func TestNoDuskBeforeEvening(t *testing.T) {
	m := wholeDay()
	rep, _ := m.reduce(t)
	if noon := rep.Health.Sky.NoonOffsetMin; noon == nil || !(*noon > -5 && *noon < 5) {
		t.Errorf("the clear day's noon is off by %v min", noon)
	}
	m = wholeDay()
	m.reading = func(lux float64, i int) float64 {
		if i > 9000 { // from 09:00
			return lux / 5000
		}
		return lux
	}
	rep, _ = m.reduce(t)
	if noon := rep.Health.Sky.NoonOffsetMin; noon != nil {
		t.Errorf("a lid at nine makes a noon that is off by %g min", *noon)
	}
}
