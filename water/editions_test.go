package water

import (
	"errors"
	"strings"
	"testing"

	"ebbline/unit"
)

// The table of ISO 23500-3:2019 as its quotations print it, spelled out apart
// from the data; "M" marks those that are from memory here too.
var isoTable = []struct {
	what   Substance
	max    float64
	status Status
}{
	// Table 1: documented toxicity in haemodialysis.
	{Aluminium, 0.01, Read},
	{TotalChlorine, 0.1, Read},
	{Copper, 0.1, Read},
	{Fluoride, 0.2, Read},
	{Lead, 0.005, Read},
	{Nitrate, 2, Read}, // as N
	{Sulfate, 100, Read},
	{Zinc, 0.1, Read},
	// Table 1: electrolytes that the dialysis fluid also holds.
	{Calcium, 2, Read},
	{Magnesium, 4, Read},
	{Potassium, 8, Read},
	{Sodium, 70, Read},
	// Table 2: other trace elements.
	{Antimony, 0.006, FromMemory},
	{Arsenic, 0.005, Read},
	{Barium, 0.1, Read},
	{Beryllium, 0.0004, FromMemory},
	{Cadmium, 0.001, Read},
	{Chromium, 0.014, Read},
	{Mercury, 0.0002, Read},
	{Selenium, 0.09, Read},
	{Silver, 0.005, Read},
	{Thallium, 0.002, FromMemory},
}

func TestISOTable(t *testing.T) {
	for _, name := range []string{ISO2019, ISO2014} {
		e := edition(t, name)
		for _, use := range []Use{Standard, Ultrapure} {
			if got := len(e.Limits(use)); got != len(isoTable)+2 {
				t.Errorf("%s, %s: %d limits, want %d and two for microbes", name, use, got, len(isoTable))
			}
			for _, row := range isoTable {
				l, ok := e.Limit(row.what, use)
				if !ok || l.Max != row.max || l.Status != row.status || l.Unit != MgPerL || l.Exclusive || l.Action != 0 {
					t.Errorf("%s: %s = %+v, want up to %v mg/L, %s", name, row.what, l, row.max, row.status)
				}
				if !strings.Contains(l.Source, strings.TrimSuffix(name, ":2019")) || l.Edition != name || l.Date == "" || l.Setter != "ISO" || l.Kind != IsStandard {
					t.Errorf("%s: %s says neither where it is from nor who set it: %+v", name, row.what, l)
				}
			}
		}
	}
}

func TestMicrobialLimits(t *testing.T) {
	for _, tt := range []struct {
		edition     string
		use         Use
		what        Substance
		max, action float64
	}{
		{ISO2019, Standard, ViableCount, 100, 50},
		{ISO2019, Standard, Endotoxin, 0.25, 0.125},
		{ISO2019, Ultrapure, ViableCount, 0.1, 0},
		{ISO2019, Ultrapure, Endotoxin, 0.03, 0},
		{Fluid2019, Standard, ViableCount, 100, 50},
		{Fluid2019, Standard, Endotoxin, 0.5, 0.25},
		{Fluid2019, Ultrapure, ViableCount, 0.1, 0},
		{Fluid2019, Ultrapure, Endotoxin, 0.03, 0},
		{RD52, Standard, ViableCount, 200, 50}, // US Medicare rule
		{RD52, Standard, Endotoxin, 2, 1},
	} {
		l, ok := edition(t, tt.edition).Limit(tt.what, tt.use)
		if !ok || l.Max != tt.max || l.Action != tt.action || !l.Exclusive {
			t.Errorf("%s, %s: %s = %+v; want less than %v, action %v", tt.edition, tt.use, tt.what, l, tt.max, tt.action)
		}
	}
}

func TestProposalIsMarked(t *testing.T) {
	e := edition(t, Proposal)
	for what, max := range map[Substance]float64{Magnesium: 1, Potassium: 2, Sodium: 50, Calcium: 2, Lead: 0.005} {
		l, _ := e.Limit(what, Standard)
		moved := what == Magnesium || what == Potassium || what == Sodium
		if l.Max != max || (l.Kind == IsProposal) != moved {
			t.Errorf("%s: %+v; want %v, proposal %v", what, l, max, moved)
		}
	}
	if e.Kind != IsProposal {
		t.Errorf("the edition itself is called %q", e.Kind)
	}
}

func TestUnknownEdition(t *testing.T) {
	_, err := FindEdition("ISO 23500-3:2024")
	if err == nil {
		t.Fatal("an edition that is not kept was found")
	}
	for _, name := range EditionNames() {
		if !strings.Contains(err.Error(), name) {
			t.Errorf("the refusal does not offer %s: %v", name, err)
		}
	}
}

// A switch of edition judges anew and leaves the old judgement as it was.
func TestEditionSwitch(t *testing.T) {
	sodium := Result{What: Sodium, Op: Equal, Value: 60, Unit: MgPerL}
	old, err := edition(t, ISO2019).Judge(Standard, sodium)
	if err != nil {
		t.Fatal(err)
	}
	now, err := edition(t, Proposal).Judge(Standard, sodium)
	if err != nil {
		t.Fatal(err)
	}
	if old.Verdict != Within || old.Limit.Max != 70 || old.Limit.Edition != ISO2019 {
		t.Errorf("old judgement: %+v", old)
	}
	if now.Verdict != Over || now.Limit.Max != 50 || now.Limit.Edition != Proposal {
		t.Errorf("new judgement: %+v", now)
	}
}

func TestWithUnit(t *testing.T) {
	iso := edition(t, ISO2019)
	own, err := iso.WithUnit("Dr Example", "2026-03-03",
		Limit{What: ViableCount, Use: Ultrapure, Max: 0.1, Action: 0.05},
		Limit{What: TotalChlorine, Use: Standard, Max: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	l, _ := own.Limit(ViableCount, Ultrapure)
	if l.Action != 0.05 || !l.Exclusive || l.Unit != CFUPerML || l.Kind != IsUnitSet || l.Setter != "Dr Example" || l.Date != "2026-03-03" {
		t.Errorf("the unit's limit: %+v", l)
	}
	if l, _ := iso.Limit(TotalChlorine, Standard); l.Max != 0.1 {
		t.Errorf("the standard's own table was changed: %+v", l)
	}
	for name, bad := range map[string]Limit{
		"no limit":          {What: Lead, Use: Standard},
		"action over limit": {What: ViableCount, Use: Standard, Max: 100, Action: 100},
		"unknown":           {What: "gold", Use: Standard, Max: 1},
	} {
		if _, err := iso.WithUnit("Dr Example", "2026-03-03", bad); !errors.As(err, new(*unit.InputError)) {
			t.Errorf("%s: err = %v, want an InputError", name, err)
		}
	}
	if _, err := iso.WithUnit(" ", "2026-03-03"); err == nil {
		t.Error("limits of nobody were taken")
	}
}

func TestWithDrinkingWater(t *testing.T) {
	iso := edition(t, ISO2019)
	local, err := iso.WithDrinkingWater("an invented rule", "2026",
		Limit{What: Selenium, Use: Standard, Max: 0.01},
		Limit{What: Copper, Use: Standard, Max: 2})
	if err != nil {
		t.Fatal(err)
	}
	if l, _ := local.Limit(Selenium, Standard); l.Max != 0.01 || l.Kind != IsLocalLaw {
		t.Errorf("the lower rule does not count: %+v", l)
	}
	if l, _ := local.Limit(Copper, Standard); l.Max != 0.1 {
		t.Errorf("the higher rule counts: %+v", l)
	}
}

func edition(t *testing.T, name string) Edition {
	t.Helper()
	e, err := FindEdition(name)
	if err != nil {
		t.Fatal(err)
	}
	return e
}
