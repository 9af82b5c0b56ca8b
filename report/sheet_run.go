package report

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"ebbline/record"
	"ebbline/session"
)

// events are everything that happened and has no place of its own on the
// sheet, in order, struck ones included. A kind of entry that this room does
// not know yet comes here too, with all it holds.
func (m *maker) events() []Line {
	// Every other part has asked for its kinds by now, but for those of the end.
	for _, kind := range afterKinds {
		m.placed[kind] = true
	}
	m.placed["override"] = true
	var out []Line
	steps := 0
	for i := range m.s.Log {
		e := &m.s.Log[i]
		if m.placed[e.Kind] {
			continue
		}
		if b, ok := e.Body.(*session.StepDone); ok && e.Struck == nil && b.Note == "" && len(e.Was) == 0 && b.State != "not_done" && !session.IsNightStep(b.Step) {
			if b.State == "done" {
				steps++
			}
			continue // ticks without a word are counted, but for those of a night
		}
		title, words := m.event(e)
		out = append(out, m.line(e, title, words))
	}
	if steps > 0 {
		out = append(out, Line{Title: "Run sheet", Words: counted(steps, "step") + " ticked"})
	}
	return out
}

// line is one event with its notes.
func (m *maker) line(e *session.Event, title, words string) Line {
	l := Line{At: m.clock(e.At), Title: title, Words: words, Marks: m.marksOf(e)}
	if e.Struck != nil {
		l.Struck = true
		l.Marks = append(slices.Clone(l.Marks), m.note(title+" at "+l.At+m.strike(e)))
	}
	return l
}

// event words one entry.
func (m *maker) event(e *session.Event) (title, words string) {
	k, ok := record.Find(e.Kind)
	if !ok {
		return e.Kind, ""
	}
	title = k.Title
	did := func(s string) string {
		if s == "" {
			return ""
		}
		return "done: " + s
	}
	switch b := e.Body.(type) {
	case *session.Connected:
		if b.BloodFlow != nil {
			words = "blood flow " + b.BloodFlow.Text()
		}
	case *session.Drink:
		words = b.Volume.Text()
	case *session.Saline:
		words = joined(", ", b.Volume.Text(), b.Why)
		if b.Flush {
			title = "Flush given"
		}
	case *session.FlushLeftOut:
		words = joined(", ", "flush "+strconv.Itoa(b.Number), b.Why)
	case *session.LowPressure:
		bp := ""
		if b.Systolic != nil || b.Diastolic != nil {
			bp = m.loose(e, "systolic_mmhg") + "/" + m.loose(e, "diastolic_mmhg") + " mmHg"
		}
		words = joined(", ", bp, b.Felt, did(b.Did))
	case *session.Cramp:
		words = joined(", ", b.Where, did(b.Did))
	case *session.Unwell:
		words = joined(", ", b.Words, did(b.Did))
	case *session.Alarm:
		looked := "{needles|connections} and lines not looked at first"
		if b.Looked {
			looked = "looked at {needles|connections} and lines first"
		}
		words = joined(", ", b.Words, m.s.Rx.InWords(looked), did(b.Did))
	case *session.Pause:
		words = b.Why
	case *session.FlowChanged:
		words = "now " + b.BloodFlow.Text()
	case *session.GoalChanged:
		words = "now " + m.goal(b.Goal)
		if b.Length != nil {
			words += " over " + hours(*b.Length)
		}
		said := ""
		if b.Unit != "" {
			said = "your unit said so: " + b.Unit
		}
		words = joined(", ", words, b.Why, said)
	case *session.Trouble:
		kind, _ := session.TroubleOf(b.Trouble)
		kind = kind.For(m.s.Rx)
		state := "it is happening"
		if b.State == session.TroubleOver {
			state = "it is over"
		}
		said := ""
		if b.Said != "" {
			said = "your unit said: " + b.Said
		}
		words = joined(", ", "“"+kind.Title+"” "+state, said, b.Words)
	case *session.RemovalOff:
		words = b.Why
	case *session.NeedleAdjusted:
		words = joined(", ", text(fieldOf("needle_adjusted", "which"), b), did(b.Did))
	case *session.Glucose:
		words = b.Text()
		if why := gaps[cmp.Or(e.Missing["glucose_mmol_l"], e.Missing["glucose_mg_dl"])]; words == "" {
			words = why
		}
	case *session.Medicine:
		words = joined(", ", b.Name+" "+b.Amount, lotOf(e))
	case *session.Note:
		words = b.Words
	case *session.StepDone:
		words = joined(", ", "“"+m.step(b.Phase, b.Step)+"” "+text(fieldOf("step", "state"), b), b.Note)
	default:
		words = strings.TrimPrefix(strings.TrimPrefix(m.whole(e), k.Title), ": ")
	}
	return title, words
}

// step is the wording of a step of one part of a session, or its name where no run
// sheet has it.
func (m *maker) step(phase, id string) string {
	for _, r := range m.Steps {
		if s, ok := r.Step(id); ok && r.Phase == phase {
			return s.Words
		}
	}
	return id
}

// loose is one figure of an entry or a dash.
func (m *maker) loose(e *session.Event, key string) string {
	if s := text(fieldOf(e.Kind, key), e.Body); s != "" {
		return s
	}
	return "–"
}

// open lists what the record does not hold though it should.
func (m *maker) open() []string {
	var out []string
	for _, o := range session.OpenItems(m.s) {
		if o.IsOpen() {
			out = append(out, o.What)
		}
	}
	if m.s.Phase() == session.Done {
		out = append(out, session.NeverOverWords(m.s)...)
	}
	return out
}
