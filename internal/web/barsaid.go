package web

import (
	"slices"
	"strings"
	"unicode"

	"ebbline/internal/household"
	"ebbline/session"
)

// A barSaid is one thing that the bar says of a session: a trouble that is open, or a look
// that stands.
type barSaid struct {
	code  string // of the trouble whose steps it leads to; empty where it leads to none
	words string // where it is the first
	short string // beside the first
	rank  int    // what is graver is less
	rings bool   // the ambulance is rung first
	open  bool
	look  session.Remark
}

// The ranks of what the bar says: blood that runs out, or air, before what is one for the
// ambulance, and that before the rest. In each an open trouble stands before a look.
const (
	rankBlood = iota
	rankAmbulance
	rankRest
)

// barSays lists what the bar says, the gravest first: the open troubles, and while the
// treatment runs the looks that stand. What was felt and is over by the person's word is
// not among them, nor what is said by its open trouble.
func (v visit) barSays(one *session.Session) (list []barSaid) {
	open := map[string]bool{}
	for _, t := range v.troubles(one) {
		open[t.Code] = true
		s := barSaid{code: t.Code, words: t.Title + ", since " + clockFace(t.Since), short: one.Rx.InWords(shortNames[t.Code]), open: true}
		s.rankIt(v, true)
		list = append(list, s)
	}
	if one.Phase() != session.Running {
		return gravestFirst(list)
	}
	looks := slices.Clone(v.standing(one))
	if again, due := household.ChlorineRule(v.house).Remark(one, v.now); due && again.Level == session.LevelLook {
		looks = append(looks, again)
	}
	low := false
	if i := slices.IndexFunc(list, func(s barSaid) bool { return s.code == session.TroubleLow }); i >= 0 && slices.ContainsFunc(looks, isLowLook) {
		list[i].short = "" // its figure names it
	}
	for _, r := range looks {
		s := barSaid{code: r.Trouble(), look: r}
		isLow := isLowLook(r)
		switch {
		case isLow && low, !isLow && open[s.code] && s.code != session.TroubleLow:
			continue
		case isLow:
			low = true
		}
		s.words, s.short = lookWords(v, one, r), shortLook(v, one, r)
		s.rankIt(v, isThere[r.Code])
		list = append(list, s)
	}
	return gravestFirst(list)
}

func isLowLook(r session.Remark) bool { return r.Code == "low_pressure" || r.Code == "nadir" }

func gravestFirst(list []barSaid) []barSaid {
	slices.SortStableFunc(list, func(a, b barSaid) int {
		if a.rank != b.rank {
			return a.rank - b.rank
		}
		switch {
		case a.open == b.open:
			return 0
		case a.open:
			return -1
		}
		return 1
	})
	return list
}

// rankIt says how grave something is; a look that only asks to look at something is none
// of the gravest, though the ambulance is rung first in what it may be.
func (s *barSaid) rankIt(v visit, is bool) {
	s.rank = rankRest
	t, ok := session.TroubleOf(s.code)
	if !ok {
		return
	}
	s.rings = household.Rings(v.house, v.member, t) == session.RingAmbulance
	switch {
	case s.open && (s.code == session.TroubleBlood || s.code == session.TroubleAir):
		s.rank = rankBlood
	case is && s.rings:
		s.rank = rankAmbulance
	}
}

// says puts the gravest into the bar, and names the others in one short line. The
// ambulance's number comes first if any of them is one for it.
func (b *bar) says(v visit, one *session.Session) (list []barSaid) {
	if list = v.barSays(one); len(list) == 0 {
		return nil
	}
	first := list[0]
	b.Level, b.Mark, b.Words = barLook, "!", first.words
	if slices.ContainsFunc(list, func(s barSaid) bool { return s.open }) {
		b.Level, b.Mark = barOpen, "✕"
	}
	if !first.open {
		b.Link = b.place(v, "said")
	}
	b.lead(v, first.code)
	if asks := strings.TrimSpace(strings.TrimPrefix(first.look.Words, firstSentence(first.look.Words))); !first.open && !isThere[first.look.Code] && asks != "" {
		b.First = shortened(asks, barLetters)
	}
	if slices.ContainsFunc(list, func(s barSaid) bool { return s.rings }) {
		b.Phones = phonesFor(v, session.RingAmbulance)
	}
	b.Also = alsoWords(list[1:])
	return list
}

// alsoWords names what stands beside something graver; empty where nothing does.
func alsoWords(list []barSaid) string {
	var names []string
	for _, s := range list {
		if s.short != "" && !slices.Contains(names, s.short) {
			names = append(names, s.short)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "and " + strings.Join(names, "; ")
}

// shortNames name each trouble in a word or two.
var shortNames = map[string]string{
	session.TroubleLow: "low pressure", session.TroubleBlood: "{needle|line off}, blood", session.TroubleAir: "air or foam",
	session.TroubleHeart: "chest, heart", session.TroubleFever: "fever", session.TroubleReaction: "itch, wheeze",
	session.TroubleDark: "dark blood", session.TroubleAlarm: "alarm", session.TroubleFluid: "fluid wrong",
	session.TroubleConfused: "confused", session.TroubleWeak: "weak", session.TroubleClotting: "clotting",
	session.TroubleLeak: "blood leak", session.TroubleArm: "arm swells", session.TroublePower: "power cut",
	session.TroubleBleeding: "bleeding", session.TroubleFire: "fire",
}

// shortLook names a look by what was felt, or by its value.
func shortLook(v visit, one *session.Session, r session.Remark) string {
	if r.Code == "unwell" {
		return shortened(r.Felt, stepLetters)
	}
	if isLowLook(r) {
		if figure := lowFigure(v, one); figure != "" {
			return "low pressure " + figure
		}
		return "low pressure, no figure"
	}
	name := strings.TrimSuffix(firstSentence(r.Words), ".")
	if at := strings.IndexAny(name, ",;("); at > 0 {
		name = strings.TrimSpace(name[:at])
	}
	if letters := []rune(name); len(letters) > 1 && unicode.IsLower(letters[1]) {
		name = strings.ToLower(string(letters[:1])) + string(letters[1:])
	}
	return shortened(name, stepLetters)
}
