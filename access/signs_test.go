package access

import (
	"slices"
	"testing"
	"time"

	"ebbline/unit"
)

// The truth table of the rule. Every row says all that is found of it, in order.
func TestSigns(t *testing.T) {
	at := time.Date(2026, 3, 12, 17, 2, 0, 0, time.UTC)
	days := func(n int) time.Time { return at.AddDate(0, 0, -n) }
	limit := unit.Temperature(385)
	held := func(set func(*Exam)) func(*Exam) {
		return func(x *Exam) {
			x.Kind, x.Cuff, x.Outside = Catheter, CuffHidden, AsBefore
			set(x)
		}
	}
	for _, tt := range []struct {
		name string
		set  func(*Exam)
		want []Found
	}{
		{"well", func(*Exam) {}, found(Well, Go)},

		// Thrill and bruit, each with each.
		{"felt, not heard", func(x *Exam) { x.Bruit = NoBruit }, found(BruitLost, Watch)},
		{"felt, not listened", func(x *Exam) { x.Bruit = NotListened }, found(WellUnheard, Go)},
		{"weaker, heard", func(x *Exam) { x.Thrill = Weaker }, found(ThrillWeaker, Watch)},
		{"weaker, not heard", func(x *Exam) { x.Thrill, x.Bruit = Weaker, NoBruit }, found(ThrillWeaker, Watch, BruitLost, Watch)},
		{"weaker, not listened", func(x *Exam) { x.Thrill, x.Bruit = Weaker, NotListened }, found(ThrillWeaker, Watch)},
		{"beating", func(x *Exam) { x.Thrill = Beating }, found(ThrillBeating, Watch)},
		{"no thrill, heard", func(x *Exam) { x.Thrill = NoThrill }, lasting(ThrillLost)},
		{"no thrill, not heard", func(x *Exam) { x.Thrill, x.Bruit = NoThrill, NoBruit }, lasting(NoFlow)},
		{"no thrill, not listened", func(x *Exam) { x.Thrill, x.Bruit = NoThrill, NotListened }, lasting(NoThrillAlone)},
		{"not felt for, heard", func(x *Exam) { x.Thrill = NotFeltFor }, found(Unfelt, Answer)},
		{"not felt for, not heard", func(x *Exam) { x.Thrill, x.Bruit = NotFeltFor, NoBruit }, found(Silent, Answer)},
		{"neither felt for nor listened", func(x *Exam) { x.Thrill, x.Bruit = NotFeltFor, NotListened }, found(Unfelt, Answer)},

		// The unit asks for listening.
		{"asked: heard", func(x *Exam) { x.Listen = true }, found(Well, Go)},
		{"asked: not listened", func(x *Exam) { x.Listen, x.Bruit = true, NotListened }, found(Unlistened, Answer)},
		{"asked: no thrill, not listened", func(x *Exam) { x.Listen, x.Thrill, x.Bruit = true, NoThrill, NotListened }, lasting(NoThrillAlone)},

		// The unit wrote that this access is heard, not felt.
		{"heard only: heard", func(x *Exam) { x.HeardNotFelt, x.Thrill = true, NoThrill }, found(HeardOnly, Go)},
		{"heard only: not felt for, heard", func(x *Exam) { x.HeardNotFelt, x.Thrill = true, NotFeltFor }, found(HeardOnly, Go)},
		{"heard only: not heard", func(x *Exam) { x.HeardNotFelt, x.Thrill, x.Bruit = true, NoThrill, NoBruit }, lasting(NoFlow)},
		{"heard only: not felt for, not heard", func(x *Exam) { x.HeardNotFelt, x.Thrill, x.Bruit = true, NotFeltFor, NoBruit }, lasting(NoFlow)},
		{"heard only: not listened", func(x *Exam) { x.HeardNotFelt, x.Thrill, x.Bruit = true, NoThrill, NotListened }, found(Unheard, Ring)},
		{"heard only: felt after all", func(x *Exam) { x.HeardNotFelt = true }, found(Well, Go)},

		// Signs that stop by themselves.
		{"pus", func(x *Exam) { x.Pus = true }, found(Discharge, Ring)},
		{"37.7 °C", func(x *Exam) { x.Highest = 377 }, found(Well, Go)},
		{"37.8 °C", func(x *Exam) { x.Highest = 378 }, found(Febrile, Ring)},
		{"38.4 °C under the unit's 38.5", func(x *Exam) { x.Highest, x.FeverLimit = 384, &limit }, found(Well, Go)},
		{"38.5 °C at the unit's 38.5", func(x *Exam) { x.Highest, x.FeverLimit = 385, &limit }, found(Febrile, Ring)},
		{"a fever told", func(x *Exam) { x.Fever = true }, found(Febrile, Ring)},
		{"chills", func(x *Exam) { x.Chills = true }, found(Rigor, Ring)},
		{"a bulge that grew", func(x *Exam) { x.Bulge = true }, found(BulgeGrew, Ring)},
		{"a pale hand", func(x *Exam) { x.Hand = true }, found(HandPale, Ring)},
		{"a swollen arm", func(x *Exam) { x.Arm = true }, found(ArmSwollen, Ring)},

		// Signs at the access, together within seven days.
		{"red", func(x *Exam) { x.Now.Red = at }, seen(OneSign, Watch, Seen{Red: at})},
		{"warm", func(x *Exam) { x.Now.Warm = at }, seen(OneSign, Watch, Seen{Warm: at})},
		{"tender", func(x *Exam) { x.Now.Tender = at }, seen(OneSign, Watch, Seen{Tender: at})},
		{"swollen", func(x *Exam) { x.Now.Swollen = at }, seen(OneSign, Watch, Seen{Swollen: at})},
		{"red and warm", func(x *Exam) { x.Now.Red, x.Now.Warm = at, at }, seen(TwoSigns, Ring, Seen{Red: at, Warm: at})},
		{"tender, and swollen a minute ago", func(x *Exam) { x.Now.Tender, x.Now.Swollen = at, at.Add(-time.Minute) },
			seen(TwoSigns, Ring, Seen{Tender: at, Swollen: at.Add(-time.Minute)})},
		{"red again", func(x *Exam) { x.Now.Red, x.Before.Red = at, days(2) }, seen(OneSign, Watch, Seen{Red: at})},
		{"warm, red seven days ago", func(x *Exam) { x.Now.Warm, x.Before.Red = at, days(7) }, seen(TwoSigns, Ring, Seen{Red: days(7), Warm: at})},
		{"warm, red longer ago", func(x *Exam) { x.Now.Warm, x.Before.Red = at, days(7).Add(-time.Second) }, seen(OneSign, Watch, Seen{Warm: at})},
		{"warm, red typed in for later", func(x *Exam) { x.Now.Warm, x.Before.Red = at, at.Add(time.Hour) }, seen(OneSign, Watch, Seen{Warm: at})},
		{"clean, red two days ago", func(x *Exam) { x.Before.Red = days(2) }, found(Well, Go)},
		{"clean, red and warm two days ago", func(x *Exam) { x.Before.Red, x.Before.Warm = days(2), days(2) },
			seen(TwoBefore, Watch, Seen{Red: days(2), Warm: days(2)})},
		{"clean, pus seven days ago", func(x *Exam) { x.Before.Pus = days(7) }, seen(PusBefore, Watch, Seen{Pus: days(7)})},
		{"clean, pus longer ago", func(x *Exam) { x.Before.Pus = days(7).Add(-time.Second) }, found(Well, Go)},
		{"red, pus two days ago", func(x *Exam) { x.Now.Red, x.Before.Pus = at, days(2) },
			append(seen(OneSign, Watch, Seen{Red: at, Pus: days(2)}), seen(PusBefore, Watch, Seen{Red: at, Pus: days(2)})...)},
		{"pus again", func(x *Exam) { x.Pus, x.Before.Pus = true, days(2) }, found(Discharge, Ring)},
		{"nobody looked, pus two days ago", func(x *Exam) { x.Skin, x.Before.Pus = false, days(2) }, found(SkinUnseen, Answer)},
		{"nobody looked, red and warm two days ago", func(x *Exam) { x.Skin, x.Before.Red, x.Before.Warm = false, days(2), days(2) }, found(SkinUnseen, Answer)},
		{"nobody looked", func(x *Exam) { x.Skin = false }, found(SkinUnseen, Answer)},
		{"nobody wrote clean, but red", func(x *Exam) { x.Skin, x.Now.Red = false, at }, seen(OneSign, Watch, Seen{Red: at})},

		// A catheter's exit site, its cuff and its length.
		{"exit site", held(func(x *Exam) { x.Thrill, x.Bruit = NotFeltFor, NotListened }), found(WellExit, Go)},
		{"a catheter has no thrill", held(func(x *Exam) { x.Thrill, x.Bruit, x.Listen = NoThrill, NoBruit, true }), found(WellExit, Go)},
		{"exit site, pus", held(func(x *Exam) { x.Pus = true }), found(Discharge, Ring)},
		{"exit site, tender and red", held(func(x *Exam) { x.Now.Tender, x.Now.Red = at, at }), seen(TwoSigns, Ring, Seen{Red: at, Tender: at})},
		{"the cuff shows", held(func(x *Exam) { x.Cuff = CuffShowing }), lasting(CuffShows)},
		{"longer outside", held(func(x *Exam) { x.Outside = LongerOutside }), lasting(Longer)},
		{"both", held(func(x *Exam) { x.Cuff, x.Outside = CuffShowing, LongerOutside }), append(lasting(CuffShows), lasting(Longer)...)},
		{"cuff not answered", held(func(x *Exam) { x.Cuff, x.Held = "", true }), found(HeldUnseen, Answer)},
		{"length not answered", held(func(x *Exam) { x.Outside, x.Held = "", true }), found(HeldUnseen, Answer)},
		{"neither asked for nor answered", held(func(x *Exam) { x.Cuff, x.Outside = "", "" }), found(WellSkin, Go)},
		{"the cuff shows, not asked for", held(func(x *Exam) { x.Cuff, x.Outside = CuffShowing, "" }), lasting(CuffShows)},
		{"the cuff shows, length not answered", held(func(x *Exam) { x.Cuff, x.Outside, x.Held = CuffShowing, "", true }), append(lasting(CuffShows), found(HeldUnseen, Answer)...)},

		// Buttonholes raise the wording of an infection, and of nothing else.
		{"buttonhole, well", func(x *Exam) { x.Technique = Buttonhole }, found(Well, Go)},
		{"buttonhole, pus", func(x *Exam) { x.Technique, x.Pus = Buttonhole, true }, found(Discharge, Ring, InButtonhole, Ring)},
		{"buttonhole, one sign", func(x *Exam) { x.Technique, x.Now.Red = Buttonhole, at }, seen(OneSign, Watch, Seen{Red: at})},
		{"buttonhole, pale hand", func(x *Exam) { x.Technique, x.Hand = Buttonhole, true }, found(HandPale, Ring)},

		{"everything", func(x *Exam) {
			x.Thrill, x.Bruit, x.Pus, x.Fever, x.Chills, x.Bulge, x.Hand, x.Arm = NoThrill, NoBruit, true, true, true, true, true, true
		}, append(lasting(NoFlow), found(Discharge, Ring, Febrile, Ring, Rigor, Ring, BulgeGrew, Ring, HandPale, Ring, ArmSwollen, Ring)...)},
	} {
		x := Exam{Kind: Fistula, Technique: RopeLadder, Thrill: Felt, Bruit: Heard, Skin: true, At: at}
		tt.set(&x)
		if got := x.Judge(); !slices.Equal(got, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
		if x.Kind == Fistula {
			x.Kind = Graft
			if got := x.Judge(); !slices.Equal(got, tt.want) {
				t.Errorf("%s in a graft: %v, want %v", tt.name, got, tt.want)
			}
		}
	}
}

// found writes pairs of sign and act.
func found(pairs ...any) []Found {
	var list []Found
	for i := 0; i < len(pairs); i += 2 {
		list = append(list, Found{Sign: pairs[i].(Sign), Act: pairs[i+1].(Act)})
	}
	return list
}

func lasting(s Sign) []Found { return []Found{{Sign: s, Act: Ring, Lasts: true}} }

func seen(s Sign, a Act, when Seen) []Found { return []Found{{Sign: s, Act: a, Seen: when}} }

// What was seen keeps the latest moment of each sign, in whatever order it is
// put in.
func TestSeenKeepsTheLatest(t *testing.T) {
	var s Seen
	s.Put(Local{Red: true, Warm: true}, day(3).Time(time.UTC))
	s.Put(Local{Red: true}, day(1).Time(time.UTC))
	s.Put(Local{Warm: true, Tender: true}, day(5).Time(time.UTC))
	if want := (Seen{Red: day(3).Time(time.UTC), Warm: day(5).Time(time.UTC), Tender: day(5).Time(time.UTC)}); s != want {
		t.Errorf("%+v, want %+v", s, want)
	}
}

func TestBleeding(t *testing.T) {
	press := func(minutes ...unit.Minutes) []Holding {
		var list []Holding
		for i, m := range minutes {
			list = append(list, Holding{On: day(i), Arterial: 10, Venous: m})
		}
		return list
	}
	for _, tt := range []struct {
		in   []Holding
		long bool
	}{
		{nil, false},
		{press(25, 25), false},
		{press(20, 20, 20), false},
		{press(21, 10, 21, 10, 10, 21), true},
		{press(21, 21, 21, 10, 10, 10, 10), false}, // one of the three has left the last six
	} {
		if got := DefaultBleedingRule().Remarks(tt.in); (got != nil) != tt.long {
			t.Errorf("%v: %v, want %v", tt.in, got, tt.long)
		}
	}
}
