package web

import (
	"maps"
	"net/http"
	"slices"
	"strings"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// valueLine is one value of a prescription as it is read, and whose it is.
type valueLine struct {
	Key, Label, Value string
	Own               bool // the unit set none; the value is what the program does by itself
}

// ownLimits are the program's own figures, in words, by key.
func ownLimits() map[string]string {
	words := session.OwnLimitWords()
	kind, _ := record.Find("prescription")
	own := session.Prescription{Limits: session.OwnLimits()}
	for _, p := range orderParts {
		if p.id != "limits" {
			continue
		}
		for _, key := range p.keys[2:] { // after who and when
			if f, _ := kind.Field(key); words[key] == "" && textOf(f, &own) != "" {
				words[key] = "uses " + textOf(f, &own)
			}
		}
	}
	return words
}

// ownHints say under each limit what a blank means for one person.
func ownHints(who session.OwnFor) map[string]string {
	hints := ownLimits()
	maps.Copy(hints, who.Words(nil))
	for key, words := range hints {
		hints[key] = "Blank: not set by your unit; the program " + words + "."
	}
	return hints
}

// ownFor says for whom of the program's own figures a page speaks.
func ownFor(v visit) session.OwnFor {
	if v.member == nil {
		return session.OwnFor{}
	}
	return session.OwnFor{Child: v.member.Child(v.now), Pregnant: v.member.Pregnant(v.now)}
}

// textOf writes one value with its unit, in the words of its choices; empty
// when there is none.
func textOf(f record.Field, body any) string {
	text := f.Text(body)
	if f.Type() == record.TypeYesNo {
		return text
	}
	if f.Type() == record.TypeDate {
		if d, err := unit.ParseDate(text); err == nil {
			return d.Long()
		}
	}
	if f.Key == "days" {
		return daysText(strings.Fields(text))
	}
	for _, c := range f.Choices {
		if c.Value == text {
			text = c.Label
		}
	}
	if sym := f.Symbol(); sym != "" && text != "" {
		text += "\u00a0" + sym
	}
	return text
}

// daysText writes days of the week in their order.
func daysText(days []string) string {
	var list []string
	for _, d := range weekdays {
		if slices.Contains(days, d.value) {
			list = append(list, d.long)
		}
	}
	return strings.Join(list, ", ")
}

// readParts are all values of a prescription in the groups of its form. Lines
// that do not apply are left out; a limit that the unit has not set shows what
// the program does by itself, marked as its own.
func readParts(rx *session.Prescription, who session.OwnFor) []orderPart {
	kind, _ := record.Find("prescription")
	own := ownLimits()
	own["rate_limit_ml_h_kg"] = session.OwnRateWords(rx)
	maps.Copy(own, who.Words(rx))
	if rx.SystolicLow != nil {
		delete(own, "start_standing_low_mmhg") // the unit's figure for sitting stands in
	}
	var parts []orderPart
	for _, p := range orderParts {
		part := orderPart{ID: p.id, Title: p.title}
		for _, key := range p.keys {
			f, _ := kind.Field(key)
			text := textOf(f, rx)
			switch {
			case key == "read_back" && rx.How != "phone":
			case text != "":
				part.Values = append(part.Values, valueLine{Key: key, Label: f.Label, Value: text})
			case own[key] != "":
				part.Values = append(part.Values, valueLine{Key: key, Label: f.Label, Value: own[key], Own: true})
			}
		}
		parts = append(parts, part)
	}
	return parts
}

// rxRow is one version in the list of them.
type rxRow struct {
	*record.Rx
	State       string // in force, to come, replaced, struck
	Until       unit.Date
	Unconfirmed bool
	Held        int // sessions that were dialysed by it
	Link        string
	Change      []record.Change // against the version before it
}

// versions are all versions, newest first.
func versions(v visit) []rxRow {
	today := v.today()
	in := v.member.Prescription(today)
	held := map[string]int{}
	for _, one := range v.member.Sessions {
		if one.Treated() && !one.Abandoned() {
			held[one.PrescriptionID]++
		}
	}
	var rows []rxRow
	var before *record.Rx
	for _, rx := range v.member.Prescriptions {
		row := rxRow{Rx: rx, State: "replaced", Unconfirmed: rx.Unconfirmed() && rx.Struck == nil, Held: held[rx.ID], Link: "/p/" + v.member.ID + "/prescription/" + rx.ID}
		switch {
		case rx.Struck != nil:
			row.State = "struck"
		case in != nil && rx.ID == in.ID:
			row.State = "in force"
		case today.Before(rx.Value.ValidFrom):
			row.State = "to come"
		}
		if before != nil {
			row.Change = record.Diff(&before.Value, &rx.Value)
		}
		if rx.Struck == nil {
			before = rx
		}
		rows = append(rows, row)
	}
	slices.Reverse(rows)
	return rows
}

// rxBody is the page of the versions, one of them open.
type rxBody struct {
	Row      rxRow
	Parts    []orderPart
	Versions []rxRow
	Own      int // limits that the unit has not set
	Base     string
}

// prescriptionPage shows the version in force; before the first one it is the
// form to write it down.
func (s *server) prescriptionPage(v visit) (view, error) {
	rx := v.member.Prescription(v.today())
	if rx == nil {
		rx = lastVersion(v.member)
	}
	if rx == nil {
		return view{goTo: "/p/" + v.member.ID + "/prescription/new"}, nil
	}
	return s.showRx(v, rx)
}

func (s *server) rxPage(v visit) (view, error) {
	rx, err := v.rxOf()
	if err != nil {
		return view{}, err
	}
	return s.showRx(v, rx)
}

func (s *server) showRx(v visit, rx *record.Rx) (view, error) {
	b := rxBody{Versions: versions(v), Parts: readParts(&rx.Value, ownFor(v)), Base: "/p/" + v.member.ID + "/prescription"}
	for _, row := range b.Versions {
		if row.ID == rx.ID {
			b.Row = row
		}
	}
	for _, p := range b.Parts {
		for _, line := range p.Values {
			if line.Own {
				b.Own++
			}
		}
	}
	return view{page: "rx", title: "Prescription", here: "unit", body: b}, nil
}

// changeSeen notes that the person has read what changed, and goes on to the
// session. Pressed twice it is one entry.
func (s *server) changeSeen(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("change_seen")
	next := "/p/" + r.PathValue("p") + "/session"
	seen := false
	if err := s.look(r, func(v visit) error {
		rx, err := v.rxOf()
		seen = rx != nil && rx.Seen != nil
		return err
	}); err != nil {
		return err
	}
	if seen {
		http.Redirect(w, r, next, http.StatusSeeOther)
		return nil
	}
	if r.PostFormValue("id") == "" {
		r.PostForm.Set("id", newID())
	}
	r.PostForm.Set("next", next)
	r.PostForm.Set("prescription_id", r.PathValue("rx"))
	e, found := s.read(r, kind)
	return s.settle(w, r, e, found, func(v visit, fill func(form) form) (view, error) {
		f := fill(newForm(kind, v.URL.Path, nil).only())
		f.Submit, f.Back = "I have read this", next
		return view{page: "slip", title: kind.Title, here: "session", body: slipBody{Form: f}}, nil
	})
}

// paperForm says that the paper for a phoned change has come.
func paperForm(v visit, f form, b *slipBody) (form, error) {
	rx, err := v.rxOf()
	if err != nil {
		return f, err
	}
	if rx.Value.How != "phone" {
		return f, notFound{"no telephone call behind this version"}
	}
	b.Lead = "Hold the paper beside these values. If one differs, do not confirm: ring your unit, and write a new version."
	for _, p := range readParts(&rx.Value, ownFor(v)) {
		for _, line := range p.Values {
			if !line.Own {
				b.Rows = append(b.Rows, labelled{line.Label, line.Value})
			}
		}
	}
	f = f.only("signed_by", "signed_on")
	f.Submit = "The paper says the same"
	return f, nil
}

func ofRx(r *http.Request) { r.PostForm.Set("prescription_id", r.PathValue("rx")) }

// strikeRxForm takes a whole version out of the count.
func strikeRxForm(v visit, f form, b *slipBody) (form, error) {
	rx, err := v.rxOf()
	if err != nil {
		return f, err
	}
	if rx.Struck != nil {
		return f, notFound{"no such version any more; it was struck out before"}
	}
	b.Rows = []labelled{{"Ordered by", rx.Value.OrderedBy}, {"Ordered on", rx.Value.OrderedOn.Long()}, {"Valid from", rx.Value.ValidFrom.Long()}, {"Dry weight", rx.Value.DryWeight.Text()}}
	b.Notes = []string{"It stays in sight, struck through, with your reason. Sessions that were held by it keep it.", "If only a line of it was typed wrong, correct that line instead."}
	f = f.only("reason")
	f.Next, f.Back = "/p/"+v.member.ID+"/prescription", "/p/"+v.member.ID+"/prescription"
	f.Submit = "Strike out this version"
	return f, nil
}

func strikesRx(r *http.Request) { r.PostForm.Set("entry_id", r.PathValue("rx")) }
