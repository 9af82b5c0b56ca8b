package session

import "strings"

// fit is "how am I?" answered.
func (l startLine) fit(v *verdict) {
	if judged(l, v, startLine.fitness) == nil {
		v.open(nil, "fit_open")
	}
	l.sugarUnmarked(v)
}

// Any reports whether an answer says yes to anything.
func (b *Fitness) Any() bool {
	return len(b.complaints()) > 0 || b.Fever || b.ChestPain || b.Breathless || b.Bleeding || b.Fall || b.Stomach ||
		b.Hospital || b.Procedure || b.Medicine || b.Thinner || b.Pregnant
}

// fitness judges one answer. A complaint that was there stays in sight when the
// next answer is better, one that the unit was rung about in the same answer too;
// fever and pain in the chest hold up the start until the unit was rung. A note with
// nothing ticked is put beside it in its own words: the program cannot read it.
func (l startLine) fitness(v *verdict, b *Fitness, e *Event) {
	var ring, tell []string
	kept := looked
	pregnant := l.newlyPregnant(b, e)
	if b.Fever || b.ChestPain || pregnant {
		kept = keptAsStop
	}
	for _, q := range []struct {
		yes  bool
		what string
		ring bool
	}{
		{b.Fever, "fever", true}, {b.ChestPain, "chest pain", true}, {b.Breathless, "breathless", true},
		{b.Bleeding, "bleeding", true}, {b.Thinner, "new blood thinner", true}, {b.Fall, "fall or knock", true}, {b.Stomach, "not eating, vomiting or diarrhoea", true},
		{b.Hospital, "hospital", true}, {pregnant, "pregnant, or may be", true}, {b.Procedure, "dentist or operation soon", false}, {b.Medicine, "new medicine", false},
	} {
		switch {
		case q.yes && q.ring:
			ring = append(ring, q.what)
		case q.yes:
			tell = append(tell, q.what)
		}
	}
	first := b.complaints() // those that can be potassium, see [startLine.potassium]
	switch {
	case len(first)+len(ring) > 0 && b.Rang == "":
		if len(first) > 0 {
			v.ring(e, "fit_first", capital(strings.Join(first, ", "))).stays(looked).ambulanceFirst()
		}
		switch {
		case len(ring) > 0 && len(first) > 0: // the ambulance is rung first
			v.ring(e, "fit_ring_too", strings.Join(ring, ", ")).stays(kept)
		case len(ring) > 0:
			v.ring(e, "fit_ring", strings.Join(ring, ", ")).stays(kept).ambulanceToo(b.ChestPain || b.Breathless)
		}
	case len(first)+len(ring) > 0:
		v.look(e, "fit_rang", capital(strings.Join(append(first, ring...), ", ")), sentence(b.Rang)).stays(looked)
	case len(tell) > 0 && b.Rang == "":
		v.look(e, "fit_tell", strings.Join(tell, ", "))
	case len(tell) > 0:
		v.ready("fit_told", capital(strings.Join(tell, ", ")), sentence(b.Rang))
	case strings.TrimSpace(b.Note) != "": // it may tell of a fever
		v.look(e, "fit_note", beginning(b.Note)).stays(looked)
	default:
		v.ready("fit_nothing")
	}
}

// noteShown is how many characters of a note stand on the start line. Ours.
const noteShown = 60

// beginning gives the beginning of a note on one line, whole words of it.
func beginning(note string) string {
	words, r := strings.Join(strings.Fields(note), " "), []rune(nil)
	if r = []rune(words); len(r) <= noteShown {
		return words
	}
	short := string(r[:noteShown])
	if i := strings.LastIndexByte(short, ' '); i > noteShown/2 {
		short = short[:i]
	}
	return strings.TrimRight(short, " ,;.") + "…"
}
