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
	if _, ok := kind.Field(labelDate); ok {
		joinBoxes(r.PostForm, labelDate)
		if date, bad := readExpiry(r.PostFormValue(labelDate)); bad != nil {
			found = append(found, record.Finding{Field: labelDate, Step: record.Refuse, Words: refusal(bad)})
		} else if date != "" {
			r.PostForm.Set(labelDate, date)
		}
		const again = "again." + labelDate
		joinBoxes(r.PostForm, again)
		if date, bad := readExpiry(r.PostFormValue(again)); bad == nil && date != "" {
			r.PostForm.Set(again, date) // as the record writes the first
		}
	}
	if _, ok := kind.Field("lot"); ok {
		found = append(found, s.readCode(r, kind)...)
	}
	return found
}

// refusal says what is wrong with a value and what is accepted.
func refusal(bad *unit.InputError) string {
	return "“" + bad.Got + "” is not accepted: needs " + bad.Want
}

// readExpiry gives a date off a label as the record writes it, and nothing for
// a blank one.
func readExpiry(typed string) (string, *unit.InputError) {
	typed = strings.TrimSpace(typed)
	if typed == "" {
		return "", nil
	}
	d, err := stock.ParseExpiry(typed)
	var bad *unit.InputError
	if errors.As(err, &bad) {
		return "", bad
	}
	return d.String(), nil
}

// noLotInCode is said of a code that leaves out what it was scanned for.
const noLotInCode = "is not in that code; scan the one that holds (10), or type the lot"

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
		return record.Findings{{Field: "lot", Step: record.Refuse, Words: noLotInCode}}
	}
	if !code.Expires.IsZero() {
		typed := strings.TrimSpace(r.PostFormValue("expiry"))
		if d, err := stock.ParseExpiry(typed); typed != "" && (err != nil || d != code.Expires) {
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
	it, known := numbered(s.items(r), code.GTIN)
	switch typed := r.PostFormValue("item"); {
	case !known:
	case typed == "":
		r.PostForm.Set("item", it.Item)
	case !it.Answers(typed):
		found = record.Findings{{Field: "item", Step: record.Refuse, Words: "is “" + typed + "”, but the code on the box is that of " + it.Item}}
	}
	return found
}

// items are those on the shelf's list.
func (s *server) items(r *http.Request) (list []record.StockItem) {
	_ = s.look(r, func(v visit) error {
		list = v.house.Upkeep.ItemsNow()
		return nil
	})
	return list
}

// numbered gives the item whose box has a number, whichever of its lengths it is
// written in; false when none is written down with it.
func numbered(items []record.StockItem, gtin string) (record.StockItem, bool) {
	plain := strings.TrimLeft(gtin, "0")
	for _, it := range items {
		if plain != "" && strings.TrimLeft(it.GTIN, "0") == plain {
			return it, true
		}
	}
	return record.StockItem{}, false
}

// scannedMark is what a scanner's string begins with or holds, and no lot does.
var scannedMark = regexp.MustCompile(`^(\]|\(\d{2,4}\))|\x1d|<GS>|\{GS\}|<FNC1>|\{FNC1\}|␝`)

// maybeMark is what some scanners send between two parts of a code, and hardly
// any lot holds.
const maybeMark = "^|~"

// readBox reports whether a text is the code of a box rather than a plain lot,
// and reads it. A bare row of digits and letters is taken for one only when it
// begins with an item number whose check digit is right, or has a sign between
// its parts and reads as one.
func readBox(typed string, today unit.Date) (l stock.Label, is bool, bad *unit.InputError) {
	typed = strings.TrimSpace(typed)
	marked, maybe := scannedMark.MatchString(typed), strings.ContainsAny(typed, maybeMark)
	numbered := len(typed) >= 18 && strings.HasPrefix(typed, "01")
	if !marked && !maybe && !numbered {
		return stock.Label{}, false, nil
	}
	l, err := stock.ParseLabel(typed, today)
	if err == nil && (marked || l.GTIN != "" || maybe && l.Lot != "" && !l.Expires.IsZero()) {
		return l, true, nil
	}
	if numbered && stock.ValidGTIN(typed[2:16]) {
		marked = true // a code it is; what is wrong with it is said
	}
	if marked && errors.As(err, &bad) {
		return stock.Label{}, false, bad
	}
	return stock.Label{}, false, nil
}
