package session

import (
	"ebbline/fluid"
	"ebbline/unit"
)

// Heparin is what to draw up for the prescribed dose from the vial in hand.
type Heparin struct {
	Strength  unit.Strength
	Bolus     unit.Dose
	Line      unit.Dose  // for the pump, until it stops
	BolusVol  unit.Drawn // to 0.01 mL; 0 while the label is to be read again
	LineVol   unit.Drawn
	Why       string // which other strength it was last time or is prescribed, or empty
	ReadAgain string // what to do before any volume is given, or empty
}

// DrawHeparin gives the volumes that hold the prescribed heparin at the
// strength read from the vial this time:
//
//	line = hourly dose · (length − stop before the end), to the whole IU
//	mL   = IU / (IU/mL), to the hundredth
//
// It proposes no dose: without a prescribed one, without a strength, or with
// low-molecular-weight heparin that is not prescribed in IU it returns an
// [*unit.InputError]. A strength that is another than last time or than
// prescribed gives no volume until the label was read aloud and the strength
// typed a second time, again, the same (hazard H-55).
func DrawHeparin(rx *Prescription, strength unit.Strength, again, last *unit.Strength, length unit.Minutes) (Heparin, error) {
	if rx == nil || rx.Heparin == "" || rx.Heparin == "none" {
		return Heparin{}, unit.Refuse("heparin", "none", "a heparin that your unit prescribed")
	}
	if strength <= 0 {
		return Heparin{}, unit.Refuse("strength_iu_ml", strength, "the strength on the vial in your hand, in IU/mL")
	}
	h := Heparin{Strength: strength, Line: lineDose(rx, length), Why: strengthChange(rx, strength, last)}
	if rx.HepBolus != nil {
		h.Bolus = *rx.HepBolus
	}
	if h.Bolus <= 0 && h.Line <= 0 {
		return Heparin{}, unit.Refuse("heparin_bolus_iu", "no dose", "a dose in IU in the prescription")
	}
	if h.ReadAgain = LabelAgain(rx, HeparinDrawn{Strength: strength, LabelRead: again}, last); h.ReadAgain != "" {
		return h, nil
	}
	var err error
	if h.BolusVol, err = volumeFor(h.Bolus, strength); err != nil {
		return Heparin{}, err
	}
	if h.LineVol, err = volumeFor(h.Line, strength); err != nil {
		return Heparin{}, err
	}
	return h, nil
}

// lineDose is the pump's prescribed dose over a session of this length.
func lineDose(rx *Prescription, length unit.Minutes) unit.Dose {
	if rx.HepHourly == nil || *rx.HepHourly <= 0 {
		return 0
	}
	minutes := int64(length)
	if rx.HepStop != nil {
		minutes -= int64(*rx.HepStop)
	}
	return unit.Dose((int64(*rx.HepHourly)*max(minutes, 0) + 30) / 60)
}

// volumeFor gives the volume of a dose to the hundredth of a millilitre.
func volumeFor(dose unit.Dose, strength unit.Strength) (unit.Drawn, error) {
	if dose <= 0 {
		return 0, nil
	}
	drawn, err := fluid.Draw(fluid.DrawInput{
		Dose:     fluid.Amount{Value: dose.Float(), Unit: fluid.IU},
		Strength: fluid.Amount{Value: strength.Float(), Unit: fluid.IUPerMl},
	})
	if err != nil {
		return 0, err
	}
	return unit.Drawn(0).Near(drawn.DrawMl), nil
}

// strengthChange says which strength this one differs from, or nothing.
func strengthChange(rx *Prescription, strength unit.Strength, last *unit.Strength) string {
	switch {
	case last != nil && *last != strength:
		return worded("strength_last", strengthText(*last))
	case rx != nil && rx.HepStrength != nil && *rx.HepStrength != strength:
		return worded("strength_prescribed", strengthText(*rx.HepStrength))
	}
	return ""
}

// LabelAgain says why the label of the vial is to be read aloud and its strength
// typed again, and is empty when it need not be, or when it was: a strength that
// is another than last time's, or than the prescribed one, is where ten times too
// much comes from.
func LabelAgain(rx *Prescription, b HeparinDrawn, last *unit.Strength) string {
	if f := labelAgain(rx, b, last); f != nil {
		return f.words()
	}
	return ""
}

func labelAgain(rx *Prescription, b HeparinDrawn, last *unit.Strength) *finding {
	why := strengthChange(rx, b.Strength, last)
	switch {
	case b.LabelRead != nil && *b.LabelRead != b.Strength: // two strengths for one vial, whatever was expected
		return &finding{code: "heparin_label_differs", args: []any{strengthText(b.Strength), strengthText(*b.LabelRead)}}
	case why == "":
		return nil
	case b.LabelRead == nil:
		return &finding{code: "heparin_label_again", args: []any{strengthText(b.Strength), why}}
	}
	return nil
}

// heparinAgainst compares heparin in the syringe with the prescription and
// finds each thing that is not as it should be. The pump's dose may be drawn for
// the whole session or only until it stops.
func heparinAgainst(rx *Prescription, b HeparinDrawn, last *unit.Strength, length unit.Minutes) []finding {
	if b.Strength <= 0 {
		return []finding{{code: "heparin_no_strength"}}
	}
	var found []finding
	if again := labelAgain(rx, b, last); again != nil {
		found = append(found, *again)
	}
	if rx.HepBolus != nil && b.Bolus != *rx.HepBolus {
		found = append(found, finding{code: "heparin_bolus", args: []any{doseText(b.Bolus), doseText(*rx.HepBolus)}})
	}
	if rx.HepBolus == nil && rx.Heparin == "unfractionated" && b.Bolus > 0 {
		found = append(found, finding{code: "heparin_bolus_unasked", args: []any{doseText(b.Bolus)}})
	}
	if length > 0 || rx.HepHourly == nil {
		least, whole := lineDose(rx, length), lineDose(&Prescription{HepHourly: rx.HepHourly}, length)
		if b.Line < least || b.Line > whole {
			found = append(found, finding{code: "heparin_pump", args: []any{doseText(b.Line), doseText(least)}})
		}
	}
	for _, p := range []struct {
		what string
		dose unit.Dose
		vol  unit.Drawn
	}{{"Bolus", b.Bolus, b.BolusVol}, {"Pump", b.Line, b.LineVol}} {
		want, err := volumeFor(p.dose, b.Strength)
		if d := want - p.vol; err != nil || max(d, -d) > 1 {
			found = append(found, finding{code: "heparin_volume", args: []any{p.what, doseText(p.dose), want, p.vol}})
		}
	}
	return found
}

// Anaesthetic sums local anaesthetic over a session against its limit.
type Anaesthetic struct {
	fluid.Anaesthesia
	Whose string // whose limit it is
	Words string // when over it, or when a volume is large; else empty
}

// askVolume is the volume of anaesthetic above which the entry asks: 0.1 to
// 0.3 mL a site is usual (common practice).
const askVolume unit.Drawn = 500

// SumAnaesthetic adds up the local anaesthetic of a session. The limit is the
// unit's; where it set none, the stricter published one of 3 mg/kg of dry
// weight and 200 mg in all.
func SumAnaesthetic(s *Session) (Anaesthetic, error) {
	rx := s.Rx
	if rx == nil {
		return Anaesthetic{}, unit.Refuse("prescription_id", "no prescription", "one from your unit")
	}
	var given []fluid.Injection
	var large unit.Drawn
	Each(s, func(b *AnaestheticDrawn, _ *Event) {
		given = append(given, fluid.Injection{Site: "drawn up", Ml: b.Volume, Strength: b.Strength})
		large = max(large, b.Volume)
	})
	limit, whose := fluid.StricterLidocaine(), ownDefault+" ("+fluid.StricterLidocaine().Source+")"
	if rx.Anaesthetic != nil {
		// The unit's figure counts whatever the weight.
		mg := rx.Anaesthetic.Float()
		limit = fluid.AnaestheticLimit{MgPerKg: mg, MostMg: mg, Source: setByUnit(rx)}
		whose = setByUnit(rx)
	}
	sum, err := fluid.SumAnaesthetic(given, rx.DryWeight, limit)
	if err != nil {
		return Anaesthetic{}, err
	}
	a := Anaesthetic{Anaesthesia: sum, Whose: whose}
	switch {
	case sum.Over:
		a.Words = worded("anaesthetic_over", sum.TotalMg, sum.LimitMg)
	case large > askVolume:
		a.Words = worded("anaesthetic_large", large.Text())
	}
	return a, nil
}
