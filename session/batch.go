package session

import (
	"slices"
	"time"

	"ebbline/unit"
)

// BatchMade is fluid that was made from tap water beforehand, for one session or for
// several. The moment of its entry is when it was made.
type BatchMade struct {
	Name     string             `json:"name,omitempty"`         // a name or a number of the household's own
	Within   *unit.Hours        `json:"use_within_h,omitempty"` // from being made, as the unit or the concentrate's label says
	CondLow  *unit.Conductivity `json:"conductivity_low_ms_cm,omitempty"`
	CondHigh *unit.Conductivity `json:"conductivity_high_ms_cm,omitempty"` // its own range, as the unit or the label says
	K        *unit.Molar        `json:"label_k_mmol_l,omitempty"`          // of the concentrate it was made from
	Ca       *unit.Molar        `json:"label_ca_mmol_l,omitempty"`
	Lot      string             `json:"lot,omitempty"`
	Expiry   unit.Date          `json:"expiry,omitempty,omitzero"`
	Litres   *unit.Litres       `json:"made_l,omitempty"`
}

// BatchTested is what was measured of a batch outside a session: total chlorine of its
// water, its conductivity, or both.
type BatchTested struct {
	Batch          string              `json:"batch_id"`
	Result         *unit.Concentration `json:"total_chlorine_mg_l,omitempty"`
	Below          bool                `json:"below,omitempty"` // read as "less than" the result
	Method         string              `json:"method,omitempty"`
	ReadsDown      *unit.Concentration `json:"reads_down_to_mg_l,omitempty"`
	Lot            string              `json:"lot,omitempty"`
	Expiry         unit.Date           `json:"expiry,omitempty,omitzero"`
	Point          string              `json:"sample_point,omitempty"`
	MachineConduct *unit.Conductivity  `json:"machine_conductivity_ms_cm,omitempty"`
	MeterConduct   *unit.Conductivity  `json:"meter_conductivity_ms_cm,omitempty"`
	Temperature    *unit.Temperature   `json:"temperature_c,omitempty"` // at which the conductivity was read
}

// Events are the test as a session writes it: one entry of total chlorine, one of
// conductivity, as far as they were measured.
func (b BatchTested) Events(of Event) (list []Event) {
	add := func(kind string, body any) {
		of.Kind, of.Body = kind, body
		list = append(list, of)
	}
	if b.Result != nil {
		test := &Chlorine{Result: *b.Result, Below: b.Below, Method: b.Method, Lot: b.Lot, Expiry: b.Expiry, Point: b.Point}
		if b.ReadsDown != nil {
			test.ReadsDown = *b.ReadsDown
		}
		add("chlorine", test)
	}
	if b.MachineConduct != nil || b.MeterConduct != nil {
		test := &FluidCheck{}
		if b.MachineConduct != nil {
			test.MachineConduct = *b.MachineConduct
		}
		if b.MeterConduct != nil {
			test.MeterConduct = *b.MeterConduct
		}
		add("fluid_check", test)
	}
	return list
}

// BatchUsed says which batch the fluid of a session comes from.
type BatchUsed struct {
	Batch string `json:"batch_id"`
}

// A Batch is one of the household's batches with what is known of it beside the session
// that it is looked at from.
type Batch struct {
	ID  string   // of the entry that counts now
	Was []string // the ids by which this session names it, of earlier versions too
	At  time.Time
	BatchMade
	Doubted    bool      // a notice about the water stood when it was made
	CarbonOpen time.Time // when chlorine had come through the first carbon and nobody had seen to it then
	Log        []Event   // what was tested of it, in no session or in another one, and calls of those sessions
	Changed    time.Time // when the last of what is known of it was written, corrected or struck out
	Struck     *Strike   // of one that was struck out
}

// Is reports whether an id means this batch.
func (b Batch) Is(id string) bool { return id != "" && (b.ID == id || slices.Contains(b.Was, id)) }

// UseBy is the moment from which it is not used any more; zero where it is not written.
func (b Batch) UseBy() time.Time {
	if b.Within == nil {
		return time.Time{}
	}
	return b.At.Add(time.Duration(b.Within.Float() * float64(time.Hour)))
}

// Words name a batch, "batch 7 of Mon 20:10".
func (b Batch) Words() string {
	if b.Name != "" {
		return "batch “" + b.Name + "” of " + dayClock(b.At)
	}
	return "batch of " + dayClock(b.At)
}

// Until words the use-by of a batch, "use by Wed 20:10".
func (b Batch) Until() string {
	if b.UseBy().IsZero() {
		return "use-by not written"
	}
	return "use by " + dayClock(b.UseBy())
}

// dayClock is a time of day with its day of the week.
func dayClock(t time.Time) string { return t.Format("Mon 15:04") }

// BatchOf gives the batch that an entry of a session belongs to, by the id that was
// written: of the one that was named last when it happened, or of the first that was
// named after it; empty where none was.
func BatchOf(s *Session, of *Event) (id string) {
	Each(s, func(b *BatchUsed, e *Event) {
		if id == "" || !e.At.After(of.At) {
			id = b.Batch
		}
	})
	return id
}

// BatchNow gives the batch that a session is from at a moment, and the entry that names
// it. The batch is nil where none is named and where the one named is not among those
// of the history.
func BatchNow(s *Session, h History, at time.Time) (*Batch, *Event) {
	if s.Machine.Fluid() != FluidBatch {
		return nil, nil
	}
	used, e := lastBy[BatchUsed](s, at)
	if used == nil {
		return nil, nil
	}
	for i := range h.Batches {
		if h.Batches[i].Is(used.Batch) {
			return &h.Batches[i], e
		}
	}
	return nil, e
}

// ofBatch is the start line with what was tested of the session's batch in the place
// of what was tested of another one, and with the water as it was when the batch was
// made; the start line itself where no batch is named.
func (l startLine) ofBatch() startLine {
	b, _ := BatchNow(l.s, l.h, l.at)
	if b == nil {
		return l
	}
	then := *l.s
	then.Log = nil
	for _, e := range l.s.Log {
		switch e.Body.(type) {
		case *Chlorine, *FluidCheck, *BathLabel:
			if !b.Is(BatchOf(l.s, &e)) {
				continue
			}
		}
		then.Log = append(then.Log, e)
	}
	if b.K != nil && b.Ca != nil {
		label := &BathLabel{K: *b.K, Ca: *b.Ca, Lot: b.Lot, Expiry: b.Expiry}
		then.Add(Event{Kind: "bath_label", At: b.At, Written: b.At, Body: label, added: true})
	}
	opened := l.opened()
	for _, e := range b.Log {
		e.added, e.ID = true, "" // it is not in the log of this session
		if test, is := e.Body.(*FluidCheck); is && e.At.Before(opened) {
			e.Body = &FluidCheck{MachineConduct: test.MachineConduct, MeterConduct: test.MeterConduct} // it is warmed again
		}
		then.Add(e)
	}
	l.s, l.made = &then, b
	l.h.Doubted, l.h.CarbonOpen = b.Doubted, b.CarbonOpen
	return l
}

// batchLeft finds tests of this session over the limit that were of another batch than the
// one it is from now: they stay in sight.
func (l startLine) batchLeft(v *verdict) {
	b, _ := BatchNow(l.s, l.h, l.at)
	if b == nil {
		return
	}
	limit, _ := chlorineLimitOf(l.rx)
	Each(l.s, func(test *Chlorine, e *Event) {
		if !e.At.After(l.at) && test.over(limit, e) && !b.Is(BatchOf(l.s, e)) {
			v.look(e, "batch_left", test.Result.Text(), limit).when = clock(e.At)
		}
	})
}

// batch is which batch the fluid is from and whether it may still be used. Where it is
// not said whether the machine has bags or a batch, one that writes none is not asked.
func (l startLine) batch(v *verdict) {
	b, e := BatchNow(l.s, l.h, l.at)
	switch {
	case e == nil && !slices.ContainsFunc(l.h.Batches, func(b Batch) bool { return !b.At.After(l.at) }):
		if !l.s.Machine.FluidUnsaid() {
			v.open(nil, "batch_none")
		}
	case e == nil:
		v.open(nil, "batch_unnamed")
	case b == nil:
		v.open(e, "batch_gone")
	case b.UseBy().IsZero():
		v.open(e, "batch_no_use_by", capital(b.Words()))
	case !l.at.Before(b.UseBy()):
		f := v.stop(e, "batch_past", capital(b.Words()), dayClock(b.UseBy()))
		if e.At.Before(b.UseBy()) {
			f.asTimePassed(b.UseBy())
		}
	case b.UseBy().Before(l.plannedEnd()):
		v.look(e, "batch_runs_out", capital(b.Words()), dayClock(b.UseBy()), dayClock(l.plannedEnd()))
	default:
		v.ready("batch_ready", capital(b.Words()), dayClock(b.UseBy())).always = true
	}
}

// plannedEnd is when the treatment would end if it began now; now where no length is
// known.
func (l startLine) plannedEnd() time.Time {
	length, _ := Length(l.s, l.at)
	return l.at.Add(time.Duration(length) * time.Minute)
}

// inRange holds the conductivity of one instrument against the range of the batch.
func (l startLine) inRange(v *verdict, e *Event, what string, got unit.Conductivity) {
	low, high := *l.made.CondLow, *l.made.CondHigh
	if got >= low && got <= high {
		return
	}
	bound := low.Digits(2) + " to " + high.Digits(2) + "\u00a0mS/cm, of the " + l.made.Words()
	v.ring(e, "batch_conductivity", what, got.Digits(2), low.Digits(2), high.Digits(2)).against(bound).stays(looked)
}

// rangeWide is how wide the own range of a batch may be before it is said: 1.0 mS/cm to
// each side. Ours.
const rangeWide unit.Conductivity = 200

// oddRange looks at the range of a batch itself: every fluid is right by one that was
// written too wide, and by one round another value than the order has.
func (l startLine) oddRange(v *verdict, e *Event) {
	low, high := *l.made.CondLow, *l.made.CondHigh
	if set := l.rx.SetConduct; set != nil && (*set < low || *set > high) {
		v.look(e, "batch_range_order", low.Digits(2), high.Digits(2), set.Digits(2))
	} else if high-low > rangeWide {
		v.look(e, "batch_range_wide", low.Digits(2), high.Digits(2))
	}
}

// hasRange reports whether the fluid is from a batch with a range of its own.
func (l startLine) hasRange() bool {
	return l.made != nil && l.made.CondLow != nil && l.made.CondHigh != nil
}

// dayOf is the day by which a date on a label is judged: of the start line, and for
// what a batch was made from the day that it was made on.
func (l startLine) dayOf(e *Event) unit.Date {
	if e.added {
		return unit.DateOf(e.At)
	}
	return unit.DateOf(l.at)
}

// batchChecks are the checks of what belongs to a batch.
var batchChecks = []string{CheckChlorine, CheckConduct, CheckBath}

// callsFor is the session whose calls answer a check: of what belongs to a batch, with
// the calls of the other sessions from it.
func (l startLine) callsFor(check string) *Session {
	if slices.Contains(batchChecks, check) {
		return l.ofBatch().s
	}
	return l.s
}

// brokenBatch reports whether what stopped in a session that was broken off was of the
// batch of this one, where it is found with the batch, or of another batch, which is
// not used now and holds nothing up.
func (l startLine) brokenBatch(check string, broken *Session) (same, other bool) {
	if !slices.Contains(batchChecks, check) {
		return false, false
	}
	now, _ := BatchNow(l.s, l.h, l.at)
	used, _ := Last[BatchUsed](broken)
	if now == nil || used == nil {
		return false, false
	}
	return now.Is(used.Batch), !now.Is(used.Batch)
}
