package web

import (
	"slices"
	"strings"
	"time"

	"ebbline/internal/household"
	"ebbline/report"
	"ebbline/session"
	"ebbline/unit"
)

// wrong is what to do when something is wrong: part of every page of a person with
// an open session, of the card and of Today, so that it is there when the server is
// gone.
type wrong struct {
	Base   string // of the session that can be written into; empty where there is none
	Person string
	Phones []report.Phone
	Few    []report.Phone // those of the list: the technician's is under the troubles
	Card   report.Card
	Has    bool // there is a card
	First  []tile
	Rest   []tile
	Kept   []keptWords
	Out    string // while a trouble is open in which the blood stays out: its rule
	Good   string // what stays good of a page when the server is gone; empty where nothing does
}

// A tile is one kind of trouble, and all that is said of it.
type tile struct {
	session.TroubleType
	Steps  report.CardTrouble
	Given  bool          // the unit gave steps
	Whom   string        // to ring first, where it gave none
	Open   *openTrouble  // it is there
	Low    *pressureRead // under low pressure
	Sugar  *tileSugar    // under what a low blood sugar looks like; nil where none can be written down
	Typed  *typedHere    // on this page, and not saved
	Rest   bool          // something of a reading of this page is not saved
	Asks   []wrongAsk    // is it something else?
	Power  *powerCut
	Fluid  *fluidHeld // under a fluid too hot or wrong: what opened it
	Held   *bloodHeld // another open trouble by which the blood stays out
	NoHand bool       // the unit's steps for giving the blood back by hand are left out
	Stood  bool       // the blood stood longer than the unit's figure: the same
	Do     *wrongDo   // nil where nothing can be written down
	Past   bool       // the treatment has ended, and the unit's steps name what is for the run only
	There  string     // where it can, on another page
}

// Lines are the acts as they are read: the unit's own, or those that no unit
// differs on.
func (t tile) Lines() []report.CardLine {
	words := t.Steps.Words
	if !t.Given {
		words = t.Acts
	}
	return report.Card{Words: words}.Lines()
}

// openTrouble is a trouble that is there, with how long at the time of the page.
type openTrouble struct {
	Since time.Time
	For   string
	Entry string // that opened it
}

// A wrongAsk is a question that leads to another trouble.
type wrongAsk struct{ Words, Code string }

// lowAsks are what is asked under low pressure: what looks like it, and is worse.
var lowAsks = []wrongAsk{
	{"Blood or wet anywhere?", session.TroubleBlood}, {"Chest pain?", session.TroubleHeart}, {"Breathless?", session.TroubleHeart},
	{"Shivering?", session.TroubleFever}, {"Dark blood?", session.TroubleDark}, {"Sugar low?", session.TroubleConfused},
}

// powerCut is how long the blood stands, beside the unit's own figure.
type powerCut struct {
	Within *unit.Minutes // until it is no longer given back; the unit's own
	Past   bool
}

// wrongOf gives it for a page; nil where the page belongs to nobody, or to none of
// session, card and Today. On the card, which is open to screens that are not
// paired, it is for reading only; such a screen is told of a session only that the
// blood stays out, since somebody may read the steps there and give it back.
func (v visit) wrongOf(page view) *wrong {
	here := page.here == "session" || page.here == "today"
	if v.member == nil || v.member.Open() == nil && !here && page.here != "card" {
		return nil
	}
	w := wrong{Person: v.member.ID, Card: household.Card(v.house, v.member, v.today())}
	_, w.Has = v.member.Cards.Now()
	if u, ok := v.house.Unit.Now(); ok {
		w.Phones = household.RingFirst(u, session.RingAmbulance, v.now)
		w.Few = w.Phones[:min(len(w.Phones), 2)] // beside eight tiles two are whole; all are in every tile
	}
	held := openOf(v)
	w.Out = outOf(held, page.stranger)
	one := v.member.Open()
	if one != nil && (fromPaper(one) || page.here == "card") {
		one = nil
	}
	open := map[string]*openTrouble{}
	if one != nil {
		w.Kept = keptTroubles(one.Rx)
		w.Base = "/p/" + v.member.ID + "/session/" + one.ID
		for _, o := range v.troubles(one) {
			open[o.Code] = &openTrouble{o.Since, span(v.now.Sub(o.Since)), o.Entry}
		}
	}
	anySteps := false
	for _, t := range session.TroublesFor(v.rx()) {
		made := tile{TroubleType: t, Whom: ringWords[t.Ring], Open: open[t.Code]}
		made.Steps, made.Given = household.Steps(v.house, v.member, t, v.today(), v.now)
		anySteps = anySteps || made.Given
		made.about(v, one)
		made.Typed, made.Rest = page.typedOn(t.Code), v.URL.Query().Has("rest")
		if v.hasEnded() && !page.stranger {
			made.after()
		}
		made.hold(held, page.stranger)
		if one != nil {
			made.writing(v, one, w.Base, here)
		}
		if t.First {
			w.First = append(w.First, made)
		} else {
			w.Rest = append(w.Rest, made)
		}
	}
	w.Good = stillGood(len(w.Phones) > 0, w.Has, anySteps)
	return &w
}

// ringWords are whom to ring, as a sentence goes on.
var ringWords = map[string]string{session.RingAmbulance: "the ambulance", session.RingUnit: "your unit", session.RingTechnician: "the technician"}

// stillGood says what of a page stays good when the program no longer answers: only
// what is there.
func stillGood(numbers, card, steps bool) string {
	var list []string
	for _, one := range []struct {
		is    bool
		words string
	}{{numbers, "the numbers"}, {card, "the card"}, {steps, "your unit’s steps"}} {
		if one.is {
			list = append(list, one.words)
		}
	}
	last := len(list) - 1
	if last < 1 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:last], ", ") + " and " + list[last]
}

// writing fills the taps, or the way to them: only the pages of a session and Today
// hold them, so that the others stay small.
func (t *tile) writing(v visit, one *session.Session, base string, here bool) {
	if slices.Contains(sugarTile, t.Code) {
		t.Sugar = sugarFor(v, one, base, t.Code)
	}
	if here {
		t.Do = t.doing(v, one, base)
	} else {
		t.There = base + "#wrong-" + t.Code
	}
}

// about fills what one trouble shows besides: the last pressure and what else it
// could be, or how long the blood stands.
func (t *tile) about(v visit, one *session.Session) {
	switch t.Code {
	case session.TroubleLow:
		t.Asks = lowAsks
		if one != nil {
			read := v.pressure(one)
			t.Low = &read
		}
	case session.TroubleFluid:
		if one != nil && t.Open != nil {
			t.Fluid = fluidOpened(one, t.Open.Entry)
		}
	case session.TroublePower:
		t.Power, t.Steps.Figures = &powerCut{}, nil
		if steps := v.member.StepsFor(t.Code); steps != nil {
			t.Power.Within = steps.Value.BackIn
		}
		if one != nil && v.stoodTooLong(one) {
			t.Power.Past, t.Stood = true, true
			t.Steps.Blood, t.Steps.Words = "Give the blood back: no longer. It has stood past your unit’s figure.", t.Acts
		}
	}
}
