package session

import (
	"slices"
	"strings"
	"unicode"
)

// What is read from the words of a person. Only single words are read, with a "no"
// before them; whatever else the words say stands beside the remark as written.

// tells reports whether words of one's own hold one of a few words, with no "no"
// before it. A "no" counts for the next word, and over "or", "nor", "any" and, but
// for a "not", "and" for the one behind; a stop, a comma or a colon ends it. So "no
// cramps or shivering" tells of neither, "no fever, shivering hard" and "not well
// and shivering" do. Ours.
func tells(said string, of []string) bool {
	for _, clause := range strings.FieldsFunc(strings.ToLower(said), func(r rune) bool { return strings.ContainsRune(",.;:!?\n", r) }) {
		no, over := "", false // the "no" that counts, and whether its word has come
		for _, w := range strings.FieldsFunc(clause, func(r rune) bool { return !unicode.IsLetter(r) }) {
			switch {
			case slices.Contains(noWords, w):
				no, over = w, false
			case no != "" && (slices.Contains(overNo, w) || w == "and" && no != "not"):
				over = false
			case no == "" || over:
				no = ""
				if slices.Contains(of, w) {
					return true
				}
			default:
				over = true
			}
		}
	}
	return false
}

var (
	noWords = []string{"no", "not", "without", "never", "nor"}
	overNo  = []string{"any", "more", "or"} // "no more chills", "no fever or chills"
)

// hasChills reports whether words about feeling unwell tell of chills: one of the
// common words for them. "Feverish" is none. Ours.
func hasChills(words string) bool { return tells(words, chills) }

var chills = []string{
	"chill", "chills", "shiver", "shivers", "shivering", "shivered", "shivery", "rigor", "rigors", "shaking", "chattering",
}

// namesEase reports whether words tell of a fall of pressure or a cramp, for which
// saline is given. Ours.
func namesEase(words string) bool {
	words = strings.ReplaceAll(words, "_", " ")
	if tells(words, easeWords) {
		return true
	}
	joined := strings.Join(strings.Fields(strings.ToLower(words)), " ")
	for _, two := range lowWords {
		joined = strings.ReplaceAll(joined, two, "hypotension")
	}
	return tells(joined, easeWords[:1])
}

var (
	easeWords = []string{
		"hypotension", "hypotensive", "cramp", "cramps", "cramping", "cramped", "faint", "fainted", "fainting", "dizzy", "dizziness", "giddy", "lightheaded",
	}
	lowWords = []string{
		"low blood pressure", "low pressure", "low-pressure", "low bp", "bp low", "pressure low", "pressure was low", "pressure fell", "pressure dropped", "pressure drop", "fall of pressure", "drop in pressure",
	}
)

// feltLeads gives the trouble that words of one's own about a feeling name; empty
// where they name none. Where several are named, the gravest comes first.
func feltLeads(words string) string {
	for _, f := range feltWords {
		if tells(words, f.words) && (f.beside == nil || tells(words, f.beside)) {
			return f.trouble
		}
	}
	return ""
}

// feltWords are those words, in the order in which they are looked for. Being dizzy is
// not among them: it is common, and has no steps of its own. Ours.
var feltWords = []wordsOfTrouble{
	{TroubleHeart, []string{"chest", "heart", "palpitations", "angina", "jaw"}, nil},
	{TroubleHeart, []string{"breath", "breathe", "breathing", "breathless", "breathlessness"}, nil},
	{TroubleAir, []string{"air", "foam", "bubble", "bubbles"}, []string{"line", "lines", "chamber", "blood", "tube", "tubes"}},
	{TroubleReaction, []string{"wheeze", "wheezing", "wheezy", "hives", "itch", "itching", "itchy", "itches"}, nil},
	{TroubleReaction, []string{"face", "lips", "tongue", "throat", "mouth"}, []string{"swelling", "swollen", "swells", "tight", "thick", "closing"}},
	{TroubleDark, []string{"dark", "cherry", "port"}, []string{"blood"}},
	{TroubleBlood, []string{"blood", "wet"}, []string{"sheet", "sheets", "bed", "floor", "bandage", "tape", "arm", "everywhere", "needle", "wet", "leaking", "out"}},
	{TroubleBlood, []string{"needle"}, []string{"out", "slipped"}},
	{TroubleBlood, []string{"bleeding", "bleeds"}, nil},
	{TroubleDark, []string{"back"}, []string{"pain", "pains", "ache", "aches", "hurts", "hurting"}},
	{TroubleDark, []string{"backache"}, nil},
	{TroubleDark, []string{"shoulders"}, []string{"pain", "between"}},
	{TroubleConfused, []string{"confused", "confusion", "muddled", "seizure", "convulsion", "slurred"}, nil},
	{TroubleConfused, []string{"numb"}, []string{"arm", "leg", "face", "side"}},
	{TroubleConfused, []string{"words", "speak", "speech"}, []string{"find", "cannot", "can", "slow"}},
	{TroubleConfused, []string{"sugar"}, []string{"low"}},
	{TroubleLow, []string{"faint", "fainted", "fainting", "blackout", "collapsed"}, nil},
	{TroubleLow, []string{"blacked", "passed"}, []string{"out"}},
	{TroubleWeak, []string{"weak", "heavy"}, []string{"legs", "leg"}},
	{TroubleArm, []string{"arm"}, []string{"swells", "swelling", "swollen"}},
	{TroubleFever, []string{"feverish", "fever"}, nil},
	{TroubleFever, chills, nil},
}

// AlarmLeads gives the trouble whose steps an alarm in own words leads to: the one
// that a single word of it names, and the machine alarm for every other. It opens
// no trouble. Where several are named, the one whose blood stays out comes first.
// Ours.
func AlarmLeads(words string) string {
	for _, a := range alarmWords {
		if tells(words, a.words) && (a.beside == nil || tells(words, a.beside)) {
			return a.trouble
		}
	}
	return TroubleAlarm
}

// wordsOfTrouble are words that name a trouble.
type wordsOfTrouble struct {
	trouble       string
	words, beside []string
}

// alarmWords are the words that name a trouble, in the order in which they are
// looked for; beside is a second one that must stand there too.
var alarmWords = []wordsOfTrouble{
	{TroubleAir, []string{"air", "foam", "bubble", "bubbles"}, nil},
	{TroubleLeak, []string{"leak", "leaks", "leaking", "leakage"}, []string{"blood"}},
	{TroubleLeak, []string{"bloodleak"}, nil},
	{TroubleFluid, []string{"temperature", "temp", "hot", "overheated", "conductivity"}, nil},
	{TroubleClotting, []string{"clot", "clots", "clotting", "clotted"}, nil},
}
