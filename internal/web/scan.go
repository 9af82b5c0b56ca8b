package web

import (
	"errors"
	"net/http"
	"regexp"
	"strings"

	"ebbline/record"
	"ebbline/stock"
	"ebbline/unit"
)

// readLabel takes a lot field that holds what a scanner read off a box, or what
// somebody typed from it, apart: the lot goes into the lot field, the expiry
// into its own. A date as labels print it is put into the form that the record
// reads; one that can be read in two ways is refused with both.
func (s *server) readLabel(r *http.Request, kind *record.Kind) record.Findings {
	var found record.Findings
	if _, ok := kind.Field("lot"); ok {
		found = append(found, s.readCode(r, kind)...)
	}
	for _, key := range []string{"expiry", "expires"} {
		if f, ok := kind.Field(key); ok && f.Type() == record.TypeDate {
			if date, bad := readExpiry(r.PostFormValue(key)); bad != nil {
				found = append(found, record.Finding{Field: key, Step: record.Refuse, Words: refusal(bad)})
			} else if date != "" {
				r.PostForm.Set(key, date)
			}
		}
	}
	return found
}

// refusal says what is wrong with a value and what is accepted.
func refusal(bad *unit.InputError) string {
	return "“" + bad.Got + "” is not accepted: needs " + bad.Want
}

// plainDate is a date that the record reads as it stands.
var plainDate = regexp.MustCompile(`^\d{4}-\d{2}(-\d{2})?$`)

func readExpiry(typed string) (string, *unit.InputError) {
	typed = strings.TrimSpace(typed)
	if typed == "" || plainDate.MatchString(typed) {
		return "", nil
	}
	d, err := stock.ParseExpiry(typed)
	var bad *unit.InputError
	if errors.As(err, &bad) {
		return "", bad
	}
	return d.String(), nil
}

// readCode reads a GS1 element string in the lot field.
func (s *server) readCode(r *http.Request, kind *record.Kind) record.Findings {
	code, is, bad := readBox(r.PostFormValue("lot"), s.desk.Today())
	switch {
	case bad != nil:
		return record.Findings{{Field: "lot", Step: record.Refuse, Words: refusal(bad)}}
	case !is:
		return nil
	}
	r.PostForm.Set("lot", code.Lot)
	if code.Lot == "" {
		return record.Findings{{Field: "lot", Step: record.Refuse, Words: "is not in that code; scan the one that holds (10), or type the lot"}}
	}
	if !code.Expires.IsZero() {
		typed := strings.TrimSpace(r.PostFormValue("expiry"))
		if typed != "" && typed != code.Expires.String() {
			return record.Findings{{Field: "expiry", Step: record.Refuse, Words: "was typed as " + typed + ", but the code says " + code.Expires.Long()}}
		}
		r.PostForm.Set("expiry", code.Expires.String())
	}
	return s.sameItem(r, kind, code)
}

// sameItem holds the box's number against the item that was named.
func (s *server) sameItem(r *http.Request, kind *record.Kind, code stock.Label) (found record.Findings) {
	if _, names := kind.Field("item"); !names || code.GTIN == "" {
		return nil
	}
	_ = s.look(r, func(v visit) error {
		for _, it := range v.house.Upkeep.ItemsNow() {
			if it.GTIN == "" || strings.TrimLeft(it.GTIN, "0") != strings.TrimLeft(code.GTIN, "0") {
				continue
			}
			switch typed := r.PostFormValue("item"); {
			case typed == "":
				r.PostForm.Set("item", it.Item)
			case !it.Answers(typed):
				found = record.Findings{{Field: "item", Step: record.Refuse, Words: "is “" + typed + "”, but the code on the box is that of " + it.Item}}
			}
		}
		return nil
	})
	return found
}

// scannedMark is what a scanner's string begins with or holds, and no lot does.
var scannedMark = regexp.MustCompile(`^(\]|\(\d{2,4}\))|\x1d|<GS>|\{GS\}|<FNC1>|\{FNC1\}|␝`)

// readBox tells whether a text is the code of a box rather than a plain lot,
// and reads it. A bare row of digits and letters is taken for one only when it
// begins with an item number whose check digit is right.
func readBox(typed string, today unit.Date) (l stock.Label, is bool, bad *unit.InputError) {
	typed = strings.TrimSpace(typed)
	marked := scannedMark.MatchString(typed)
	if !marked && (len(typed) < 18 || !strings.HasPrefix(typed, "01")) {
		return stock.Label{}, false, nil
	}
	l, err := stock.ParseLabel(typed, today)
	if err == nil && (marked || l.GTIN != "") {
		return l, true, nil
	}
	if marked && errors.As(err, &bad) {
		return stock.Label{}, false, bad
	}
	return stock.Label{}, false, nil
}
