package session

import (
	"testing"

	"ebbline/unit"
)

// A pressure written after the treatment is held against the rule of low pressure of
// the session, and is no remark.
func TestAfterLow(t *testing.T) {
	const ours = ". Low by the program's own default, not set by your unit. Follow your unit's plan for low pressure."
	after := func(lying, standing int) *VitalsAfter {
		var b VitalsAfter
		if lying > 0 {
			b.LieSystolic = mm(lying)
		}
		if standing > 0 {
			b.StandSystolic = mm(standing)
		}
		return &b
	}
	for _, tt := range []struct {
		name  string
		start int
		set   func(*Prescription)
		log   []happened
		want  string
	}{
		{"nothing written", 125, nil, nil, ""},
		{"inside", 125, nil, []happened{{245, after(124, 118)}}, ""},
		{"standing low", 125, nil, []happened{{245, after(124, 88)}}, "Upper pressure after coming off standing 88; you started at 125" + ours},
		{"standing 40 lower, not under 90", 130, nil, []happened{{245, after(125, 90)}}, ""},
		{"lying low", 125, nil, []happened{{245, after(95, 101)}}, "Upper pressure after coming off lying 95; you started at 125" + ours},
		{"both low", 125, nil, []happened{{245, after(92, 74)}}, "Upper pressure after coming off lying 92, standing 74; you started at 125" + ours},
		{"down by 30", 115, nil, []happened{{245, after(85, 0)}}, "Upper pressure after coming off lying 85; you started at 115" + ours},
		{"down by 29, from 140", 140, nil, []happened{{245, after(111, 0)}}, ""},
		{"down by 30, from 140", 140, nil, []happened{{245, after(110, 0)}}, "Upper pressure after coming off lying 110; you started at 140" + ours},
		{"the unit's figure", 125, actBelow(80), []happened{{245, after(85, 80)}}, ""},
		{"under the unit's figure", 125, actBelow(80), []happened{{245, after(85, 79)}}, "Upper pressure after coming off standing 79; you started at 125. Low by the figure set by Dr Lind on 3 March 2026. Follow your unit's plan for low pressure."},
		{"always low, within 10", 86, nil, []happened{{245, after(88, 76)}}, ""},
		{"always low, further", 86, nil, []happened{{245, after(88, 75)}}, "Upper pressure after coming off standing 75; you started at 86" + ours},
		{"measured again", 125, nil, []happened{{245, after(124, 88)}, {255, after(122, 112)}}, ""},
		{"only the pulse after it", 125, nil, []happened{{245, after(124, 88)}, {255, &VitalsAfter{Pulse: ref(unit.Pulse(80))}}}, "Upper pressure after coming off standing 88; you started at 125" + ours},
		{"struck out", 125, nil, []happened{{245, after(124, 88)}, {246, nil}}, ""},
	} {
		s := connected(t)
		if tt.set != nil {
			tt.set(s.Rx)
		}
		edit(s, func(b *VitalsBefore) { b.SitSystolic = mm(tt.start) })
		for _, h := range tt.log {
			if h.body == nil {
				s.Log[len(s.Log)-1].Struck = &Strike{Reason: "not mine"}
				continue
			}
			put(s, on(h.at), h.body)
		}
		if words, ok := AfterLow(s); ok {
			t.Errorf("%s: before the end: %q", tt.name, words)
		}
		n := len(Remarks(s, on(260)))
		put(s, on(240), &CameOff{Returned: "all"})
		if words, ok := AfterLow(s); words != tt.want || ok != (tt.want != "") {
			t.Errorf("%s: %q, %v; want %q", tt.name, words, ok, tt.want)
		}
		if got := Remarks(s, on(260)); len(got) > n {
			t.Errorf("%s: remarked on: %+v", tt.name, got)
		}
	}
}
