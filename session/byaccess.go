package session

import "strings"

// Sentences of the program hold both words where a catheter needs another than needles,
// {needles|connections}, and are chosen from before anything that the person wrote is put
// into them: what the person wrote is never changed.

// byAccess gives a sentence with the first word of each pair, or with the second for a
// catheter. Pairs do not hold pairs.
func byAccess(sentence string, catheter bool) string {
	var out strings.Builder
	for {
		before, rest, found := strings.Cut(sentence, "{")
		out.WriteString(before)
		if !found {
			return out.String()
		}
		pair, after, _ := strings.Cut(rest, "}")
		needle, other, _ := strings.Cut(pair, "|")
		if catheter {
			needle = other
		}
		out.WriteString(needle)
		sentence = after
	}
}

// InWords gives a sentence of the program's own, with its pairs of words, as it is said to
// somebody with this access. Nothing that the person wrote goes through it.
func (rx *Prescription) InWords(sentence string) string { return byAccess(sentence, rx.ByCatheter()) }

// LineWords are what a page says where line pressures cannot be followed.
func (rx *Prescription) LineWords() string {
	if rx.ByCatheter() {
		return OneLumenWords
	}
	return OneNeedleWords
}

// troubles are the kinds of trouble as they are said of needles, catheterTroubles the same
// of a catheter.
var troubles, catheterTroubles = troublesBy(false), troublesBy(true)

func troublesBy(catheter bool) []TroubleType {
	list := make([]TroubleType, len(troubleTable))
	for i, t := range troubleTable {
		acts := make([]string, len(t.Acts))
		for j, a := range t.Acts {
			acts[j] = byAccess(a, catheter)
		}
		t.Title, t.Acts = byAccess(t.Title, catheter), acts
		list[i] = t
	}
	return list
}

// For gives a kind of trouble in the words of an access.
func (t TroubleType) For(rx *Prescription) TroubleType {
	if !rx.ByCatheter() {
		return t
	}
	for _, other := range catheterTroubles {
		if other.Code == t.Code {
			return other
		}
	}
	return t
}

// TroublesFor is [Troubles] in the words of an access.
func TroublesFor(rx *Prescription) []TroubleType {
	list := Troubles()
	for i := range list {
		list[i] = list[i].For(rx)
	}
	return list
}

// nightSteps are the steps of a night as they are said of needles.
var nightSteps = func() []nightStep {
	list := make([]nightStep, len(nightTable))
	for i, n := range nightTable {
		n.Words = byAccess(n.Words, false)
		list[i] = n
	}
	return list
}()

// inWords gives a sheet in the words of an access: a step of a night that stands there in
// the program's own words, whole. Any other is not touched.
func (r RunSheet) inWords(rx *Prescription) RunSheet {
	if !rx.ByCatheter() {
		return r
	}
	out := r.clone()
	for i := range out.Steps {
		s := &out.Steps[i]
		for j, n := range nightSteps {
			if s.ID == n.ID && s.Words == n.Words {
				s.Words = byAccess(nightTable[j].Words, true)
			}
		}
	}
	return out
}

// WithNightFor is [WithNight] in the words of an access.
func WithNightFor(sheet RunSheet, rx *Prescription) RunSheet { return WithNight(sheet).inWords(rx) }
