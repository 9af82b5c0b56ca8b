package access

import (
	"time"

	"ebbline/unit"
)

// A Thrill is what a hand laid on the access felt.
type Thrill string

// The thrills. An access that beats like a pulse, or buzzes less than it did,
// is one behind a narrowing (common practice: look, listen, feel).
const (
	NotFeltFor Thrill = "" // nobody has felt for it
	Felt       Thrill = "present"
	Weaker     Thrill = "weaker"
	Beating    Thrill = "beating"
	NoThrill   Thrill = "absent"
)

// A Bruit is what was heard over the access.
type Bruit string

// The bruits.
const (
	NotListened Bruit = ""
	Heard       Bruit = "present"
	NoBruit     Bruit = "absent"
)

// A Local is a set of signs at the access itself. The record knows no places
// for them, so the whole access counts as one site.
type Local struct{ Red, Warm, Tender, Swollen bool }

// Seen is when each local sign was last seen, and pus; zero for never.
type Seen struct{ Red, Warm, Tender, Swollen, Pus time.Time }

// Put notes signs that were seen at a moment.
func (s *Seen) Put(l Local, at time.Time) {
	one := func(is bool) time.Time {
		if is {
			return at
		}
		return time.Time{}
	}
	*s = s.or(Seen{one(l.Red), one(l.Warm), one(l.Tender), one(l.Swollen), time.Time{}})
}

// PutPus notes pus or discharge that was seen at a moment.
func (s *Seen) PutPus(at time.Time) { *s = s.or(Seen{Pus: at}) }

// or gives the later of two moments for each sign.
func (s Seen) or(o Seen) Seen {
	one := func(a, b time.Time) time.Time {
		if b.After(a) {
			return b
		}
		return a
	}
	return Seen{one(s.Red, o.Red), one(s.Warm, o.Warm), one(s.Tender, o.Tender), one(s.Swollen, o.Swollen), one(s.Pus, o.Pus)}
}

// Together is how long signs count as one trouble: two of them within seven
// days, the last moment included. Ours.
const Together = 7 * 24 * time.Hour

// within leaves in the signs seen no longer than [Together] before a moment,
// and not after it.
func (s Seen) within(at time.Time) Seen {
	one := func(seen time.Time) time.Time {
		if seen.After(at) || at.Sub(seen) > Together {
			return time.Time{}
		}
		return seen
	}
	return Seen{one(s.Red), one(s.Warm), one(s.Tender), one(s.Swollen), one(s.Pus)}
}

// count is how many of the local signs were seen; pus is none of them.
func (s Seen) count() int {
	n := 0
	for _, at := range []time.Time{s.Red, s.Warm, s.Tender, s.Swollen} {
		if !at.IsZero() {
			n++
		}
	}
	return n
}

// FeverFrom is from when a body temperature is a fever here, where the unit set
// no limit. Source: case definition of a pyrogenic reaction, 37.8 °C or chills
// (Gordon SM et al., JAMA 1988;260:2077–81, from memory).
const FeverFrom unit.Temperature = 378

// A Cuff is what is seen of a catheter's cuff, which lies under the skin; empty where
// nobody looked.
type Cuff string

// An Outside is how long a catheter is outside the skin; empty where nobody looked.
type Outside string

// What is seen of a catheter.
const (
	CuffHidden  Cuff = "hidden"
	CuffShowing Cuff = "showing"

	AsBefore      Outside = "as_before"
	LongerOutside Outside = "longer"
)

// An Exam is the access looked at, felt and listened to before a session, with
// what else of the person may be a sign of infection.
type Exam struct {
	Kind      Kind
	Technique Technique
	Thrill    Thrill
	Bruit     Bruit
	Skin      bool // looked at
	At        time.Time
	Now       Seen // in this session
	Before    Seen // in earlier ones

	Cuff    Cuff    // of a catheter
	Outside Outside // of a catheter
	Held    bool    // cuff and length are answered each time; else only what was seen counts

	Pus, Bulge, Chills bool
	Hand               bool             // newly white, cold and numb or painful
	Arm                bool             // whole arm newly swollen
	Highest            unit.Temperature // body temperature of this session; 0: none written
	Fever              bool             // told by the person

	// What the unit wrote of this access and person.
	HeardNotFelt bool              // it has no thrill to feel; the bruit stands for it
	Listen       bool              // it is listened to each time
	FeverLimit   *unit.Temperature // nil: [FeverFrom]
}

// An Act is what a sign asks for.
type Act string

// The acts, from the mildest.
const (
	Go     Act = "go"     // nothing is amiss
	Watch  Act = "watch"  // go on; it is said
	Answer Act = "answer" // something was not looked at
	Ring   Act = "ring"   // do not start; ring the unit
)

// A Sign is one thing found.
type Sign string

// The signs, in the order in which [Exam.Judge] finds them.
const (
	NoFlow        Sign = "no_flow"        // neither thrill nor bruit
	NoThrillAlone Sign = "no_thrill"      // and nobody listened
	ThrillLost    Sign = "thrill_lost"    // the bruit is heard
	Unheard       Sign = "unheard"        // an access that is heard, not felt; nobody listened
	HeardOnly     Sign = "heard_only"     // as the unit wrote
	Unfelt        Sign = "unfelt"         // nobody felt for the thrill
	Silent        Sign = "silent"         // nor was a bruit heard
	BruitLost     Sign = "bruit_lost"     // the thrill is felt
	Unlistened    Sign = "unlistened"     // the unit asks for it each time
	ThrillWeaker  Sign = "thrill_weaker"  // than it was
	ThrillBeating Sign = "thrill_beating" // like a pulse
	Discharge     Sign = "pus"
	Febrile       Sign = "fever"
	Rigor         Sign = "chills"
	BulgeGrew     Sign = "bulge" // or has thin, shiny skin
	HandPale      Sign = "hand"
	ArmSwollen    Sign = "arm"
	TwoSigns      Sign = "two_signs"     // at the access within seven days
	OneSign       Sign = "one_sign"      //
	TwoBefore     Sign = "two_before"    // within seven days, none of them today
	PusBefore     Sign = "pus_before"    // within seven days, none today
	InButtonhole  Sign = "in_buttonhole" // an infection where buttonholes are used
	SkinUnseen    Sign = "skin_unseen"   // nobody looked
	Well          Sign = "well"          // felt, heard, clean
	WellUnheard   Sign = "well_unheard"  // felt and clean; nobody listened
	WellExit      Sign = "well_exit"     // the exit site of a catheter, its cuff and length
	WellSkin      Sign = "well_skin"     // the exit site of a catheter; cuff or length not answered
	CuffShows     Sign = "cuff"          // the catheter has come out by so much
	Longer        Sign = "longer"        // outside than it was
	HeldUnseen    Sign = "held_unseen"   // nobody looked at one of the two
)

// A Found is one sign with what it asks for.
type Found struct {
	Sign Sign
	Act  Act
	Seen Seen // of signs at the access: which count, and when each was last seen
	// Lasts is set where a better look does not take the sign back: the unit
	// is rung about it first.
	Lasts bool
}

// Judge holds an exam against one rule, the only one of the program:
//
//	no thrill: do not needle, ring now, whether or not a bruit is heard; but an
//	  access of which the unit wrote that it is heard and not felt goes by the
//	  bruit alone
//	thrill felt and bruit not heard, a thrill that is weaker or beats like a
//	  pulse: look, go on
//	not listened, with a thrill: nothing, unless the unit asks for it each time
//	pus; fever (the unit's limit, else 37.8 °C) or chills; a bulge that grew or
//	  has thin, shiny skin; a hand newly white, cold and numb or painful; a whole
//	  arm newly swollen: ring, each by itself
//	two of red, warm, tender, swollen within seven days: ring; one: look
//
// A catheter whose cuff shows, or that is longer outside than before, has moved: ring.
// Where [Exam.Held] is set each is asked about; one that was not answered is not looked at.
//
// Two such signs of the days before with none today are a look, and so is pus of
// the days before. A catheter has
// no thrill; its exit site is judged by the same signs. With buttonholes, whose
// infections reach the blood more often (Staphylococcus aureus almost seven
// times, Glerup 2019), any sign of infection that asks to ring is said once
// more. Where nothing is amiss the answer holds one sign that asks for [Go].
//
// Sources: common practice (look, listen, feel; a lost thrill is a clot until
// shown otherwise; a growing bulge with thin skin can burst; a pale, cold,
// painful hand is stolen blood); fever see [FeverFrom]; seven days and the two
// of four are ours.
func (x Exam) Judge() []Found {
	var list []Found
	add := func(s Sign, a Act) { list = append(list, Found{Sign: s, Act: a}) }
	well := WellExit
	if x.Kind == Catheter {
		if x.Cuff == "" || x.Outside == "" {
			well = WellSkin
		}
		x.held(add)
		for i := range list {
			f := &list[i]
			f.Lasts = f.Sign == CuffShows || f.Sign == Longer
		}
	} else {
		well = x.flow(add)
		for i := range list {
			f := &list[i]
			f.Lasts = f.Sign == NoFlow || f.Sign == NoThrillAlone || f.Sign == ThrillLost
		}
	}
	infected := false
	for _, one := range []struct {
		is        bool
		sign      Sign
		infection bool
	}{
		{x.Pus, Discharge, true}, {x.Fever || x.Hot(), Febrile, true}, {x.Chills, Rigor, true},
		{x.Bulge, BulgeGrew, false}, {x.Hand, HandPale, false}, {x.Arm, ArmSwollen, false},
	} {
		if one.is {
			add(one.sign, Ring)
			infected = infected || one.infection
		}
	}
	now := x.Now.within(x.At)
	all := now.or(x.Before.within(x.At))
	looked := x.Skin || x.Pus || x.Bulge || now.count() > 0
	switch {
	case now.count() > 0 && all.count() > 1:
		list = append(list, Found{Sign: TwoSigns, Act: Ring, Seen: all})
		infected = true
	case now.count() > 0:
		list = append(list, Found{Sign: OneSign, Act: Watch, Seen: all})
	case !looked:
		add(SkinUnseen, Answer)
	case all.count() > 1:
		list = append(list, Found{Sign: TwoBefore, Act: Watch, Seen: all})
	}
	if looked && !x.Pus && !all.Pus.IsZero() {
		list = append(list, Found{Sign: PusBefore, Act: Watch, Seen: all})
	}
	if infected && x.Technique == Buttonhole && x.Kind != Catheter {
		add(InButtonhole, Ring)
	}
	if len(list) == 0 {
		add(well, Go)
	}
	return list
}

// Hot reports whether a fever was measured: by the unit's limit, else from
// [FeverFrom].
func (x Exam) Hot() bool {
	if x.FeverLimit != nil {
		return x.Highest >= *x.FeverLimit
	}
	return x.Highest >= FeverFrom
}

// held judges whether a catheter is where it was.
func (x Exam) held(add func(Sign, Act)) {
	if x.Cuff == CuffShowing {
		add(CuffShows, Ring)
	}
	if x.Outside == LongerOutside {
		add(Longer, Ring)
	}
	if x.Held && (x.Cuff == "" || x.Outside == "") {
		add(HeldUnseen, Answer)
	}
}

// flow judges whether blood runs through a fistula or a graft; it returns what
// is so where nothing is amiss.
func (x Exam) flow(add func(Sign, Act)) (well Sign) {
	felt := x.Thrill != NoThrill && x.Thrill != NotFeltFor
	switch {
	case felt:
		switch x.Thrill {
		case Weaker:
			add(ThrillWeaker, Watch)
		case Beating:
			add(ThrillBeating, Watch)
		}
		switch {
		case x.Bruit == NoBruit:
			add(BruitLost, Watch)
		case x.Bruit == NotListened && x.Listen:
			add(Unlistened, Answer)
		case x.Bruit == NotListened:
			return WellUnheard
		}
		return Well
	case x.HeardNotFelt && x.Bruit == Heard:
		return HeardOnly
	case x.HeardNotFelt && x.Bruit == NoBruit, x.Thrill == NoThrill && x.Bruit == NoBruit:
		add(NoFlow, Ring)
	case x.Thrill == NotFeltFor && x.Bruit == NoBruit:
		add(Silent, Answer)
	case x.Thrill == NotFeltFor:
		add(Unfelt, Answer)
	case x.HeardNotFelt:
		add(Unheard, Ring)
	case x.Bruit == Heard:
		add(ThrillLost, Ring)
	default:
		add(NoThrillAlone, Ring)
	}
	return Well
}
