package water

import (
	"testing"

	"ebbline/unit"
)

// Two readings on the bound agree, a hundredth beyond it they do not, whichever
// of the two is the higher.
func TestApart(t *testing.T) {
	for _, tt := range []struct {
		machine, meter, most unit.Conductivity
		want                 bool
	}{
		{1400, 1400, MeterApart, false},
		{1400, 1360, MeterApart, false},
		{1360, 1400, MeterApart, false},
		{1400, 1359, MeterApart, true},
		{1359, 1400, MeterApart, true},
		{1400, 1380, 20, false},
		{1400, 1379, 20, true},
		{1400, 1350, 50, false}, // a unit may set it wider too
	} {
		if got := Apart(tt.machine, tt.meter, tt.most); got != tt.want {
			t.Errorf("%s and %s, most %s: %v", tt.machine, tt.meter, tt.most, got)
		}
	}
}

func TestConductivityFromTheSetValue(t *testing.T) {
	far := []unit.Conductivity{1200, 1200, 1200, 1200, 1200, 1200} // says nothing where a value is set
	for _, tt := range []struct {
		v, set unit.Conductivity
		want   FluidStanding
		low    unit.Conductivity
	}{
		{1400, 1400, FluidNear, 1360},
		{1440, 1400, FluidNear, 1360},
		{1441, 1400, FluidOff, 1360},
		{1360, 1400, FluidNear, 1360},
		{1359, 1400, FluidOff, 1360},
		{1470, 1400, FluidOff, 1360}, // 5 % of 14.00 is 0.70
		{1471, 1400, FluidWrong, 1330},
		{1330, 1400, FluidOff, 1360},
		{1329, 1400, FluidWrong, 1330},
		{1260, 1400, FluidWrong, 1330},
		{1280, 1400, FluidWrong, 1330},
		{1417, 1350, FluidOff, 1310}, // 5 % of 13.50 is 0.675
		{1418, 1350, FluidWrong, 1283},
		{1282, 1350, FluidWrong, 1283},
		{1283, 1350, FluidOff, 1310},
		{1290, 1290, FluidNear, 1250}, // the unit may order what nobody else does
	} {
		got := Conductivity(tt.v, &tt.set, far)
		if got.FluidStanding != tt.want || got.Against != FluidSet || got.Middle != tt.set || got.Low != tt.low {
			t.Errorf("%s with %s set: %+v", tt.v, tt.set, got)
		}
	}
}

func TestConductivityWithoutASetValue(t *testing.T) {
	six := []unit.Conductivity{1390, 1401, 1380, 1410, 1395, 1600} // the middle two: 13.95 and 14.01
	for _, tt := range []struct {
		name   string
		v      unit.Conductivity
		before []unit.Conductivity
		want   FluidStanding
		by     FluidReference
	}{
		{"both meters, first", 1260, nil, FluidWrong, FluidOrdinary},
		{"both meters, second", 1280, nil, FluidWrong, FluidOrdinary},
		{"under 13.0", 1299, six, FluidWrong, FluidOrdinary},
		{"13.0", 1300, nil, FluidOff, FluidOrdinary},
		{"15.0", 1500, nil, FluidOff, FluidOrdinary},
		{"over 15.0", 1501, six, FluidWrong, FluidOrdinary},
		{"under 13.2 at first", 1319, nil, FluidOff, FluidOrdinary},
		{"13.2 at first", 1320, nil, FluidNear, FluidOrdinary},
		{"14.5 at first", 1450, six[:5], FluidNear, FluidOrdinary},
		{"over 14.5 at first", 1451, six[:5], FluidOff, FluidOrdinary},
		{"0.3 over the usual", 1428, six, FluidNear, FluidUsual},
		{"0.31 over the usual", 1429, six, FluidOff, FluidUsual},
		{"0.3 under the usual", 1368, six, FluidNear, FluidUsual},
		{"0.31 under the usual", 1367, six, FluidOff, FluidUsual},
		{"a usual of 13.1 is usual", 1310, []unit.Conductivity{1310, 1310, 1310, 1310, 1310, 1310}, FluidNear, FluidUsual},
		{"a usual that would let through what nobody connects to", 1510, []unit.Conductivity{1500, 1500, 1500, 1500, 1500, 1500}, FluidWrong, FluidOrdinary},
		{"the last six count", 1400, []unit.Conductivity{1310, 1310, 1310, 1310, 1400, 1400, 1400, 1400, 1400, 1400}, FluidNear, FluidUsual},
	} {
		if got := Conductivity(tt.v, nil, tt.before); got.FluidStanding != tt.want || got.Against != tt.by {
			t.Errorf("%s: %+v", tt.name, got)
		}
	}
	// A middle that lies between two hundredths: 13.955 ± 0.3.
	half := []unit.Conductivity{1395, 1396, 1390, 1400, 1390, 1400}
	for v, want := range map[unit.Conductivity]FluidStanding{1365: FluidOff, 1366: FluidNear, 1425: FluidNear, 1426: FluidOff} {
		if got := Conductivity(v, nil, half); got.FluidStanding != want {
			t.Errorf("%s against 13.955: %+v", v, got)
		}
	}
	if six[0] != 1390 || six[5] != 1600 {
		t.Error("the values given were put in another order")
	}
}

func TestHotAndSourFluid(t *testing.T) {
	for temperature, hot := range map[unit.Temperature]bool{360: false, 385: false, 386: true, 420: true} {
		if TooHot(temperature) != hot {
			t.Errorf("%s: %v", temperature.Text(), !hot)
		}
	}
	for ph, off := range map[unit.PH]bool{650: true, 689: true, 690: false, 730: false, 760: false, 761: true} {
		if PHOff(ph) != off {
			t.Errorf("pH %s: %v", ph, !off)
		}
	}
}
