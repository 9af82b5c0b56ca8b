package water

import (
	"fmt"
	"math/big"
	"strconv"

	"ebbline/unit"
)

// A Verdict is where a result stands against its limit.
type Verdict string

const (
	Within     Verdict = "within"
	Action     Verdict = "action" // at or over the action level, under the limit
	Over       Verdict = "over"
	CannotTell Verdict = "cannot_tell" // the result does not say on which side it lies
)

// A Judgement keeps the whole comparison, so that it stands when limits are
// changed afterwards.
type Judgement struct {
	Result   Result         `json:"result"`
	Limit    Limit          `json:"limit"`
	Verdict  Verdict        `json:"verdict"`
	InUnit   float64        `json:"in_limit_unit"` // the result's value in the limit's unit and basis
	Cautions []unit.Caution `json:"cautions,omitempty"`
}

// Judge compares a laboratory result with the edition's limit for a use.
//
// The bands are
//
//	chemistry:  within ≤ limit < over
//	microbes:   within < action ≤ action < limit ≤ over
//
// without the action band where no action level is set. A result stands for
// all the values it allows: "= v" for v alone, "< v" for everything from 0 up
// to but not including v, "> v" for everything above v. It gets a band only
// when all those values lie in that band, and is cannot_tell otherwise. So
// "<50 CFU/mL" is within when the action level is 50; "<100" is under the
// limit of 100 for certain, but not known to be under the action level, hence
// cannot_tell with a caution that says so; "<1" proves nothing about 0.1.
//
// A result is refused with a [*unit.InputError] when the edition has no limit
// for it, its unit does not belong to it, its value is negative or "< 0", or
// nitrate lacks its basis.
//
// Sources: ISO 23500-3:2019 and 23500-5:2019 (microbes must be less than the
// figure; chemical figures are maxima); the rule for censored results is the
// logic of intervals.
func (e Edition) Judge(use Use, r Result) (Judgement, error) {
	l, ok := e.Limit(r.What, use)
	if !ok {
		return Judgement{}, unit.Refuse("what", strconv.Quote(string(r.What)), e.Name+" to set a limit for it in "+string(use)+" use, which it does not")
	}
	return l.Judge(r)
}

// Judge compares a result with this limit; see [Edition.Judge].
func (l Limit) Judge(r Result) (Judgement, error) {
	if r.What != l.What {
		return Judgement{}, unit.Refuse("what", strconv.Quote(string(r.What)), "a result of "+l.What.Label())
	}
	if err := r.check(); err != nil {
		return Judgement{}, err
	}
	v, err := r.in(l)
	if err != nil {
		return Judgement{}, err
	}
	lowest, highest := l.span(r.Op, v)
	j := Judgement{Result: r, Limit: l, Verdict: CannotTell}
	j.InUnit, _ = v.Float64()
	if lowest == highest {
		j.Verdict = lowest
	}
	j.Cautions = l.cautions(r, v, highest, j.Verdict)
	return j, nil
}

// span gives the lowest and the highest band that the result allows.
func (l Limit) span(op Op, v *big.Rat) (lowest, highest Verdict) {
	switch op {
	case Less:
		return Within, l.bandBelow(v)
	case Greater:
		return l.bandAbove(v), Over
	}
	return l.band(v), l.band(v)
}

// band is where the value v itself stands.
func (l Limit) band(v *big.Rat) Verdict {
	c := v.Cmp(exact(l.Max))
	switch {
	case c > 0 || c == 0 && l.Exclusive:
		return Over
	case l.Action > 0 && v.Cmp(exact(l.Action)) >= 0:
		return Action
	}
	return Within
}

// bandBelow is the highest band among the values below v: a band that begins
// at v itself is not reached.
func (l Limit) bandBelow(v *big.Rat) Verdict {
	switch {
	case v.Cmp(exact(l.Max)) > 0:
		return Over
	case l.Action > 0 && v.Cmp(exact(l.Action)) > 0:
		return Action
	}
	return Within
}

// bandAbove is the lowest band among the values above v.
func (l Limit) bandAbove(v *big.Rat) Verdict {
	switch {
	case v.Cmp(exact(l.Max)) >= 0: // whatever lies above the limit is over it
		return Over
	case l.Action > 0 && v.Cmp(exact(l.Action)) >= 0:
		return Action
	}
	return Within
}

// Ratios of a result to its limit beyond which a wrong unit (a thousandfold)
// is likelier than the result. Our own choice.
const (
	doubtAbove = 100
	doubtBelow = 0.001
)

func (l Limit) cautions(r Result, v *big.Rat, highest, verdict Verdict) []unit.Caution {
	var list []unit.Caution
	add := func(code, format string, args ...any) {
		list = append(list, unit.Caution{Code: code, Text: fmt.Sprintf(format, args...)})
	}
	name, max := r.What.Label(), number(l.Max)+" "+string(l.Unit)
	if verdict == CannotTell {
		switch {
		case r.Op == Less && highest == Action:
			add("under_limit_action_unknown", "%s <%s is under the limit of %s, but whether it is under the action level of %s cannot be told.",
				name, number(r.Value), max, number(l.Action))
		case r.Op == Less:
			add("method_too_coarse", "%s <%s does not show that the limit of %s is kept: ask for a method or a sample volume that sees less.",
				name, number(r.Value), max)
		default:
			add("method_ran_out", "%s >%s does not say how high it is: ask for a dilution that can be counted, and treat it as over the limit of %s until then.",
				name, number(r.Value), max)
		}
	}
	ratio := new(big.Rat).Quo(v, exact(l.Max))
	switch {
	case ratio.Cmp(exact(doubtAbove)) > 0:
		add("unit_in_doubt", "%s of %s %s is more than %d times its limit: look at the unit on the paper again.", name, number(r.Value), r.Unit, doubtAbove)
	case r.Op == Equal && v.Sign() > 0 && ratio.Cmp(exact(doubtBelow)) < 0:
		add("unit_in_doubt", "%s of %s %s is less than a thousandth of its limit: look at the unit on the paper again.", name, number(r.Value), r.Unit)
	case r.Op == Equal && v.Sign() == 0 && r.What == ViableCount && l.Max < 1:
		add("volume_in_doubt", "A count of 0 shows less than %s only if enough water was filtered (10 mL to 1 L): a plate of 1 mL shows only less than 1.", max)
	case r.Op == Equal && v.Sign() == 0:
		add("zero_reported", "%s of 0 means less than the method can see: ask for that figure and write it with <.", name)
	}
	printed := new(big.Rat).Mul(exact(8.9), nitrogenInNitrate)
	if r.Basis == AsNO3 && verdict == Over && l.Max == 2 && v.Cmp(printed) <= 0 {
		add("nitrate_rounding", "%s %s as NO3 is just over 2 mg/L as N (8.85 as NO3, which tables print as 8.9): ask the laboratory for another digit.", number(r.Value), r.Unit)
	}
	return list
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
