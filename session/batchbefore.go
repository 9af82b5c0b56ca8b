package session

import (
	"slices"
	"strings"
)

// batchesBefore keeps in sight what stopped of a batch that was named before the one
// that the fluid is from now: its use-by was past, its water or its conductivity was out.
// Another batch is the way to put that right; which of the two is in the machine is not in
// the record.
func (l startLine) batchesBefore(check string, judge func(startLine, *verdict), v *verdict) {
	if !slices.Contains(batchChecks, check) {
		return
	}
	now, _ := BatchNow(l.s, l.h, l.at)
	if now == nil {
		return
	}
	var named []*Event
	Each(l.s, func(_ *BatchUsed, e *Event) {
		if !e.At.After(l.at) {
			named = append(named, e)
		}
	})
	for i, e := range named[:max(len(named)-1, 0)] {
		if now.Is(e.Body.(*BatchUsed).Batch) {
			continue
		}
		then := l
		log := *l.s
		log.Log = slices.DeleteFunc(slices.Clone(l.s.Log), func(one Event) bool {
			return slices.ContainsFunc(named[i+1:], func(later *Event) bool { return later.ID == one.ID })
		})
		then.s, then.at = &log, named[i+1].At
		b, _ := BatchNow(then.s, then.h, then.at)
		if b == nil {
			continue
		}
		was := then.found(check, judge)
		was.answered(then.callsFor(check), then.at)
		var words []string
		left := finding{code: "batch_before", at: then.at}
		for _, f := range was.findings {
			said := slices.ContainsFunc(v.findings, func(g finding) bool {
				return g.words() == f.words() || g.code == "batch_left" && g.entry != "" && g.entry == f.entry
			})
			if (f.state == StopHere || f.told != "") && !said {
				words = append(words, f.words())
				left.entry, left.place, left.told = f.entry, f.place, f.told
			}
		}
		if len(words) > 0 {
			left.args = []any{strings.Join(words, " "), capital(b.Words()), clock(then.at)}
			v.inSight(left)
		}
	}
}
