package session

import (
	"time"

	"ebbline/unit"
)

// ChlorineLimit is the most total chlorine, used where the unit set none: ISO
// 23500-3:2019, 0.1 mg/L; the figure itself passes.
const ChlorineLimit unit.Concentration = 100

// ChlorineAge is how old a chlorine test may be at connecting: less than this.
const ChlorineAge = time.Hour

// chlorine is the total chlorine of this session's water.
func (l startLine) chlorine(v *verdict) {
	limit, whose := l.chlorineLimit()
	v.limit = limit.Text() + ", " + whose
	if judged(l, v, startLine.chlorineTest) == nil {
		v.open(nil, "chlorine_open")
	}
}

func (l startLine) chlorineLimit() (limit unit.Concentration, whose string) {
	if l.rx.Chlorine != nil {
		return *l.rx.Chlorine, setByUnit(l.rx)
	}
	return ChlorineLimit, ownDefault
}

func (l startLine) chlorineTest(v *verdict, b *Chlorine, e *Event) {
	limit, _ := l.chlorineLimit()
	if why := e.Missing["total_chlorine_mg_l"]; why == DoesNotApply && l.s.Machine.Kind == "low_volume" {
		v.ready("chlorine_bags")
		return
	}
	if v.blank(e, "total_chlorine_mg_l") {
		return
	}
	// The date on the strip is judged by the day of the test.
	switch age := l.at.Sub(e.At); {
	case b.Result > limit && b.Below:
		v.stop(e, "chlorine_cannot_tell", b.Result, limit)
	case b.Result > limit:
		v.stop(e, "chlorine_over", b.Result.Text(), limit).stays(looked)
	case b.ReadsDown <= 0:
		v.stop(e, "chlorine_reads_what")
	case b.ReadsDown > limit:
		v.stop(e, "chlorine_coarse", b.ReadsDown, limit)
	case b.Expiry.IsZero():
		v.open(e, "chlorine_no_expiry")
	case b.Expiry.Before(unit.DateOf(e.At)):
		v.stop(e, "chlorine_expired", b.Expiry.Long())
	case age >= ChlorineAge:
		v.stop(e, "chlorine_old", ago(e.At, l.at))
	case l.h.Doubted && !l.behindEachCarbon():
		v.look(e, "chlorine_doubted", b.Result.Text())
	case b.Below:
		v.ready("chlorine_less", b.Result.Text(), ago(e.At, l.at))
	case b.Result < b.ReadsDown: // nothing shown is less than can be read
		v.ready("chlorine_less", b.ReadsDown.Text(), ago(e.At, l.at))
	default:
		v.ready("chlorine_ready", b.Result.Text(), ago(e.At, l.at))
	}
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
