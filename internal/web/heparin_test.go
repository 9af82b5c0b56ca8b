package web

import (
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// withU is a dose with the letter that was read as a nought; bare is a dose
// whose point stands without a digit before or behind it, or that ends in a
// nought behind it.
var (
	withU = regexp.MustCompile(`\d\s*(U|u|iu|i\.u\.)\b`)
	bare  = regexp.MustCompile(`(^|[^\d.])\.\d+\s?(IU|mL|mg)|\d\.0*\s?(IU|mg)\b`)
)

// Heparin by the page: every strength gives the volume that holds the
// prescribed dose; without a strength there is no volume; a strength that is
// another than last time stops until the label was read again; and volumes that
// do not hold the dose are refused (H-55, H-56).
func TestHeparinMatrix(t *testing.T) {
	h := home(t, 2, false) // 2,000 IU, then 600 IU/h over 250 − 45 min, from vials of 1,000 IU/mL
	tried := 0
	for _, tt := range []struct {
		strength    string
		bolus, line string // mL
	}{
		{"1000", "2", "2.05"}, {"500", "4", "4.1"}, {"5000", "0.4", "0.41"}, {"10000", "0.2", "0.21"}, {"25000", "0.08", "0.08"},
	} {
		base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
		h.later(time.Minute)
		page := base + "/heparin_drawn"
		if text := plainText(mainOf(h.see(page))); regexp.MustCompile(`\d mL`).MatchString(text) {
			t.Errorf("a volume is shown before a strength is typed: %s", text)
		}
		text := h.see(page + "?strength_iu_ml=" + tt.strength)
		changed := tt.strength != "1000"
		if changed {
			for _, again := range []string{"", "1000", tt.strength + "0", "many"} {
				text := mainOf(h.see(page + "?strength_iu_ml=" + tt.strength + "&label_read_again_iu_ml=" + again))
				if words := plainText(text); regexp.MustCompile(`\d mL`).MatchString(words) || strings.Contains(text, "bolus_ml") || !strings.Contains(words, "Read the label") {
					t.Errorf("%s IU/mL, typed again %q: %s", tt.strength, again, words)
				}
			}
			text = h.see(page + "?strength_iu_ml=" + tt.strength + "&label_read_again_iu_ml=" + tt.strength)
		}
		if words := plainText(text); withU.MatchString(words) || bare.MatchString(words) {
			t.Errorf("%s IU/mL: the page writes %q %q", tt.strength, withU.FindString(words), bare.FindString(words))
		}
		form := fieldsOf(t, text[strings.Index(text, `<form method="post" action="`+base):], page)
		if form.Get("bolus_ml") != tt.bolus || form.Get("line_ml") != tt.line || form.Get("bolus_iu") != "2000" || form.Get("line_iu") != "2050" {
			t.Errorf("%s IU/mL: %s mL and %s mL for %s and %s IU; want %s and %s", tt.strength, form.Get("bolus_ml"), form.Get("line_ml"), form.Get("bolus_iu"), form.Get("line_iu"), tt.bolus, tt.line)
		}
		form.Set("expiry", "2027-01")
		if status, _, text := h.post(page, form); status != http.StatusUnprocessableEntity || !strings.Contains(text, "lot is still blank") {
			t.Errorf("%s IU/mL without a lot: %d %s", tt.strength, status, problems(text))
		}
		form.Set("lot", "H1")
		if _, asks := form["label_read_again_iu_ml"]; asks != changed {
			t.Errorf("%s IU/mL: the label was read again: %v", tt.strength, asks)
		}
		if changed {
			for _, again := range []string{"", "1000", tt.strength + "0"} {
				form.Set("label_read_again_iu_ml", again)
				if status, _, text := h.post(page, form); status != http.StatusUnprocessableEntity || strings.Contains(text, `name="bolus_ml"`) {
					t.Errorf("%s IU/mL with %q read off the label again: %d", tt.strength, again, status)
				}
			}
			form.Set("label_read_again_iu_ml", tt.strength)
		}
		for _, factor := range []float64{0.1, 0.5, 5, 10} {
			wrong := form
			right := wrong.Get("bolus_ml")
			var ml float64
			fmt.Sscan(right, &ml)
			wrong.Set("bolus_ml", strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.2f", ml*factor), "0"), "."))
			if status, _, _ := h.post(page, wrong); wrong.Get("bolus_ml") != right && status != http.StatusUnprocessableEntity {
				t.Errorf("%s IU/mL: %s mL in the place of %s: %d", tt.strength, wrong.Get("bolus_ml"), right, status)
			}
			wrong.Set("bolus_ml", right)
			tried++
		}
		if status, _, text := h.post(page, form); status != http.StatusSeeOther {
			t.Errorf("%s IU/mL as it should be: %d\n%s", tt.strength, status, problems(text))
		}
		var opened string
		h.desk.View(func(r *record.Household) {
			one := r.Session(base[strings.LastIndex(base, "/")+1:])
			want := session.Ready
			if changed { // another than prescribed, though the dose is right
				want = session.Look
			}
			for _, c := range session.StartLine(one, r.Member("p-vida-hribar").History(one), h.now) {
				if c.ID == session.CheckHeparin && c.State != want {
					t.Errorf("%s IU/mL: the start line says %s: %s", tt.strength, c.State, c.Words)
				}
			}
			opened = one.Log[0].ID
		})
		// This session is given up, so that the next vial is held against the same past.
		h.keep("p-vida-hribar", &record.Struck{Entry: opened, Reason: "tried another vial"})
		h.later(time.Hour)
	}
	if tried < 20 {
		t.Errorf("only %d wrong volumes", tried)
	}
}

// Heparin is held back by the start line when a fall, a bleed or a procedure
// was told of, until the unit was rung (H-57).
func TestHeparinIsHeldBack(t *testing.T) {
	for _, tick := range []string{"bleeding", "blood_thinner", "fall", "procedure"} {
		h := home(t, 1, false)
		base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
		h.later(time.Minute)
		if text := h.see(base + "/heparin_drawn"); strings.Contains(text, "Hold heparin") {
			t.Error("held back before anything was told")
		}
		h.saved(base+"/fitness", tick, "yes", "rang", "the unit: to be decided")
		h.says(base+"/heparin_drawn?strength_iu_ml=1000", "Hold heparin") // where it is drawn up, not only at the start
		h.saved(base+"/heparin_drawn", "strength_iu_ml", "1000", "bolus_iu", "2000", "line_iu", "2050", "bolus_ml", "2", "line_ml", "2.05", "lot", "H1", "expiry", "2027-01-31")
		h.says(base, "Hold heparin")
		if status, _, text := h.post(base+"/connected", formOf()); status != http.StatusUnprocessableEntity || !strings.Contains(text, "Hold heparin") {
			t.Errorf("%s: treatment began with heparin: %d %s", tick, status, problems(text))
		}
	}
}
