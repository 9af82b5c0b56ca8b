package web

import (
	"slices"
	"strconv"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// tap is one event that one press records, with the amounts that usually go
// with it.
type tap struct {
	Kind    *record.Kind
	Title   string // of the kind, or a word of its own
	Form    form
	Symbol  string   // unit of the amounts
	Amounts []amount // one button each; without any the form's own button records
	Link    string   // to the whole form
	Other   string   // what that link is called beside amounts
	Short   bool     // that link stands elsewhere
}

// Leads is the trouble that the tap leads to by itself; empty where it leads to none.
func (t tap) Leads() string {
	if t.Kind.Name == "low_pressure" {
		return session.TroubleLow
	}
	return ""
}

// An amount is one button of a tap, whose entry has an id of its own.
type amount struct {
	ID, Field, Value, Label string
	Leads                   string // the trouble that it leads to; empty where none
}

// taps are the one-tap events in the order of the page. The amounts are
// buttons, not proposals: each records what was taken or given.
var taps = []struct {
	kind    string
	field   string
	amounts []string
}{
	{"drink", "volume_ml", []string{"50", "100", "150", "200"}},
	{"saline", "volume_ml", nil},
	{"low_pressure", "", nil},
	{"removal_off", "", nil},
	{"removal_on", "", nil},
	{"lie_back", "", nil},
	{"cramp", "", nil},
	{"alarm", "", nil},
	{"pause", "", nil},
	{"resume", "", nil},
	{"unwell", "words", nil},
	{"rang", "", nil},
	{"blood_flow_changed", "", nil},
	{"goal_changed", "", nil},
	{"heparin_off", "", nil},
	{"medicine", "", nil},
	{"glucose", "", nil},
	{"note", "", nil},
	{"needle_adjusted", "which", []string{"arterial", "venous"}},
	{"asleep", "for_min", []string{"60", "120"}},
}

// troubleTaps are those that stand before the reading of a live session: what goes
// wrong, and what is done about it.
var troubleTaps = []string{"low_pressure", "removal_off", "lie_back", "cramp", "alarm", "pause", "resume", "rang", "saline", "removal_on"}

// needsWords are the events whose form must be opened, since one press would
// leave out what matters.
var needsWords = map[string]bool{
	"alarm": true, "blood_flow_changed": true, "goal_changed": true, "medicine": true, "glucose": true, "note": true, "rang": true,
}

// notOnPaper are the taps that a session typed in afterwards has no use for.
var notOnPaper = []string{"removal_off", "removal_on", "rang"}

// taps makes the taps of the page, sorted into their places.
func (b *runningBody) taps(v visit, base string) {
	paper := fromPaper(b.Session)
	if b.Run.Paused && !paper {
		b.NotOn = notOn(v.troubles(b.Session))
	}
	for _, t := range taps {
		if b.needless(t.kind) || t.kind == "needle_adjusted" && b.Session.Rx.ByCatheter() || t.kind == "resume" && b.NotOn != "" || paper && slices.Contains(notOnPaper, t.kind) {
			continue
		}
		kind, _ := record.Find(t.kind)
		one := tap{Kind: kind, Title: kind.Title, Link: base + "/" + t.kind, Other: "other"}
		amounts := t.amounts
		switch t.kind {
		case "saline":
			amounts = v.unitsSaline()
		case "unwell":
			one.Title, one.Other, amounts = "I feel", "in words", nil
			for _, f := range session.Feelings() {
				amounts = append(amounts, f.Words)
			}
		}
		open := needsWords[t.kind] || t.field != "" && len(amounts) == 0
		if !open && !paper {
			one.Form = newForm(kind, base+"/event/"+t.kind, nil).only()
			one.Form.Submit = kind.Title
			one.amounts(t.field, amounts)
		}
		one.Short = !paper && slices.Contains(troubleTaps, t.kind)
		switch {
		case paper:
			b.Taps = append(b.Taps, one)
		case t.kind == "unwell":
			b.Feelings = append(b.Feelings, one)
		case slices.Contains(troubleTaps, t.kind):
			b.TroubleTaps = append(b.TroubleTaps, one)
		case t.kind == "heparin_off" && b.Stop:
			b.TroubleTaps = slices.Insert(b.TroubleTaps, 0, one)
		default:
			b.Taps = append(b.Taps, one)
		}
	}
	slices.SortStableFunc(b.TroubleTaps, func(x, y tap) int {
		return slices.Index(troubleTaps, x.Kind.Name) - slices.Index(troubleTaps, y.Kind.Name)
	})
}

// notOn says why going on is not offered: an open trouble in which the blood stays out;
// empty where none is.
func notOn(open []session.OpenTrouble) string {
	i := slices.IndexFunc(open, session.OpenTrouble.StaysOut)
	if i < 0 {
		return ""
	}
	return "Going on is not offered while “" + open[i].Title + "” is not over. " + open[i].Blood.Words()
}

// needless reports whether a tap would say what is so already.
func (b *runningBody) needless(kind string) bool {
	switch kind {
	case "pause":
		return b.Run.Paused
	case "resume":
		return !b.Run.Paused
	case "removal_off":
		return !b.OffSince.IsZero()
	case "removal_on":
		return b.OffSince.IsZero()
	case "heparin_off":
		return b.Run.HeparinStop.IsZero() || !b.Run.HeparinOff.IsZero()
	}
	return false
}

// amounts gives the tap a button for each amount of a field.
func (t *tap) amounts(key string, values []string) {
	if f, counted := t.Kind.Field(key); counted {
		t.Symbol = f.Symbol()
	}
	for _, value := range values {
		label := value
		if t.Symbol != "" {
			label += "\u00a0" + t.Symbol
		}
		made := amount{ID: newID(), Field: key, Value: value, Label: label}
		if t.Kind.Name == "unwell" {
			made.Leads = (session.Remark{Code: t.Kind.Name, Felt: value}).Trouble()
		}
		t.Amounts = append(t.Amounts, made)
	}
}

// unitsSaline is the amount that the unit's steps name; none where they name none,
// and then it is typed.
func (v visit) unitsSaline() (list []string) {
	for _, t := range session.Troubles() {
		own := v.member.StepsFor(t.Code)
		if own == nil || own.Value.Saline == nil {
			continue
		}
		if ml := own.Value.Saline.String(); !slices.Contains(list, ml) {
			list = append(list, ml)
		}
	}
	return list
}

// sleepLeft is how many minutes are left of a sleep by plan that was ended before its
// time; zero where none was, while a reading is called for by what ended it, and for
// a rest too short to be written.
func sleepLeft(run session.Run, one *session.Session, now time.Time) int {
	if run.CheckWhy != session.DueInterval || run.Paused {
		return 0
	}
	sleep, e := session.Last[session.Asleep](one)
	if sleep == nil || e.At.After(now) {
		return 0
	}
	end := e.At.Add(time.Duration(sleep.For) * time.Minute)
	if left := int(end.Sub(now) / time.Minute); left >= shortestSleep {
		return left
	}
	return 0
}

// shortestSleep is the shortest sleep by plan that the record takes, in minutes.
const shortestSleep = 5

// sleepOn is the tap that takes the rest of a sleep up again.
func sleepOn(base string, minutes int) tap {
	kind, _ := record.Find("asleep")
	t := tap{Kind: kind, Title: kind.Title, Form: newForm(kind, base+"/event/asleep", nil).only()}
	t.amounts("for_min", []string{strconv.Itoa(minutes)})
	return t
}
