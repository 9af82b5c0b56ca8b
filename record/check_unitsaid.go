package record

import (
	"slices"
	"strings"
	"unicode"
)

// unitsWord holds what stands for the unit's word against what it has to be: who,
// and what was said, so two words at least. It asks where a word speaks against it,
// or where it speaks of oneself only. The lists are ours; what is meant no list
// knows, so that a question it is, not a refusal.
func (c *Checker) unitsWord(key, text, what, yes string) {
	words, names := wordsIn(text)
	if said := slices.DeleteFunc(slices.Clone(words), isMashed); len(slices.Compact(slices.Sorted(slices.Values(said)))) < 2 {
		c.Refuse(key, "is too short: %s, in two words at least", what)
		return
	}
	if c.reached(key, text); c.found.On(key) != "" {
		return
	}
	against := slices.IndexFunc(words, func(w string) bool { return slices.Contains(saysNo, w) })
	own := slices.ContainsFunc(words, func(w string) bool { return slices.Contains(ownWords, w) })
	theirs := names || slices.ContainsFunc(words, func(w string) bool { return slices.Contains(unitWords, w) })
	switch {
	case against >= 0:
		c.Ask(key, "has “%s” in it. If your unit said %s, type it again", words[against], yes)
	case own && !theirs:
		c.Ask(key, "names nobody of your unit. If your unit said %s, type it again", yes)
	}
}

// saysNo are words that speak against what was asked.
var saysNo = strings.Fields("no not never nor don't dont doesn't doesnt won't wont can't cant cannot mustn't mustnt shouldn't shouldnt isn't isnt " +
	"leave leaves stay stays out without wait discard")

// ownWords are words for oneself and those at home.
var ownWords = strings.Fields("i i'm i've me my mine myself we us our ourselves wife husband partner mother father mum mom dad son daughter friend neighbour")

// unitWords are words for those who speak for the unit.
var unitWords = strings.Fields("unit nurse nurses sister doctor doctors dr ward technician hospital clinic matron registrar consultant nephrologist " +
	"team staff centre center call ambulance paramedic")

// ownVerbs may stand with a capital where no name is.
var ownVerbs = strings.Fields("decided think thought know knew feel felt say said ok okay yes go it the and")

// wordsIn gives the words of a text in small letters, and reports whether one after
// the first looks like a name: a capital, and none of the words for oneself. In
// scripts that set no spaces each sign is a word.
func wordsIn(text string) (words []string, named bool) {
	text = strings.NewReplacer("’", "'", "‘", "'").Replace(text)
	var spaced strings.Builder
	for _, r := range text {
		if unicode.In(r, unicode.Han, unicode.Hiragana, unicode.Katakana, unicode.Thai, unicode.Lao, unicode.Khmer, unicode.Myanmar) {
			spaced.WriteRune(' ')
		}
		spaced.WriteRune(r)
	}
	for i, w := range strings.FieldsFunc(spaced.String(), func(r rune) bool { return !unicode.IsLetter(r) && r != '\'' }) {
		low := strings.Trim(strings.ToLower(w), "'")
		if low == "" {
			continue
		}
		words = append(words, low)
		first := []rune(w)[0]
		named = named || i > 0 && unicode.IsUpper(first) && !slices.Contains(ownWords, low) && !slices.Contains(ownVerbs, low)
	}
	return words, named
}

// isMashed reports whether a word is one letter again and again.
func isMashed(w string) bool {
	letters := []rune(w)
	return len(letters) > 1 && strings.Trim(w, string(letters[0])) == ""
}
