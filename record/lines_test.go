package record

import (
	"slices"
	"strings"
	"testing"

	"ebbline/session"
	"ebbline/unit"
)

// What is said beside a plan goes through its form sentence by sentence, and a
// list of words word by word.
func TestListsThroughAForm(t *testing.T) {
	for _, tt := range []struct {
		kind, key string
		of        func(body any) *[]string
		want      []string
	}{
		{"plan", "cautions", func(b any) *[]string { return &b.(*session.AgreedPlan).Cautions }, []string{"Weight is 90 min old. Weigh again, then plan.", "Goal is over 4 L."}},
		{"plan", "cautions", func(b any) *[]string { return &b.(*session.AgreedPlan).Cautions }, []string{"Goal is over 4 L."}},
		{"prescription", "days", func(b any) *[]string { return &b.(*session.Prescription).Days }, []string{"mon", "wed", "fri"}},
	} {
		k, ok := Find(tt.kind)
		if !ok {
			t.Fatalf("no kind %s", tt.kind)
		}
		sent := k.New()
		*tt.of(sent) = tt.want
		f, _ := k.Field(tt.key)
		got, _ := k.FromForm(func(key string) []string {
			if key == tt.key {
				return []string{f.Typed(sent)}
			}
			return nil
		})
		if list := *tt.of(got); !slices.Equal(list, tt.want) {
			t.Errorf("%s of %s: %q came back as %q", tt.key, tt.kind, tt.want, list)
		}
	}
}

// A number of the kidney unit stands on the emergency card, so it can be
// dialled; what one tap could not dial whole is asked about.
func TestTelephoneOfTheUnit(t *testing.T) {
	b := newBook(t)
	u := KidneyUnit{Name: "Unit by the mill (invented)", Day: "1", Night: "2", Ambulance: "3"}
	for key, number := range map[string]*string{"day_phone": &u.Day, "night_phone": &u.Night, "technician_phone": &u.Technician, "ambulance_phone": &u.Ambulance} {
		old := *number
		*number = "ask"
		one := u
		b.refuses(Refuse, key, "no digit", b.house("kidney_unit", &one))
		*number = old
	}
	for number, words := range map[string]string{
		"112, then ask for the ward": "a tap would dial 112", "5550 / 5551": "a tap would dial 5550", "(000) 5550": "no tap would dial it",
	} {
		u.Night = number
		e := b.house("kidney_unit", &u)
		b.refuses(Ask, "night_phone", words, e)
		e.Again = map[string]string{"night_phone": number}
		if found := b.try(e); len(found) > 0 {
			t.Errorf("%s, typed again: %v", number, found)
		}
	}
}

// What would close a question without an answer, and a start ten times too
// slow, do not pass unasked; a scale with a capital letter is the same scale.
func TestSlipsOfATiredHand(t *testing.T) {
	b := newBook(t)
	b.open("session-1")
	b.must("weigh_in", "session-1", &session.WeighIn{Weight: 74100, Scale: "bathroom", ReadIn: "kg"})
	slow, held := unit.Flow(32), unit.Minutes(12)
	b.refuses(Ask, "blood_flow_ml_min", "outside 50 to 500", b.entry("connected", "session-1", &session.Connected{BloodFlow: &slow}))
	b.refuses(Refuse, "arterial_min", "blank", b.entry("holding", "session-1", &session.Holding{}))
	if found := b.try(b.entry("holding", "session-1", &session.Holding{Venous: &held})); found.On("arterial_min") != "" {
		t.Errorf("one site held: %v", found)
	}
	for scale, asked := range map[string]bool{"Bathroom ": false, "chair": true} {
		found := b.try(b.entry("weigh_out", "session-1", &session.WeighOut{Weight: 72_000, Scale: scale}))
		if got := found.On("scale") != ""; got != asked {
			t.Errorf("weighed out on %q: %v", scale, found)
		}
	}
	one := b.try(b.entry("weigh_in", "session-1", &session.WeighIn{Weight: 47_600, Scale: "bathroom", ReadIn: "kg"}))
	if words := one.On("weight_kg"); strings.Contains(words, "a gain that") || !strings.Contains(words, "below the dry weight") {
		t.Errorf("far below the dry weight: %q", words)
	}
}
