package session

import (
	"slices"
	"time"
)

// bloodSignCodes are the remarks of what was measured that speak against
// giving the blood back, while nobody has said that their trouble is there. What a
// line pressure or a fluid too hot showed is not among them: the first is put right at
// the needle, the second opens its trouble by itself.
var bloodSignCodes = []string{"fever", "chlorine_out"}

// A BloodSign is what was felt, measured, or written down in words, and the trouble that
// it would be, in which the blood stays out.
type BloodSign struct {
	TroubleType
	At      time.Time
	Written time.Time // as it stands now; zero where that is not known
	Words   string
}

// BloodSigns lists those of a run up to now where no word about that trouble, there or
// over, was written since. Where it is asked whether the blood may go back they are
// named, and close no way: an itch may be an itch. What comes after the look before the
// pump voids that look ([WashbackLooked]). An alarm and a note are read for the words
// that name a trouble ([AlarmLeads]).
func BloodSigns(s *Session, now time.Time) (list []BloodSign) {
	opened, over, _ := troubleWords(s, now)
	words := append(opened, over...)
	add := func(code, said string, at time.Time, entry string) {
		t, ok := TroubleOf(code)
		if !ok || !t.StaysOut() {
			return
		}
		answered := slices.ContainsFunc(words, func(w troubleWord) bool {
			return w.code == t.Code && (w.e.ID == entry || !w.at.Before(at.Truncate(time.Minute)))
		})
		if !answered {
			sign := BloodSign{TroubleType: t.For(s.Rx), At: at, Words: said}
			if e := s.Find(entry); e != nil {
				sign.Written = e.Written
			}
			list = append(list, sign)
		}
	}
	for _, r := range Remarks(s, now) {
		switch {
		case r.Code == "unwell":
			add(r.Trouble(), "you felt “"+r.Felt+"”.", r.At, r.Entry)
		case slices.Contains(bloodSignCodes, r.Code):
			add(r.Trouble(), r.Words, r.At, r.Entry)
		}
	}
	began, _ := s.Began()
	said := func(what, words string, e *Event) {
		if began.IsZero() || e.At.Before(began) || e.At.After(now) {
			return
		}
		code := feltLeads(words)
		if code == "" {
			code = AlarmLeads(words)
		}
		add(code, what+" “"+words+"”.", e.At, e.ID)
	}
	Each(s, func(b *Alarm, e *Event) { said("alarm", b.Words, e) })
	Each(s, func(b *Note, e *Event) { said("note", b.Words, e) })
	slices.SortStableFunc(list, func(a, b BloodSign) int { return a.At.Compare(b.At) })
	return list
}

// An EndedTrouble is one that was there in a session and is over.
type EndedTrouble struct {
	TroubleType
	Since time.Time
	Over  time.Time
	Said  string // who of the unit said what
}

// TroublesOver lists the troubles that were there up to now and that somebody said are
// over, oldest first; of one that came twice the last time.
func TroublesOver(s *Session, now time.Time) (list []EndedTrouble) {
	if b, _ := First[Trouble](s); b == nil { // it is asked on every page, and seldom there
		return nil
	}
	opened, over, _ := troubleWords(s, now)
	for _, t := range troubles {
		var last *EndedTrouble
		open := false
		for _, o := range opened {
			if o.code != t.Code {
				continue
			}
			i := slices.IndexFunc(over, o.endedBy)
			if i < 0 {
				open = true
				break
			}
			if last == nil || !o.at.Before(last.Since) {
				said := ""
				if b, ok := over[i].e.Body.(*Trouble); ok {
					said = b.Said
				}
				last = &EndedTrouble{t, o.e.At, over[i].e.At, said}
			}
		}
		if last != nil && !open {
			list = append(list, *last)
		}
	}
	slices.SortStableFunc(list, func(a, b EndedTrouble) int { return a.Since.Compare(b.Since) })
	return list
}
