package session

import (
	"slices"
	"strings"
	"testing"

	"ebbline/unit"
)

func opens(code string) *Trouble { return &Trouble{Trouble: code, State: TroubleOpen} }

// "Yes, this is happening" of a low pressure is a low reading with no figure, once with the
// entry of that kind beside it; what is felt in the body is said by its title.
func TestTroubleIsSaid(t *testing.T) {
	tap := func(v int) *LowPressure { return &LowPressure{Systolic: mm(v)} }
	for _, tt := range []struct {
		name string
		log  []happened
		want []string
		low  bool
	}{
		{"low pressure", []happened{{20, opens(TroubleLow)}}, []string{lp}, true},
		{"it is over", []happened{{20, &Trouble{Trouble: TroubleLow, State: TroubleOver}}}, nil, false},
		{"a reading inside", []happened{{20, opens(TroubleLow)}, {25, bp(121)}}, []string{lp}, false},
		{"after a tap", []happened{{20, &LowPressure{}}, {21, opens(TroubleLow)}}, []string{lp}, true},
		{"before a tap", []happened{{20, opens(TroubleLow)}, {21, &LowPressure{}}}, []string{lp}, true},
		{"two minutes after a tap", []happened{{20, &LowPressure{}}, {22, opens(TroubleLow)}}, []string{lp, lp}, true},
		{"two minutes before a tap", []happened{{20, opens(TroubleLow)}, {22, &LowPressure{}}}, []string{lp, lp}, true},
		{"before two taps", []happened{{20, opens(TroubleLow)}, {20, &LowPressure{}}, {21, &LowPressure{}}}, []string{lp, lp}, true},
		{"after a figure", []happened{{20, tap(84)}, {20, opens(TroubleLow)}}, []string{lp}, true},
		{"after a low reading", []happened{{20, bp(84)}, {21, opens(TroubleLow)}}, []string{lp}, true},
		{"the figure after it", []happened{{20, opens(TroubleLow)}, {21, tap(84)}}, []string{lp, lp}, true},
		{"heart", []happened{{20, opens(TroubleHeart)}}, []string{"unwell"}, false},
		{"fever", []happened{{20, opens(TroubleFever)}}, []string{"unwell", "fever"}, false},
		{"reaction", []happened{{20, opens(TroubleReaction)}}, []string{"unwell"}, false},
		{"confused", []happened{{20, opens(TroubleConfused)}}, []string{"unwell"}, false},
		{"weak", []happened{{20, opens(TroubleWeak)}}, []string{"unwell"}, false},
		{"over", []happened{{20, &Trouble{Trouble: TroubleHeart, State: TroubleOver}}}, nil, false},
		{"air", []happened{{20, opens(TroubleAir)}}, nil, false},
	} {
		s := connected(t)
		for _, h := range tt.log {
			put(s, on(h.at), h.body)
		}
		if got := codes(s, on(26)); !slices.Equal(got, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
		if p, _ := LastPressure(s, on(26)); p.Low != tt.low {
			t.Errorf("%s: low %v", tt.name, p.Low)
		}
		w, _ := watchRun(s, on(26))
		if held := w.hold(58_000) != nil; held != slices.Contains(tt.want, lp) {
			t.Errorf("%s: held %v", tt.name, held)
		}
		for _, r := range Remarks(s, on(26)) {
			b, is := s.Find(r.Entry).Body.(*Trouble)
			if is && r.Trouble() != b.Trouble || r.Level != LevelLook {
				t.Errorf("%s: %+v leads to %q", tt.name, r, r.Trouble())
			}
		}
	}
}

// What is one for the ambulance leads with it, unless the unit's steps say whom.
func TestUnwellForTheAmbulance(t *testing.T) {
	const first = "Your unit's steps say whom to ring; without steps: the ambulance."
	for words, want := range map[string]string{
		"chest pain": TroubleHeart, " Chest Pain": TroubleHeart, "BREATHLESS ": TroubleHeart, "Back pain": TroubleDark,
		"feverish": TroubleFever, "not feverish": "", "tired": "",
	} {
		s := connected(t)
		put(s, on(20), &Unwell{Words: words})
		r := Remarks(s, on(20))[0]
		if r.Trouble() != want || strings.HasSuffix(r.Words, first) != (want != "") || !strings.HasPrefix(r.Words, "Feeling unwell: “"+words+"”.") {
			t.Errorf("%q: %q leads to %q", words, r.Words, r.Trouble())
		}
	}
}

// What is felt, or a fever, that is one for the ambulance stands until it is
// answered, or for an hour, and before everything else; a reading answers nothing.
func TestStandingForTheAmbulance(t *testing.T) {
	reading := happened{25, bp(121)}
	chest := happened{20, &Unwell{Words: "chest pain"}}
	over := func(code string) *Trouble { return &Trouble{Trouble: code, State: TroubleOver} }
	for _, tt := range []struct {
		name string
		log  []happened
		now  int
		want string
	}{
		{"after a reading", []happened{chest, reading}, 79, "unwell"},
		{"after an hour", []happened{chest, reading}, 80, ""},
		{"after an hour, no reading", []happened{chest}, 100, "unwell"},
		{"rang", []happened{chest, reading, {26, &Rang{Whom: "the ambulance", Said: "they come"}}}, 26, ""},
		{"rang before it", []happened{{19, &Rang{Whom: "the ambulance", Said: "they come"}}, chest, reading}, 26, "unwell"},
		{"rang after now", []happened{chest, reading, {30, &Rang{Whom: "the ambulance", Said: "they come"}}}, 26, "unwell"},
		{"nobody was reached", []happened{chest, reading, {26, &Rang{Whom: "the unit", Said: "nobody answered"}}}, 26, "unwell"},
		{"it is over", []happened{chest, reading, {26, over(TroubleHeart)}}, 26, ""},
		{"it is over, no reading since", []happened{{20, &Unwell{Words: "itch or wheeze"}}, {26, over(TroubleReaction)}}, 26, ""},
		{"felt again after it", []happened{{20, &Unwell{Words: "itch or wheeze"}}, {26, over(TroubleReaction)}, {27, &Unwell{Words: "itch or wheeze"}}}, 28, "unwell"},
		{"another trouble is over", []happened{chest, reading, {26, over(TroubleFever)}}, 26, "unwell"},
		{"words of one's own", []happened{{20, &Unwell{Words: "tired"}}, reading}, 26, ""},
		{"fever", []happened{{20, bodyC(38.4)}, reading}, 79, "fever"},
		{"opened as a trouble", []happened{{20, opens(TroubleHeart)}, reading}, 26, "unwell"},
		{"a pulse that stays out", []happened{{20, pulse(135)}, {25, pulse(140)}}, 26, "pulse_out"},
		{"and is not read again", []happened{{20, pulse(135)}, reading}, 26, "pulse_out"},
		{"until it is read inside", []happened{{20, pulse(135)}, {25, pulse(90)}}, 26, ""},
		{"a pulse that stays irregular", []happened{{20, irregularPulse(80)}, {25, irregularPulse(81)}}, 26, "pulse_out"},
		{"until it is not", []happened{{20, irregularPulse(80)}, {25, pulse(81)}}, 26, ""},
		{"a TMP that stays out", []happened{{20, tmp(360)}, {25, tmp(380)}}, 26, "tmp_high"},
		{"before a later look", []happened{chest, {25, pulse(130)}}, 26, "unwell pulse_out"},
	} {
		s := connected(t)
		for _, h := range tt.log {
			put(s, on(h.at), h.body)
		}
		var list []string
		for _, r := range Standing(s, on(tt.now)) {
			list = append(list, r.Code)
		}
		if got := strings.Join(list, " "); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
	s := connected(t)
	put(s, on(20), &Unwell{Words: "chest pain"})
	put(s, on(25), bp(121))
	put(s, on(26), over(TroubleHeart)).Struck = &Strike{Reason: "it is not"}
	if got := Standing(s, on(27)); len(got) != 1 {
		t.Errorf("the answer was struck out: %+v", got)
	}
}

func irregularPulse(v int) *Reading {
	return &Reading{Pulse: ref(unit.Pulse(v)), Irregular: true}
}
