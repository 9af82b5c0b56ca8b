package session

import (
	"time"

	"ebbline/unit"
)

// Limits of water and dialysis fluid used where the unit set none.
const (
	// ChlorineLimit is the most total chlorine: ISO 23500-3:2019, 0.1 mg/L;
	// the figure itself passes.
	ChlorineLimit unit.Concentration = 100
	// ConductTolerance is how far the machine's and the own meter's reading may
	// lie apart (from memory; common practice ±0.2 to ±0.4 mS/cm).
	ConductTolerance unit.Conductivity = 40
	// conductPercent is how far either may lie from the set value.
	conductPercent = 5
	// tooWarm is the fluid temperature above which nobody connects (common
	// practice); heat harm begins at about 42 °C (from memory).
	tooWarm unit.Temperature = 385
)

// ChlorineAge is how old a chlorine test may be at connecting: less than this.
const ChlorineAge = time.Hour

func (l startLine) cleaned(v *verdict) {
	if l.h.Treated == 0 {
		v.skip = true // nothing is known before the first session
		return
	}
	tested, e := l.residueTest()
	v.from(e)
	l.idle(v)
	switch c := l.h.Cleaned; {
	case c == nil && l.h.Idle.SetBy != "":
		v.Limit = l.h.Idle.limit()
		v.find(StopHere, "Not disinfected since the last session. Disinfect before use.")
	case c == nil:
		v.find(Amber, "No disinfection written after the last session.")
	case c.Result == "failed":
		v.find(StopHere, "Last disinfection failed. Disinfect before use.")
	case l.residueWanted(tested):
		v.find(OpenYet, "Last cleaning was chemical. Test for residue.")
	case c.Result == "running":
		v.find(Amber, "Last disinfection: the end was not written.")
	case c.Programme == "chemical":
		v.find(Green, "Chemical, %s; residue test ticked.", l.h.CleanedAt.Format("2 January"))
	default:
		v.find(Green, "Passed, %s.", l.h.CleanedAt.Format("2 January"))
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

func (l startLine) chlorine(v *verdict) {
	limit, whose := ChlorineLimit, ownDefault
	if l.rx.Chlorine != nil {
		limit, whose = *l.rx.Chlorine, setByUnit(l.rx)
	}
	v.Limit = limit.Text() + ", " + whose
	b, e := lastBy[Chlorine](l.s, l.at)
	if b == nil {
		v.find(OpenYet, "Not tested. Test total chlorine.")
		return
	}
	v.from(e)
	if why := e.Missing["total_chlorine_mg_l"]; why == DoesNotApply && l.s.Machine.Kind == "low_volume" {
		v.find(Green, "Does not apply: bagged fluid.")
		return
	}
	if v.blank(e, "total_chlorine_mg_l") {
		return
	}
	// The date on the strip is judged by the day of the test.
	switch age := l.at.Sub(e.At); {
	case b.Result > limit && b.Below:
		v.find(StopHere, "“Less than %s” cannot tell %s. Use a finer test.", b.Result, limit)
	case b.Result > limit:
		v.find(StopHere, "%s, limit %s. Second sample; still over: ring.", b.Result.Text(), limit)
	case b.ReadsDown <= 0:
		v.find(StopHere, "Not said how low the test reads. Look on its label.")
	case b.ReadsDown > limit:
		v.find(StopHere, "This test reads down to %s only; limit %s. Use a finer one.", b.ReadsDown, limit)
	case b.Expiry.IsZero():
		v.find(OpenYet, "Expiry of the test not written.")
	case b.Expiry.Before(unit.DateOf(e.At)):
		v.find(StopHere, "Test expired %s. Use one in date.", b.Expiry.Long())
	case age >= ChlorineAge:
		v.find(StopHere, "Tested %s. Test again.", ago(e.At, l.at))
	case l.h.Doubted && !l.behindEachCarbon():
		v.find(Amber, "%s; a notice is open. Test behind each carbon.", b.Result.Text())
	case b.Below:
		v.find(Green, "Less than %s, %s.", b.Result.Text(), ago(e.At, l.at))
	case b.Result < b.ReadsDown: // nothing shown is no nought
		v.find(Green, "Less than %s, %s.", b.ReadsDown.Text(), ago(e.At, l.at))
	default:
		v.find(Green, "%s, %s.", b.Result.Text(), ago(e.At, l.at))
	}
}

// behindEachCarbon tells whether the water of this session was tested at more
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

func (l startLine) selfTest(v *verdict) {
	b, e := lastBy[SelfTest](l.s, l.at)
	if b == nil {
		v.find(OpenYet, "Not passed yet.")
		return
	}
	v.from(e)
	tries := 0 // a test entered twice was tried as often as both say
	Each(l.s, func(b *SelfTest, e *Event) {
		if !e.At.After(l.at) {
			tries += max(b.Tries, 1)
		}
	})
	switch {
	case v.blank(e, "passed"):
	case !b.Passed:
		v.find(StopHere, "Not passed. Ring the technician.")
	case tries >= 2:
		v.find(Amber, "Passed at try %d. Note it for the technician.", tries)
	default:
		v.find(Green, "Passed at the first try.")
	}
}

func (l startLine) conductivity(v *verdict) {
	tolerance, whose := ConductTolerance, ownDefault
	if l.rx.ConductTol != nil {
		tolerance, whose = *l.rx.ConductTol, setByUnit(l.rx)
	}
	v.Limit = "±" + tolerance.Text() + ", " + whose
	b, e := lastBy[FluidCheck](l.s, l.at)
	if b == nil {
		v.find(OpenYet, "Not compared. Machine and own meter.")
		return
	}
	v.from(e)
	if v.blank(e, "machine_conductivity_ms_cm", "meter_conductivity_ms_cm") {
		return
	}
	machine, meter := b.MachineConduct, b.MeterConduct
	if d := machine - meter; max(d, -d) > tolerance {
		v.find(StopHere, "Machine %s, meter %s. They disagree; ring.", machine.Digits(2), meter.Digits(2))
	}
	if set := l.rx.SetConduct; set != nil {
		for _, c := range []struct {
			what string
			v    unit.Conductivity
		}{{"Machine", machine}, {"Meter", meter}} {
			if d := c.v - *set; 100*max(d, -d) > conductPercent**set {
				v.find(StopHere, "%s %s, set is %s. Wrong bath? Ring.", c.what, c.v.Digits(2), set.Digits(2))
			}
		}
	}
	for _, t := range []*unit.Temperature{b.MachineTemp, b.MeterTemp} {
		if t != nil && *t > tooWarm {
			v.find(StopHere, "Fluid %s: too warm. Do not connect.", t.Text())
		}
	}
	if b.PH != nil && (*b.PH < 690 || *b.PH > 760) {
		v.find(Amber, "pH %s, usual 6.9 to 7.6 (from memory). Tell the technician.", b.PH)
	}
	v.find(Green, "Machine %s, meter %s.", machine.Digits(2), meter.Digits(2))
}

func (l startLine) bath(v *verdict) {
	b, e := lastBy[BathLabel](l.s, l.at)
	if b == nil {
		v.find(OpenYet, "Label not read. Type K and Ca.")
		return
	}
	v.from(e)
	switch {
	case v.blank(e, "label_k_mmol_l", "label_ca_mmol_l"):
	case b.K != l.rx.BathK:
		v.find(StopHere, "Label K %s, prescribed %s. Do not use it.", b.K, l.rx.BathK)
	case b.Ca != l.rx.BathCa:
		v.find(StopHere, "Label Ca %s, prescribed %s. Do not use it.", b.Ca, l.rx.BathCa)
	case b.Expiry.IsZero() && e.Missing["expiry"] != DoesNotApply:
		v.find(OpenYet, "Expiry of the bath not written.")
	case !b.Expiry.IsZero() && b.Expiry.Before(unit.DateOf(l.at)):
		v.find(StopHere, "Bath expired %s. Use one in date.", b.Expiry.Long())
	default:
		v.find(Green, "K %s, Ca %s as prescribed.", b.K, b.Ca)
	}
}
