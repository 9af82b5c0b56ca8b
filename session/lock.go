package session

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"ebbline/unit"
)

// OrderedLock is what the unit ordered to stay in the lumens of a catheter between
// sessions, and the volume of each lumen. Each value may be left out.
type OrderedLock struct {
	LockName     string         `json:"lock,omitempty"`
	LockStrength *unit.Strength `json:"lock_strength_iu_ml,omitempty"`   // of heparin; one of the two, or both
	LockContent  *unit.Content  `json:"lock_strength_percent,omitempty"` // of what is dosed in per cent
	LockArterial *unit.Drawn    `json:"lock_arterial_ml,omitempty"`
	LockVenous   *unit.Drawn    `json:"lock_venous_ml,omitempty"`
}

// none reports whether nothing of a lock was ordered.
func (o OrderedLock) none() bool { return o == OrderedLock{} }

// values are what was read of a lock, as an order has them.
func (b *CatheterLock) values() OrderedLock {
	return OrderedLock{b.Name, b.Strength, b.Content, &b.Arterial, &b.Venous}
}

// Text words what was read of a lock: name, strength, the volume of each lumen.
func (b *CatheterLock) Text() string { return b.values().Text() }

// Text words what was ordered of a lock: name, strength, the volume of each lumen;
// empty where nothing was.
func (o OrderedLock) Text() string {
	parts := []string{o.what()}
	if o.LockArterial != nil {
		parts = append(parts, "arterial "+o.LockArterial.Text())
	}
	if o.LockVenous != nil {
		parts = append(parts, "venous "+o.LockVenous.Text())
	}
	return commas(parts...)
}

// what words name and strength.
func (o OrderedLock) what() string { return commas(o.LockName, o.strength()) }

// strength words the strength; empty where none is given.
func (o OrderedLock) strength() string {
	var parts []string
	if o.LockContent != nil {
		parts = append(parts, o.LockContent.Text())
	}
	if o.LockStrength != nil {
		parts = append(parts, strengthText(*o.LockStrength))
	}
	return strings.Join(parts, " with ")
}

// commas joins what is not empty.
func commas(parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(p string) bool { return p == "" }), ", ")
}

// A LockDifference is one value of the lock in the hand that is another than
// ordered or, where the unit ordered none, than last time.
type LockDifference struct {
	Keys       []string // of the values that are typed a second time
	Got, Other string   // in words
	Ordered    bool     // Other is what was ordered; else it is what it was last time
	code       string   // of the sentence of the start line
}

// LockDifferences holds the lock in the hand against the order, value by value. A
// value that was not ordered is held against last time's, nil where there was none.
// Names are compared by their words and the two strengths together: a lock of
// heparin in citrate is another than one of citrate.
func LockDifferences(o OrderedLock, b *CatheterLock, last *CatheterLock) []LockDifference {
	was := OrderedLock{}
	if last != nil {
		was = last.values()
	}
	var found []LockDifference
	add := func(one LockDifference, ordered, differs bool) {
		if one.Ordered = ordered; differs {
			found = append(found, one)
		}
	}
	name := cmp.Or(o.LockName, was.LockName)
	add(LockDifference{Keys: []string{"name"}, Got: b.Name, Other: name, code: "lock_name"}, o.LockName != "", name != "" && !sameLock(name, b.Name))

	got, order := b.values().strength(), o.strength()
	other := cmp.Or(order, was.strength())
	strength := LockDifference{Got: got, Other: other, code: "lock_strength"}
	if b.Strength != nil {
		strength.Keys = append(strength.Keys, "strength_iu_ml")
	}
	if b.Content != nil {
		strength.Keys = append(strength.Keys, "strength_percent")
	}
	add(strength, order != "", other != "" && got != other)

	volume := func(one LockDifference, got unit.Drawn, order, was *unit.Drawn) {
		want := order
		if want == nil {
			want = was
		}
		if want != nil {
			one.Got, one.Other = got.Text(), want.Text()
			add(one, order != nil, got != *want)
		}
	}
	volume(LockDifference{Keys: []string{"arterial_ml"}, code: "lock_arterial"}, b.Arterial, o.LockArterial, was.LockArterial)
	volume(LockDifference{Keys: []string{"venous_ml"}, code: "lock_venous"}, b.Venous, o.LockVenous, was.LockVenous)
	return found
}

// sameLock reports whether two names mean one lock: the same words that name a
// substance, in any order.
func sameLock(a, b string) bool {
	one, other := lockWords(a), lockWords(b)
	if len(one) == 0 || len(other) == 0 {
		return PlainName(a) == PlainName(b)
	}
	return slices.Equal(one, other)
}

// nameless are words on the label of a lock that name no substance: figures and units
// aside, its form, its use, and the sodium of a salt. “Free” and “without” are not
// among them: heparin-free citrate is not heparin with citrate. Ours.
var nameless = strings.Fields("iu ie u unit units international ml mg g l and with in of for from the a an per cent percent each to only use " +
	"lock locks locking lockflush solution solutions sol soln injection injections injectable infusion sterile sodium disodium trisodium tri di salt " +
	"catheter catheters dialysis haemodialysis hemodialysis intracatheter lumen lumens central venous vial vials ampoule ampoules ampule ampules syringe syringes " +
	"prefilled pre filled bottle concentrate ready bp usp ph eur w v")

// lockWords are the words of a name that name a substance.
func lockWords(name string) []string {
	list := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) })
	list = slices.DeleteFunc(list, func(w string) bool { return slices.Contains(nameless, w) })
	slices.Sort(list)
	return slices.Compact(list)
}
