package session

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
)

// Reached is what a text about a call tells of whether somebody was reached.
type Reached int

// What a text can tell.
const (
	Somebody Reached = iota // nothing in it speaks against it
	Unsure                  // a part of it says that nobody was, or it may be meant so
	Nobody                  // the whole of it tells that: a reason to go past a stop, no call
)

// ReachedBy reads whether somebody was reached by a telephone call, from what was
// written of it. Only the wording is read, clause by clause: a clause that says that
// nobody was reached may hold whom, when and how often beside it. A text of nothing
// but such clauses and of whom was tried is [Nobody]; one that says something else
// too, or that may be what somebody said, is [Unsure]. Wordings as they are common in
// English; ours.
func ReachedBy(text string) Reached {
	low := strings.ToLower(strings.NewReplacer("’", "'", "‘", "'").Replace(text))
	low = clockFace.ReplaceAllString(low, " ")
	most, other := silent, false
	for _, clause := range strings.FieldsFunc(low, func(r rune) bool { return strings.ContainsRune(",;.:!?()[]/\n\t–—“”\"&+", r) }) {
		words := strings.FieldsFunc(clause, func(r rune) bool { return !unicode.IsLetter(r) && r != '\'' })
		left, says := withoutUnreached(words)
		most = max(most, says)
		left = slices.DeleteFunc(left, func(w string) bool { return slices.Contains(besideCall, w) })
		name := slices.ContainsFunc(words, func(w string) bool { return slices.Contains(attempts, w) }) && len(left) <= 2
		other = other || len(left) > 0 && !name // a name: “tried Sister Berg twice”
	}
	switch {
	case most == silent:
		return Somebody
	case !other && most > doubtful:
		return Nobody
	case !other || most == anywhere:
		return Unsure
	}
	return Somebody
}

// clockFace is a time of day as people write it.
var clockFace = regexp.MustCompile(`\b\d{1,2}[:.]\d{2}\b|\b\d{1,2} ?[ap]\.?m\b\.?`)

// force is how surely some words say that nobody was reached.
type force int

const (
	silent   force = iota
	doubtful       // only by themselves, and they may be what was said: “not yet”
	alone          // only by themselves
	anywhere       // within a longer text too
)

// withoutUnreached takes out of a clause the words that say that nobody was
// reached, and gives how surely they do.
func withoutUnreached(words []string) (left []string, says force) {
	for i := 0; i < len(words); {
		n, how := 0, silent
		for _, p := range unreached {
			if len(p.words) > n && i+len(p.words) <= len(words) && slices.Equal(p.words, words[i:i+len(p.words)]) {
				n, how = len(p.words), p.force
			}
		}
		if n == 0 {
			left = append(left, words[i])
			n = 1
		}
		says = max(says, how)
		i += n
	}
	return left, says
}

// A wording is some words that say that nobody was reached.
type wording struct {
	words []string
	force
}

// unreached are the wordings.
var unreached = func() (list []wording) {
	add := func(how force, phrases ...string) {
		for _, p := range phrases {
			list = append(list, wording{strings.Fields(p), how})
		}
	}
	add(anywhere, "nobody", "noone", "no one", "no-one", "not anyone", "not anybody", "no answer", "no answers", "no reply", "no response", "no luck",
		"no contact", "no connection", "no signal", "no network", "unanswered", "unreachable", "unreached", "engaged", "busy", "voicemail", "voice mail", "answerphone",
		"answer phone", "answering machine", "mailbox", "answering service", "tried", "rang out", "rings out", "rang and rang", "kept ringing", "just rang", "just rings",
		"no joy", "in vain", "without success", "without answer", "without an answer", "unsuccessful", "unsuccessfully")
	for _, not := range []string{
		"not", "never", "didn't", "didnt", "did not", "don't", "dont", "do not", "doesn't", "doesnt", "does not", "won't", "wont", "would not", "wouldn't",
		"couldn't", "couldnt", "could not", "can't", "cant", "cannot", "can not", "unable to", "failed to", "was not", "wasn't", "wasnt", "haven't", "have not",
		"hasn't", "has not", "not been able to", "isn't", "is not", "were not", "weren't", "nobody", "no one", "noone",
	} {
		for _, did := range []string{
			"answer", "answered", "answering", "reply", "replied", "respond", "responded", "reach", "reached", "reachable", "available", "pick up", "picked up",
			"picking up", "get through", "got through", "getting through", "connect", "connected", "get anyone", "get anybody", "reach anyone", "reach anybody",
			"reached anyone", "reached anybody", "get hold of", "come to the phone", "there",
		} {
			add(anywhere, not+" "+did)
		}
		for _, did := range []string{"ring", "rang", "rung", "call", "called", "phone", "phoned", "try", "rung yet", "called yet"} {
			if !strings.HasPrefix(not, "do") || strings.HasPrefix(not, "doe") { // “do not ring” is said by who was reached
				add(alone, not+" "+did)
			}
		}
	}
	add(alone, "none", "nil", "no call", "no calls", "attempted", "left a message", "left message", "message left", "left word", "on hold", "held the line",
		"in the queue", "line dead", "dead line", "phone dead", "no line", "no tone", "no phone", "will ring", "will call", "will ring later", "will call later",
		"not applicable", "not yet rung", "not yet called", "not rung yet")
	add(doubtful, "no", "nothing", "not", "never", "not yet", "waiting", "waited", "closed", "later", "try later", "try again", "ring later", "to ring", "to call",
		"hung up", "cut off", "answered", "away", "out", "off", "asleep", "anyone", "anybody", "unknown")
	return list
}()

// attempts begin a clause of whom one tried to reach.
var attempts = []string{"tried", "trying", "rang", "rung", "called", "phoned", "telephoned", "attempted", "reach", "hold"}

// besideCall are words that say nothing of what was said: who was rung, how, when
// and how often.
var besideCall = strings.Fields("i we me us my our the a an of at all on in to by from for with and or but so then it its is was were are there here has have had been " +
	"be only just still again yet now today tonight this that evening night morning day afternoon midnight noon since until till after before about around times time once twice " +
	"thrice two three four five six several many both each every either also even first second last rang ring ringing rings rung call called calling calls phone phoned phones " +
	"telephone telephoned telephones tried trying try attempt attempts attempted number numbers line lines mobile landline unit units ward hospital clinic centre center nurse " +
	"nurses sister doctor dr technician ambulance emergency service services call-out on-call duty oncall team them they he she him her anyone anybody who whom minutes minute " +
	"min hours hour h o'clock oclock am pm always constantly long up out through hold x s m tone signal message kidney renal person people staff office desk " +
	"reception switchboard answer answered get got reached reach whatsoever whatever ever more than very sadly unfortunately though but however dialled dialed")
