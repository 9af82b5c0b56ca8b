package web

import (
	"net/http"
	"slices"
	"strings"

	"ebbline/session"
	"ebbline/stock"
	"ebbline/unit"
)

// A lotTap is a lot of the shelf that one press puts into a form, and nothing
// else of it: no date, no strength. What can hurt is typed from the thing in the
// hand.
type lotTap struct{ Code, Count string }

// lotForms are the forms with a lot of their own: the word by which the shelf
// knows the item, and the figures that are typed before a lot is offered, so
// that none of them comes off the shelf (hazard H-55), with what they are called.
var lotForms = map[string]struct {
	word   string
	typed  []string
	called string
}{
	"heparin_drawn":     {"heparin", nil, ""}, // the strength has been typed before this form is there
	"catheter_lock":     {"catheter lock", []string{"name", "strength_iu_ml or strength_percent", "arterial_ml", "venous_ml"}, "name, strength and volumes are"},
	"bath_label":        {"bath", []string{"label_k_mmol_l", "label_ca_mmol_l"}, "potassium and calcium are"},
	"chlorine":          {"chlorine test", []string{"reads_down_to_mg_l", labelDate}, "smallest step and expiry are"},
	"anaesthetic_drawn": {"local anaesthetic", []string{"strength_percent"}, "the strength is"},
	"flush_drawn":       {"saline flush", nil, ""},
}

// stillBlank is what is said of a value that is needed and was not given.
const stillBlank = "is still blank"

// offerLots puts the lots of the shelf into a form, once what is typed from the
// thing in the hand is there. A lot that is blank then is not a mistake yet.
func (f form) offerLots(v visit) form {
	of, has := lotForms[f.Kind.Name]
	if !has {
		return f
	}
	taps := lotTaps(v, of.word)
	if len(taps) == 0 {
		return f
	}
	at := slices.IndexFunc(f.Inputs, func(in input) bool { return in.Key == "lot" })
	for _, keys := range of.typed {
		if !f.has(strings.Split(keys, " or ")) {
			if at >= 0 {
				f.Inputs[at].Doc = "From the box. Left blank, the lots on your shelf are offered once " + of.called + " typed."
			}
			return f
		}
	}
	f.Lots = taps
	if at >= 0 && f.Inputs[at].Problem == stillBlank {
		f.Inputs[at].Problem = ""
		f.Inputs[at].Doc = "The lot is still blank: type it, or press the one on the box in your hand."
	}
	return f
}

// has reports whether one of some figures was typed as it can be read, and none as it
// cannot.
func (f form) has(keys []string) bool {
	typed, shown := false, false
	for _, in := range f.Inputs {
		if slices.Contains(keys, in.Key) {
			shown = true
			if in.Problem != "" {
				return false
			}
			typed = typed || in.Value != ""
		}
	}
	return typed || !shown
}

// lotTaps are the lots of an item that may be used, the first to expire first: of the
// item of that name, and where the shelf has none of it, of those whose label has the
// same numbers, "2 K concentrate" or "chlorine strips".
func lotTaps(v visit, word string) []lotTap {
	day := unit.DateOf(v.now)
	if fromPaper(v.session) {
		_, at := v.session.Opened()
		day = unit.DateOf(at)
	}
	var taps []lotTap
	offer := func(item string) {
		it, known := v.house.ShelfOf(item, v.now)
		if !known {
			return
		}
		for _, l := range stock.Offer(it.Stock(), day) {
			if l.Code == "" || slices.ContainsFunc(taps, func(t lotTap) bool { return t.Code == l.Code }) {
				continue // counted without its code: it is typed
			}
			if len(taps) < mostOffered {
				taps = append(taps, lotTap{l.Code, unit.PiecesText(l.Count)})
			}
		}
	}
	if offer(word); len(taps) > 0 {
		return taps
	}
	for _, other := range v.house.Upkeep.ItemsNow() {
		if session.SameLabel(other.Called(), word) {
			offer(other.Item)
		}
	}
	return taps
}

// pressedLot turns a press on a lot into the one field it stands for.
func pressedLot(r *http.Request) {
	if lot := r.PostFormValue("pick_lot"); lot != "" {
		r.PostForm.Set("lot", lot)
	}
}
