package session

import (
	"slices"
	"time"

	"ebbline/unit"
)

// ChlorineLimit is the most total chlorine, used where the unit set none: ISO
// 23500-3:2019, 0.1 mg/L; the figure itself passes.
const ChlorineLimit unit.Concentration = 100

// ChlorineAge is the age at which a chlorine test is too old at connecting: less
// than that passes, that age itself does not. Ours.
const ChlorineAge = time.Hour

// goodSamples is how many good samples in a row, at the place that failed, a
// failed test asks for. Ours.
const goodSamples = 2

// The places that water is drawn from.
const (
	firstCarbon  = "first_carbon"
	secondCarbon = "second_carbon"
	atMachine    = "product"
)

// waterPlaces are all of them, and a place that was not said.
var waterPlaces = []string{firstCarbon, secondCarbon, atMachine, ""}

var placeWords = map[string]string{
	firstCarbon: "after the first carbon", secondCarbon: "after the second carbon", atMachine: "at the machine", "": "at a place not said",
}

// chlorine is the total chlorine of this session's water. Each place it was drawn
// from is judged by its own samples: one that failed stays a stop until two good
// ones in a row were drawn there and it was rung about. The first carbon may fail
// while the water behind the second is good: that is said, and goes on.
//
// A batch is tested once, whenever that was, for all sessions from it. Ready bags
// have no such water: nothing is asked, and a test over the limit is said all the same.
func (l startLine) chlorine(v *verdict) {
	l.batchLeft(v)
	l = l.ofBatch()
	limit, whose := chlorineLimitOf(l.rx)
	v.limit = limit.Text() + ", " + whose
	tests := l.chlorineTests()
	bags := l.s.Machine.Fluid() == FluidBags
	switch {
	case bags && !slices.ContainsFunc(tests, func(one sample) bool { return one.over }):
		v.limit = ""
		v.ready("chlorine_bags")
		return
	case len(tests) == 0 && l.made != nil && !l.s.RemovalOnly():
		v.open(nil, "batch_not_tested", capital(l.made.Words()))
		return
	case len(tests) == 0 && l.s.RemovalOnly():
		v.look(nil, "removal_only_chlorine")
		return
	case len(tests) == 0:
		v.open(nil, "chlorine_open")
		return
	}
	counts := tests[len(tests)-1] // what the water is like now
	behind := l.goodBehind(tests)
	failed := false
	for _, place := range waterPlaces {
		over, good := lastOver(tests, place)
		if over == nil {
			continue
		}
		failed = true
		shown, where := over.b.Result.Text(), placeWords[place]
		f := &finding{}
		switch {
		case place == firstCarbon && behind != nil:
			f = v.look(over.e, "chlorine_first", shown, limit)
			if counts.e == over.e {
				counts = *behind
			}
		case good == 0:
			f = v.chlorineOver(over, shown, limit)
		case good < goodSamples:
			f = v.stop(over.e, "chlorine_one_good", shown, limit, where)
		default:
			f = v.ring(over.e, "chlorine_was_over", shown, limit, where)
		}
		f.when = l.clock(over.e)
		if f.state == StopHere {
			f.kept = keptAsStop // starting over does not answer it
		}
	}
	var says verdict
	judged(l, &says, shelfSaysOf[Chlorine])
	v.findings = append(v.findings, says.findings...)
	failed = failed || slices.ContainsFunc(says.findings, func(f finding) bool { return f.past })
	if counts.over || bags {
		return // said above
	}
	now := len(v.findings)
	l.chlorineTest(v, counts.b, counts.e)
	for i := range v.findings[now:] {
		if failed {
			v.findings[now+i].when = l.clock(counts.e)
		}
	}
}

// chlorineOver finds a sample above the limit with nothing good since.
func (v *verdict) chlorineOver(one *sample, shown string, limit unit.Concentration) *finding {
	if one.b.Point == firstCarbon {
		return v.stop(one.e, "chlorine_first_over", shown, limit)
	}
	return v.stop(one.e, "chlorine_over", shown, limit, placeWords[one.b.Point])
}

// A sample is one chlorine test with what it is worth as of its own time.
type sample struct {
	b    *Chlorine
	e    *Event
	over bool // above the limit
	good bool // shows that the water is within it
}

// chlorineTests lists the tests of this session's water up to the moment of the
// start line.
func (l startLine) chlorineTests() []sample {
	limit, _ := chlorineLimitOf(l.rx)
	var list []sample
	Each(l.s, func(b *Chlorine, e *Event) {
		if e.At.After(l.at) {
			return
		}
		then := l
		then.at = e.At
		var was verdict
		then.chlorineTest(&was, b, e)
		then.shelfSays(&was, e)
		one := sample{b: b, e: e, over: b.over(limit, e)}
		one.good = !slices.ContainsFunc(was.findings, func(f finding) bool { return f.state.holds() })
		list = append(list, one)
	})
	return list
}

// lastOver gives the last sample of a place that was over the limit, and how many
// good ones in a row were drawn there since, the last of them the latest; nil
// where none was over.
func lastOver(tests []sample, place string) (over *sample, good int) {
	for i := range tests {
		one := &tests[i]
		switch {
		case one.b.Point != place:
		case one.over:
			over, good = one, 0
		case one.good:
			good++
		default:
			good = 0
		}
	}
	return over, good
}

// goodBehind gives the latest good sample of the water behind the second carbon,
// when it is fresh and nothing newer failed there; else nil.
func (l startLine) goodBehind(tests []sample) *sample {
	last := lastBehind(tests)
	if last == nil || !last.good || l.made == nil && l.at.Sub(last.e.At) >= ChlorineAge {
		return nil
	}
	return last
}

// lastBehind gives the last sample of the water behind the second carbon; nil where
// none was drawn.
func lastBehind(tests []sample) *sample {
	for i := len(tests) - 1; i >= 0; i-- {
		if one := &tests[i]; one.b.Point == secondCarbon || one.b.Point == atMachine {
			return one
		}
	}
	return nil
}

// ChlorineOver reports whether a test of a session's water was above the limit,
// the unit's or else the program's, and that limit.
func ChlorineOver(s *Session, b *Chlorine, e *Event) (over bool, limit unit.Concentration) {
	limit, _ = chlorineLimitOf(s.Rx)
	return b.over(limit, e), limit
}

// over reports whether a test shows more than a limit: "less than" a figure over it
// shows neither.
func (b *Chlorine) over(limit unit.Concentration, e *Event) bool {
	return b.Result > limit && !b.Below && e.Missing["total_chlorine_mg_l"] == ""
}

// chlorineTest judges one test.
func (l startLine) chlorineTest(v *verdict, b *Chlorine, e *Event) {
	limit, _ := chlorineLimitOf(l.rx)
	if v.blank(e, "total_chlorine_mg_l") {
		return
	}
	// The date on the strip is judged by the day of the test.
	switch age := l.at.Sub(e.At); {
	case b.Result > limit && b.Below:
		v.stop(e, "chlorine_cannot_tell", b.Result, limit)
	case b.Result > limit:
		v.chlorineOver(&sample{b: b, e: e}, b.Result.Text(), limit)
	case b.ReadsDown <= 0:
		v.stop(e, "chlorine_reads_what")
	case b.ReadsDown > limit:
		v.stop(e, "chlorine_coarse", b.ReadsDown, limit)
	case b.Expiry.IsZero():
		v.open(e, "chlorine_no_expiry")
	case b.Expiry.Before(unit.DateOf(e.At)):
		v.stop(e, "chlorine_expired", b.Expiry.Long())
	case age >= ChlorineAge && l.made == nil:
		v.stop(e, "chlorine_old", ago(e.At, l.at))
	case l.h.Doubted && !l.behindEachCarbon():
		v.look(e, "chlorine_doubted", b.Result.Text())
	case !l.h.CarbonOpen.IsZero() && !l.behindSecond():
		v.look(e, "chlorine_carbon_open", b.Result.Text(), l.h.CarbonOpen.Format("2\u00a0January"))
	case l.made != nil && (b.Below || b.Result < b.ReadsDown):
		v.ready("batch_chlorine_less", max(b.Result, b.ReadsDown).Text(), l.made.Words())
	case l.made != nil:
		v.ready("batch_chlorine", b.Result.Text(), l.made.Words())
	case b.Below:
		v.ready("chlorine_less", b.Result.Text(), ago(e.At, l.at))
	case b.Result < b.ReadsDown: // nothing shown is less than can be read
		v.ready("chlorine_less", b.ReadsDown.Text(), ago(e.At, l.at))
	default:
		v.ready("chlorine_ready", b.Result.Text(), ago(e.At, l.at))
	}
}

// clock is the time of day of an entry, with its day where the batch was tested on
// another one.
func (l startLine) clock(e *Event) string {
	if l.made != nil && unit.DateOf(e.At) != unit.DateOf(l.at) {
		return dayClock(e.At)
	}
	return clock(e.At)
}

// behindSecond reports whether the water behind the second carbon was tested in this
// session.
func (l startLine) behindSecond() (tested bool) {
	Each(l.s, func(b *Chlorine, e *Event) {
		behind := b.Point == secondCarbon || b.Point == atMachine
		tested = tested || behind && !e.At.After(l.at) && e.Missing["total_chlorine_mg_l"] == ""
	})
	return tested
}

// behindEachCarbon reports whether the water of this session was tested at more
// than one place.
func (l startLine) behindEachCarbon() bool {
	places := map[string]bool{}
	Each(l.s, func(b *Chlorine, e *Event) {
		if !e.At.After(l.at) && e.Missing["total_chlorine_mg_l"] == "" {
			places[b.Point] = true
		}
	})
	return len(places) > 1
}
