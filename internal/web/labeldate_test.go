package web

import (
	"net/url"
	"strings"
	"testing"

	"ebbline/record"
)

// Three boxes become the date that the label means, or are refused; what was
// typed stands in them again.
func TestDateOffALabel(t *testing.T) {
	for _, c := range []struct{ year, month, day, want string }{
		{"2027", "1", "31", "2027-01-31"},
		{"2027", "02", "", "2027-02-28"},
		{"2028", "2", "00", "2028-02-29"}, // 00 is how codes write “no day”
		{"2028", "02", "00", "2028-02-29"},
		{" 2027 ", "Nov", "", "2027-11-30"},
		{"2027-11-30", "", "", "2027-11-30"}, // pasted, or from a scanner
		{"11/2027", "", "", "2027-11-30"},
		{"", "", "", ""},
		{"27", "11", "30", "is not accepted"},
		{"2207", "01", "31", "2000 to 2099"},
		{"2027", "", "11", "is not accepted"}, // not November
		{"2027", "", "", "is not accepted"},
		{"", "11", "30", "is not accepted"},
		{"2027", "13", "", "a month from 1 to 12"},
		{"2027", "2", "29", "is not accepted"},
		{"2027", "2", "0", "is not accepted"},
		{"03/04/2027", "", "", "3 April 2027"},
	} {
		sent := url.Values{"expiry.year": {c.year}, "expiry.month": {c.month}, "expiry.day": {c.day}}
		typed := typedBoxes(sent, "expiry")
		joinBoxes(sent, "expiry")
		got, bad := readExpiry(sent.Get("expiry"))
		if bad != nil {
			got = refusal(bad)
		}
		if got != c.want && (c.want == "" || !strings.Contains(got, c.want)) {
			t.Errorf("%v reads %q, want %q", typed, got, c.want)
		}
		if b := boxesOf("expiry", "x", "", typed); b.Year != typed[0] || b.Month != typed[1] || b.Day != typed[2] {
			t.Errorf("%v comes back as %+v", typed, b)
		}
	}
}

// Every form that asks for a date off a label asks in three boxes, takes it, and
// takes the same date again in boxes of their own.
func TestDatesAreTypedInBoxes(t *testing.T) {
	h := home(t, 2, false)
	h.stocked()
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	for _, page := range []string{base + "/supply", base + "/chlorine", base + "/bath_label", base + "/flush_drawn", base + "/anaesthetic_drawn", base + "/heparin_drawn?strength_iu_ml=1000"} {
		_, text := h.get(page)
		if i := strings.Index(text, `id="typed"`); i > 0 {
			text = text[i:] // the rows of what is opened have boxes of their own
		}
		for _, box := range []string{"year", "month", "day"} {
			if strings.Count(text, `name="expiry.`+box+`"`) != 1 {
				t.Errorf("%s: the box of the %s stands there %d times", page, box, strings.Count(text, `name="expiry.`+box+`"`))
			}
		}
		if strings.Contains(text, `name="expiry"`) {
			t.Errorf("%s has a second way to type the date", page)
		}
	}
	old := h.now.AddDate(0, -1, 0)
	form := []string{"item", "gauze", "lot", "G1", "expiry.year", old.Format("2006"), "expiry.month", old.Format("1"), "expiry.day", ""}
	h.refused(base+"/supply", "do not open it", form...)
	_, _, text := h.post(base+"/supply", formOf(form...))
	for _, want := range []string{`name="again.expiry.year"`, `name="again.expiry.month"`, `name="again.expiry.day"`, `value="` + old.Format("2006") + `"`, `value="` + old.Format("01") + `"`} {
		if !strings.Contains(text, want) {
			t.Errorf("the form that came back lacks %s", want)
		}
	}
	// What was typed is marked as asked about, not the blank boxes below it.
	if n := strings.Count(text, `aria-describedby="p-supply-expiry"`); n != 3 {
		t.Errorf("%d boxes are described by the question", n)
	}
	h.refused(base+"/supply", "and then as", append(form, "again.expiry.year", old.Format("2006"), "again.expiry.month", old.AddDate(0, -1, 0).Format("1"), "again.expiry.day", "")...)
	h.saved(base+"/supply", append(form, "again.expiry.year", old.Format("2006"), "again.expiry.month", old.Format("01"), "again.expiry.day", "")...)

	h.refused(vida+"/shelf/delivery", "cannot be read", "item.0", "needle", "lot.0", "N1", "expires.0.year", "2027", "expires.0.month", "", "expires.0.day", "12", "pieces.0", "5")
	h.saved(vida+"/shelf/delivery", "item.0", "needle", "lot.0", "N1", "expires.0.year", "2027", "expires.0.month", "4", "expires.0.day", "", "pieces.0", "5")
	h.saved(vida+"/shelf/count/needle", "item", "needle", "lot.0", "N2", "expires.0.year", "2028", "expires.0.month", "2", "expires.0.day", "00", "pieces.0", "6")
	h.desk.View(func(rec *record.Household) {
		d := rec.Upkeep.Deliveries[len(rec.Upkeep.Deliveries)-1].Value.Lines[0]
		c := rec.Upkeep.Counts[len(rec.Upkeep.Counts)-1].Value.Lots[0]
		if d.Expires.String() != "2027-04-30" || c.Expires.String() != "2028-02-29" {
			t.Errorf("delivered to %s, counted to %s", d.Expires, c.Expires)
		}
	})
}
