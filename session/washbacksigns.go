package session

import (
	"slices"
	"time"
)

// bloodSignCodes are the remarks of what was felt or measured that speak against
// giving the blood back, while nobody has said that their trouble is there. What a
// line pressure or a fluid too hot showed is not among them: the first is put right at
// the needle, the second opens its trouble by itself.
var bloodSignCodes = []string{"unwell", "fever", "chlorine_out"}

// BloodSigns lists what was felt or measured in a run up to now that leads to a
// trouble in which the blood stays out, where no word about that trouble, there or
// over, was written since. It closes no way: an itch may be an itch. It is said where
// it is asked whether the blood may go back.
func BloodSigns(s *Session, now time.Time) (list []Remark) {
	opened, over, _ := troubleWords(s, now)
	words := append(opened, over...)
	for _, r := range Remarks(s, now) {
		t, ok := TroubleOf(r.Trouble())
		if !ok || !t.StaysOut() || !slices.Contains(bloodSignCodes, r.Code) {
			continue
		}
		answered := slices.ContainsFunc(words, func(w troubleWord) bool {
			return w.code == t.Code && (w.e.ID == r.Entry || !w.at.Before(r.At.Truncate(time.Minute)))
		})
		if !answered {
			list = append(list, r)
		}
	}
	return list
}

// An EndedTrouble is one in which the blood stays out that was there in a session and
// is over.
type EndedTrouble struct {
	TroubleType
	Since time.Time
	Over  time.Time
	Said  string // who of the unit said what
}

// BloodTroublesOver lists the troubles in which the blood stays out that were there
// up to now and are over, oldest first; of one that came twice the last time.
func BloodTroublesOver(s *Session, now time.Time) (list []EndedTrouble) {
	opened, over, _ := troubleWords(s, now)
	for _, t := range troubles {
		if !t.StaysOut() {
			continue
		}
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
