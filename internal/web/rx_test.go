package web

import (
	"net/http"
	"strings"
	"testing"

	"ebbline/internal/simulate"
	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// phoned adds a version that came by telephone today.
func (h *house) phoned(person string) string {
	day := unit.DateOf(h.now)
	rx := simulate.Prescription(day.Add(-20))
	rx.OrderedBy, rx.OrderedOn, rx.ValidFrom, rx.How, rx.ReadBack = "Nurse K", day, day, "phone", true
	rx.DryWeight, rx.DrySetOn = 63_000, day
	return h.keep(person, &rx)[0]
}

// A phoned change is marked on every page that shows it until its paper
// confirms.
func TestPhonedUntilThePaper(t *testing.T) {
	h, ida := settled(t)
	id := h.phoned("person-ida")
	h.says(ida+"/", "came by telephone; the paper has not come yet")
	if n := strings.Count(h.see(ida+"/unit"), `<p class="look">`); n != 1 {
		t.Errorf("the unit page says it %d times", n)
	}
	h.says(ida+"/unit", "Paper awaited", "Nurse K", "by telephone, paper awaited")
	h.says(ida+"/prescription", "By telephone; the paper has not come.", "by telephone and read back", "Dry weight 63.5 kg 63 kg")
	paper := ida + "/prescription/" + id + "/paper"
	h.says(paper, "Hold the paper beside these values", "63 kg", "Nurse K")
	h.refused(paper, "is still blank", "signed_by", "Dr Q")
	h.refused(paper, "has not come yet", "signed_by", "Dr Q", "signed_on", "2026-06-12")
	h.saved(paper, "signed_by", "Dr Q", "signed_on", "2026-06-11")
	h.silent(ida+"/", "paper has not come")
	h.silent(ida+"/unit", "awaited")
	h.says(ida+"/prescription", "The paper came: signed by Dr Q on 11 June 2026")
	var first string
	h.member("person-ida", func(m *record.Member) { first = m.Prescriptions[0].ID })
	if status, _ := h.get(ida + "/prescription/" + first + "/paper"); status != http.StatusNotFound {
		t.Errorf("a paper for a version that came on paper: %d", status)
	}
}

func TestVersions(t *testing.T) {
	h, ida := settled(t)
	id := h.phoned("person-ida")
	rx := simulate.Prescription(unit.DateOf(h.now).Add(-20))
	rx.ValidFrom = unit.DateOf(h.now).Add(3)
	h.keep("person-ida", &rx)
	text := plainText(h.see(ida + "/prescription"))
	for _, words := range []string{"In force since 11 June 2026", "14 June 2026 Dr B. Zupan (invented), 19 May 2026 paper 63.5 kg 0 to come", "in force", "replaced"} {
		if !strings.Contains(text, words) {
			t.Errorf("the versions do not say %q", words)
		}
	}
	strike := ida + "/prescription/" + id + "/strike"
	h.refused(strike, "is still blank", "reason", "")
	h.refused(strike, "say in a word or two why", "reason", "x")
	h.saved(strike, "reason", "misheard, it was 63.5")
	h.says(ida+"/prescription", "struck out: misheard, it was 63.5", "In force since 22 May 2026")
	if status, _ := h.get(strike); status != http.StatusNotFound {
		t.Errorf("striking out twice: %d", status)
	}
	if status, _ := h.get(ida + "/prescription/no-such-version"); status != http.StatusNotFound {
		t.Errorf("a version that there is not: %d", status)
	}
}

// A limit that the unit has not set says so, with what the program does.
func TestOwnLimitsAreMarked(t *testing.T) {
	rx := simulate.Prescription(unit.NewDate(2026, 6, 1))
	own := map[string]bool{}
	for _, p := range readParts(&rx, session.OwnFor{}) {
		for _, line := range p.Values {
			if line.Own {
				own[line.Key] = true
				if p.ID != "limits" || line.Value == "" {
					t.Errorf("%s of %s is marked as the program's own: %q", line.Key, p.ID, line.Value)
				}
			}
		}
	}
	for _, key := range []string{"start_pulse_low_per_min", "start_pulse_high_per_min", "start_temperature_high_c", "act_tmp_above_mmhg", "check_after_low_min", "anaesthetic_max_mg", "below_dry_ring_kg"} {
		if !own[key] {
			t.Errorf("%s is not marked", key)
		}
		delete(own, key)
	}
	if len(own) > 0 {
		t.Errorf("marked though the unit set it: %v", own)
	}
	bare := readParts(&session.Prescription{}, session.OwnFor{})
	count := 0
	for _, line := range bare[len(bare)-1].Values {
		if line.Own {
			count++
		}
	}
	if count != 17 { // every limit; who and when set none
		t.Errorf("%d limits of nobody", count)
	}
	h, ida := settled(t)
	h.says(ida+"/prescription", "7 lines are not set by your unit", "not set by your unit uses 37.8 °C", "not set by your unit counts up to 3 mg for each kg, 200 mg at most")
	h.says(ida+"/unit", "set by Dr B. Zupan (invented) on 19 May 2026", "7 lines stand on the program’s own figure")
}

// Having read a change is kept once, and leads to the session.
func TestChangeSeen(t *testing.T) {
	h := home(t, 1, false)
	var changed *record.Rx
	h.phoned("p-vida-hribar")
	h.member("p-vida-hribar", func(m *record.Member) { changed = m.Prescriptions[len(m.Prescriptions)-1] })
	h.says(vida+"/", "The prescription changed since your last session")
	for range 2 {
		if to := h.saved(vida + "/prescription/" + changed.ID + "/seen"); to != vida+"/session" {
			t.Errorf("to %s", to)
		}
	}
	h.member("p-vida-hribar", func(m *record.Member) {
		if m.Rx(changed.ID).Seen == nil {
			t.Error("it was not kept")
		}
	})
	h.silent(vida+"/", "The prescription changed since your last session")
	if status, _, _ := h.post(vida+"/prescription/nothing-here/seen", formOf()); status != http.StatusNotFound {
		t.Errorf("an unknown version: %d", status)
	}
}
