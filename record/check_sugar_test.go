package record

import (
	"testing"

	"ebbline/session"
	"ebbline/unit"
)

// The bounds of a blood sugar in each unit, with their neighbours; a number that only the
// other unit explains is refused in its words, one that both explain is asked about (H-143).
func TestBoundsOfSugar(t *testing.T) {
	b := newBook(t)
	b.open("session-01")
	mmol := func(v unit.Molar) *session.Glucose { return &session.Glucose{Value: &v} }
	mg := func(v unit.MgPerDl) *session.Glucose { return &session.Glucose{Mg: &v} }
	const m, d = "glucose_mmol_l", "glucose_mg_dl"
	for _, tt := range []struct {
		name  string
		body  *session.Glucose
		field string
		step  Step
		words string
	}{
		{"5.2 mmol/L", mmol(520), "", "", ""},
		{"a low one is not held up", mmol(150), "", "", ""},
		{"under 1.5", mmol(149), m, Ask, "outside 1.5 to 20"},
		{"0.5", mmol(50), m, Ask, "outside"},
		{"under 0.5", mmol(49), m, Refuse, "needs 0.5 to 35"},
		{"20", mmol(2000), "", "", ""},
		{"over 20", mmol(2001), m, Ask, "Does your meter show mg/dL?"},
		{"35", mmol(3500), m, Ask, "Does your meter show mg/dL?"},
		{"over 35", mmol(3501), m, Refuse, "Is it mg/dL?"},
		{"95 as mmol/L", mmol(9500), m, Refuse, "Is it mg/dL?"},
		{"95 mg/dL", mg(950), "", "", ""},
		{"36 mg/dL", mg(360), "", "", ""},
		{"under 36", mg(359), d, Ask, "Does your meter show mmol/L?"},
		{"10 mg/dL", mg(100), d, Ask, "Does your meter show mmol/L?"},
		{"under 10", mg(99), d, Refuse, "Is it mmol/L?"},
		{"5.2 as mg/dL", mg(52), d, Refuse, "Is it mmol/L?"},
		{"360", mg(3600), "", "", ""},
		{"over 360", mg(3601), d, Ask, "outside 36 to 360"},
		{"630", mg(6300), d, Ask, "outside"},
		{"over 630", mg(6301), d, Refuse, "needs 10 to 630"},
		{"Lo", &session.Glucose{Shows: session.MeterLow}, "", "", ""},
		{"Hi", &session.Glucose{Shows: session.MeterHigh}, "", "", ""},
		{"another word", &session.Glucose{Shows: "err"}, "shows", Refuse, ""},
		{"nothing", &session.Glucose{}, m, Refuse, "still blank"},
		{"both units", &session.Glucose{Value: ptr(unit.Molar(520)), Mg: ptr(unit.MgPerDl(940))}, d, Refuse, "cannot stand beside"},
		{"a number and Lo", &session.Glucose{Value: ptr(unit.Molar(520)), Shows: session.MeterLow}, "shows", Refuse, "cannot stand beside"},
	} {
		if e := b.entry("glucose", "session-01", tt.body); tt.field != "" {
			t.Run(tt.name, func(t *testing.T) { b.refuses(tt.step, tt.field, tt.words, e) })
		} else if found := Check(b.h, e); len(found) > 0 {
			t.Errorf("%s: %v", tt.name, found)
		}
	}
}

// Its figure and its hours belong to the mark, and to who set them.
func TestSugarOfAPrescription(t *testing.T) {
	b := newBook(t)
	rx := aPrescription()
	rx.GlucoseLow = ptr(unit.Molar(450))
	b.refuses(Refuse, "glucose_marked", "is not ticked", b.entry("prescription", "", &rx))
	rx.GlucoseMarked, rx.GlucoseEvery = true, ptr(unit.Minutes(60))
	if found := Check(b.h, b.entry("prescription", "", &rx)); len(found) > 0 {
		t.Errorf("%v", found)
	}
	rx.SetBy = ""
	b.refuses(Refuse, "limits_set_by", "", b.entry("prescription", "", &rx))
}
