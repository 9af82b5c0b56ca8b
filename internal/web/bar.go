package web

import (
	"strings"
	"time"
	"unicode/utf8"

	"ebbline/internal/household"
	"ebbline/report"
	"ebbline/session"
)

// A bar never leaves while a session is open: how far it has come, the one thing to
// do now, and the way to what to do when something is wrong. A trouble that is open,
// a stop or a look takes the place of the one thing to do, with its number.
type bar struct {
	Phase  string
	Words  string // the one thing to do now, or what was said
	Also   string // what stands beside that, by name
	Link   string // where that is done
	Level  string // barOpen, barStop or barLook; empty for the ordinary next thing
	Mark   string // the shape that stands for the level
	First  string // what to do first
	Steps  string // where the steps are
	ByHand bool   // what to do first may give the blood back by hand
	Phones []report.Phone
	Still  *bloodStill // the blood stands in the lines: said in the place of the words
	Due    *checkDue   // a check that is overdue, beside what stands in the place of it
	Again  time.Time   // when this bar is no longer right; zero where no time is known
}

// The levels of a bar.
const (
	barOpen = "open" // a trouble that is there
	barStop = "stop" // the start line
	barLook = "look" // a remark that stands
)

// barLetters is how many letters of what was said the bar shows; the whole of it
// stands under the bar on the page of the session. So many fit in three lines beside
// the button on a telephone 360 wide (measured).
const barLetters = 72

// stepLetters is how many letters of a step it shows: two lines.
const stepLetters = 30

// barOf gives the bar of a person's open session; nil without one, and for one
// typed in from paper.
func (v visit) barOf() *bar {
	if v.member == nil {
		return nil
	}
	one := v.member.Open()
	if one == nil || fromPaper(one) {
		return nil
	}
	return kept(v, "bar", one, func() *bar { return makeBar(v, one) })
}

func makeBar(v visit, one *session.Session) *bar {
	b := &bar{Link: "/p/" + v.member.ID + "/session/" + one.ID}
	switch one.Phase() {
	case session.SettingUp:
		b.Phase = "Setting up"
		if len(b.says(v, one)) == 0 && !b.stop(v, one) {
			b.settingUp(v, one)
		}
	case session.Running:
		b.Phase = "Running"
		if began, ok := one.Began(); ok {
			b.Phase += " since " + clockFace(began)
		}
		b.whileRunning(v, one)
	default:
		b.Phase = "Coming off"
		if len(b.says(v, one)) == 0 {
			b.comingOff(v, one)
		}
	}
	return b
}

// whileRunning says what is first of a treatment under way. A check that is overdue stands
// beside a look, and beside a low pressure that is open; any other trouble comes before
// every check.
func (b *bar) whileRunning(v visit, one *session.Session) {
	run := v.follow(one)
	late := v.due(one)
	if late == nil {
		b.Again = run.NextCheck
	}
	said := b.says(v, one)
	if b.Level == barOpen {
		if said[0].code == session.TroubleLow {
			b.Due = late
		}
		return
	}
	if len(said) > 0 {
		b.Due = late
	} else if b.stands(v, one) {
		if past := b.Still.PastAt; !b.Still.Past && !past.IsZero() && (b.Again.IsZero() || past.Before(b.Again)) {
			b.Again = past
		}
	} else {
		b.running(v, one)
	}
	b.washback(v, one, said)
}

// place is the address of a place on the page of the bar's session; on that page
// itself no more than the place, which needs no request.
func (b *bar) place(v visit, id string) string {
	return v.onSession(b.Link) + "#" + id
}

// stop names what stands at stop at the start line.
func (b *bar) stop(v visit, one *session.Session) bool {
	checks := session.StartLine(one, v.member.History(one), v.now)
	line := stopLine(checks)
	if line == "" {
		return false
	}
	b.Level, b.Mark, b.Words, b.Link = barStop, "✕", line, b.place(v, "stops")
	ring := session.RingUnit
	if session.AmbulanceToo(checks) {
		ring = session.RingAmbulance
	}
	if session.AmbulanceFirst(checks) != "" {
		b.First, ring = "Ring the ambulance first.", session.RingAmbulance
	}
	b.Phones = phonesFor(v, ring)
	return true
}

// isThere are the looks in which the trouble is there, so that its first acts are what
// to do first; any other asks to look at something, which comes before.
var isThere = map[string]bool{"low_pressure": true, "nadir": true, "unwell": true, "fever": true, "chlorine_out": true}

// lead says what to do first in a trouble, where its steps are and whom to ring;
// without a trouble it is the unit that is rung.
func (b *bar) lead(v visit, code string) {
	t, ok := session.TroubleOf(code)
	if !ok {
		b.Phones = phonesFor(v, session.RingUnit)
		return
	}
	t = t.For(v.rx())
	b.Steps, b.First, b.Phones = "#wrong-"+code, ownFirst(v, t), phonesFor(v, household.Rings(v.house, v.member, t))
	b.ByHand = code == session.TroublePower
}

// firstLines are the first two of the unit's acts, as far as there is room for them.
func firstLines(words string, most int) (first string) {
	acts := 0
	for line := range strings.Lines(words) {
		line = strings.TrimSpace(line)
		if line == "" {
			continue
		}
		if acts++; acts > 2 {
			break
		}
		if !strings.ContainsAny(line[len(line)-1:], ".!?") {
			line += "."
		}
		if first == "" {
			first = shortened(line, most)
		} else if first += " " + line; utf8.RuneCountInString(first) > most {
			return first[:len(first)-len(line)-1]
		}
	}
	return first
}

// phonesFor are the numbers for one who is to be rung first, in the order of
// [household.RingFirst]; the ambulance is there only where it is rung first.
func phonesFor(v visit, ring string) []report.Phone {
	of, others := phonesInTwo(v, ring)
	return append(of, others...)
}

// phonesInTwo is the same list as those of whom is to be rung first, and the others.
func phonesInTwo(v visit, ring string) (of, others []report.Phone) {
	u, ok := v.house.Unit.Now()
	if !ok {
		return nil, nil
	}
	if ring != session.RingAmbulance {
		u.Ambulance = ""
	}
	return household.RingOrder(u, ring, v.now)
}

// settingUp names the next step of the hands, or else of the machine.
func (b *bar) settingUp(v visit, one *session.Session) {
	h := v.member.History(one)
	state := session.ProgressWith(v.member.SetUpFor(one, v.now), one, h, v.now)
	for _, lane := range []string{session.LaneHands, session.LaneMachine} {
		if st, ok := state.Next(lane); ok {
			b.step(v, st)
			return
		}
	}
	b.Words, b.Link = "The start line", b.place(v, "start-line")
	if session.AllPassed(session.StartLine(one, h, v.now)) {
		b.Words, b.Link = "Begin", b.place(v, "begin-part")
	}
}

// comingOff names the next step, or the closing of the session.
func (b *bar) comingOff(v visit, one *session.Session) {
	for _, st := range session.Progress(v.member.SheetFor(one, session.TakeOff), one, v.now).Steps {
		if !st.Over() {
			b.step(v, st)
			return
		}
	}
	b.Words, b.Link = "Close this session", b.place(v, "close")
}

// step names one step, and leads to its form or to its place.
func (b *bar) step(v visit, st session.StepState) {
	b.Words = shortened(firstSentence(st.Words), stepLetters)
	if st.Tick == session.TickValue && st.Entry != "" {
		b.Link += "/" + st.Entry
		return
	}
	b.Link = b.place(v, "step-"+st.ID)
}

// running names what is next of a treatment at which nothing stands to be looked
// at.
func (b *bar) running(v visit, one *session.Session) {
	run := v.follow(one)
	here := b.place(v, "reading-h")
	late := v.due(one)
	switch {
	case heparinDue(run, v.now):
		b.Words = "Heparin off was due at " + clockFace(run.HeparinStop)
		here = b.place(v, "taps")
	case run.NextCheck.IsZero():
		b.Words = "The reading"
	case late != nil:
		b.Due = late
	case b.sugarDue(v, one):
		here = b.Link + "/glucose"
	case run.Asleep():
		b.Words = "Asleep by plan until " + clockFace(run.NextCheck)
	default:
		b.Words = "Next check at " + clockFace(run.NextCheck)
	}
	b.Link = here
}

// heparinDue reports whether the heparin pump should be off and is not.
func heparinDue(run session.Run, now time.Time) bool {
	return !run.HeparinStop.IsZero() && run.HeparinOff.IsZero() && !now.Before(run.HeparinStop)
}

// firstSentence cuts words after their first sentence. A dot after one letter, as in
// a name, ends none.
func firstSentence(words string) string {
	for i := 0; i+1 < len(words); i++ {
		if !strings.ContainsRune(".?!", rune(words[i])) || words[i+1] != ' ' {
			continue
		}
		from := strings.LastIndexByte(words[:i], ' ') + 1
		if words[i] == '.' && utf8.RuneCountInString(words[from:i]) < 2 {
			continue
		}
		return words[:i+1]
	}
	return words
}

// noBrackets leaves out whose bound it is, where a sentence ends with that in brackets.
func noBrackets(sentence string) string {
	if !strings.HasSuffix(sentence, ").") {
		return sentence
	}
	deep := 0
	for i := len(sentence) - 2; i > 0; i-- {
		switch sentence[i] {
		case ')':
			deep++
		case '(':
			deep--
		}
		if deep == 0 {
			return strings.TrimSpace(sentence[:i]) + "."
		}
	}
	return sentence
}

// shortened cuts words at a blank before so many letters, and shows that it did.
func shortened(words string, most int) string {
	letters := []rune(words)
	if len(letters) <= most {
		return words
	}
	cut := string(letters[:most])
	if at := strings.LastIndexByte(cut, ' '); at > 0 {
		cut = cut[:at]
	}
	return strings.TrimRight(cut, " ,;:") + " …"
}
