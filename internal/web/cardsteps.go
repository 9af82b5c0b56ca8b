package web

import (
	"net/http"
	"slices"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/report"
	"ebbline/session"
)

// unitStepsBody is the page of the unit's steps for each trouble, with every version.
type unitStepsBody struct {
	Base  string
	Card  string
	Given int // troubles that the unit gave steps for
	Of    int
	Rows  []stepsRow
	Out   string // while a trouble is open in which the blood stays out: its rule
}

// stepsRow is one trouble with the unit's steps for it.
type stepsRow struct {
	session.TroubleType
	Link   string
	Now    *troubleVersion
	Before []troubleVersion // newest first, those struck out among them
	Held   *bloodHeld       // by which the steps of a hand return are left out now
}

// A troubleVersion is one version of the unit's steps for one trouble.
type troubleVersion struct {
	record.Dated[record.TroubleSteps]
	report.CardTrouble
	Ring   string
	Strike string
}

// troubleStepsPage lists every trouble with the unit's steps for it, or without any.
func (s *server) troubleStepsPage(v visit) (view, error) {
	b := unitStepsBody{Base: "/p/" + v.member.ID}
	b.Card = b.Base + "/card"
	kind, _ := record.Find("trouble_steps")
	open := openOf(v)
	b.Out = outOf(open, false)
	for _, t := range session.TroublesFor(v.rx()) {
		row := stepsRow{TroubleType: t, Link: b.Card + "/steps/" + t.Code}
		if t.Code == session.TroublePower {
			row.Held = heldBy(t, open)
		}
		now := v.member.StepsFor(t.Code)
		for i := len(v.member.TroubleSteps) - 1; i >= 0; i-- {
			one := v.member.TroubleSteps[i]
			if one.Value.Trouble != t.Code {
				continue
			}
			version := troubleVersion{Dated: one, Strike: b.Base + "/unit/strike/" + one.ID + "?next=" + b.Card + "/steps"}
			for _, line := range valuesOf(kind, &one.Value, nil) {
				if field, _ := kind.Field("ring"); line.Label == field.Label {
					version.Ring = line.Value
				}
			}
			if now != nil && now.ID == one.ID {
				version.CardTrouble, _ = household.Steps(v.house, v.member, t, v.today(), v.now)
				row.Now = &version
				continue
			}
			row.Before = append(row.Before, version)
		}
		if row.Now != nil {
			b.Given++
		}
		b.Rows = append(b.Rows, row)
	}
	b.Of = len(b.Rows)
	return view{page: "steps", title: "Steps when something is wrong", here: "unit", body: b}, nil
}

// ofSaline are the troubles whose steps have a place for an amount of saline, also
// where none was given yet. Common practice.
var ofSaline = []string{session.TroubleLow, session.TroubleClotting}

// troubleStepsForm takes the unit's steps for the trouble of the address.
func troubleStepsForm(v visit, f form, b *slipBody) (form, error) {
	t, ok := session.TroubleOf(v.PathValue("trouble"))
	if !ok {
		return f, notFound{"no such trouble"}
	}
	b.Title = t.For(v.rx()).Title
	b.Lead = "Type in, or copy, what your unit’s own paper says for this, word for word, one act a line. Ebbline adds nothing to it."
	b.Notes = append(b.Notes, t.Blood.Words()+" That line stands under the steps whatever you type.")
	steps := v.member.StepsFor(t.Code)
	keys := []string{"ring", "words"}
	if slices.Contains(ofSaline, t.Code) || steps != nil && steps.Value.Saline != nil {
		keys = append(keys, "saline_ml")
	}
	if t.Code == session.TroublePower {
		keys = append(keys, "blood_back_within_min")
	}
	f = f.only(append(keys, "from", "given_on", "review_by")...)
	f.Hidden = map[string]string{"trouble": t.Code}
	f.Next = "/p/" + v.member.ID + "/card/steps"
	f.Back = f.Next
	if steps != nil {
		kind, _ := record.Find("trouble_steps")
		f = f.begin(filled(kind, &steps.Value))
		b.Notes = append(b.Notes, "What stood there before stays in the record.")
	}
	f.Submit = "Keep these steps"
	return f.hint(map[string]string{
		"ring":                  "The number that leads, before everything else. The others stand under it.",
		"saline_ml":             "As your unit wrote it. Without it, no button carries an amount: it is typed each time.",
		"blood_back_within_min": "How long the blood may stand before it is no longer given back, by your unit. Leave it blank if it gave no figure.",
		"from":                  "The nurse or doctor who gave them to you, by name.",
		"review_by":             "Once a year, say. Past that day the steps are called old.",
	}), nil
}

func ofTrouble(r *http.Request) { r.PostForm.Set("trouble", r.PathValue("trouble")) }
