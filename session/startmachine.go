package session

// cleaned is the machine disinfected since it was used last.
func (l startLine) cleaned(v *verdict) {
	if l.h.Treated == 0 {
		v.skip = true // nothing is known before the first session
		return
	}
	tested, e := l.residueTest()
	l.idle(v)
	switch c := l.h.Cleaned; {
	case c == nil && l.h.Idle.SetBy != "":
		v.stop(nil, "cleaned_waiting_unit").against(l.h.Idle.limit())
	case c == nil:
		v.look(nil, "cleaned_not_written")
	case c.Result == "failed":
		v.stop(nil, "cleaned_failed")
	case l.residueWanted(tested):
		v.open(e, "cleaned_residue")
	case c.Result == "running":
		v.look(nil, "cleaned_running")
	case c.Programme == "chemical":
		v.ready("cleaned_chemical", l.h.CleanedAt.Format("2 January"))
	default:
		v.ready("cleaned_passed", l.h.CleanedAt.Format("2 January"))
	}
}

// ResidueStep is the id of the step that says no disinfectant is left.
const ResidueStep = "residue"

func (l startLine) residueTest() (done bool, event *Event) {
	Each(l.s, func(b *StepDone, e *Event) {
		if b.Phase == SetUp && b.Step == ResidueStep && !e.At.After(l.at) {
			done, event = b.State == "done", e
		}
	})
	return done, event
}

// selfTest is the machine's own test, with every try of it.
func (l startLine) selfTest(v *verdict) {
	if judged(l, v, startLine.selfTested) == nil {
		v.open(nil, "self_test_open")
	}
}

func (l startLine) selfTested(v *verdict, b *SelfTest, e *Event) {
	tries := 0 // a test entered twice was tried as often as both say
	Each(l.s, func(b *SelfTest, e *Event) {
		if !e.At.After(l.at) {
			tries += max(b.Tries, 1)
		}
	})
	switch {
	case v.blank(e, "passed"):
	case !b.Passed:
		v.ring(e, "self_test_failed").stays(looked)
	case tries >= 2:
		v.look(e, "self_test_tries", tries)
	default:
		v.ready("self_test_ready")
	}
}
