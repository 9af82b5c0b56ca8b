package main

import (
	"ebbline/internal/household"
	"ebbline/kinetics"
	"ebbline/record"
	"ebbline/unit"
)

// doseJSON writes a dose for a program.
func doseJSON(h *record.Household, m *record.Member, v household.DoseView) doseOut {
	p, _ := m.Person.Now()
	out := doseOut{Demonstration: h.Demo, Person: m.ID, Name: p.Name, At: v.At, Critical: []string{}, Months: []monthOut{}}
	for _, c := range v.Critical {
		out.Critical = append(out.Critical, c.Words())
	}
	if why := v.Why + v.NoStretch; why != "" {
		out.WhyNot = &why
	}
	if f := v.Fortnight; f != nil && f.StdKtV.Exists {
		out.Fortnight = fortnightJSON(v, f)
	}
	if k := v.Person; k != nil && k.Pools.VolumeL > 0 {
		out.Model = &modelOut{Volume: likely(k.Estimate.VolumeL), Generation: likely(k.Estimate.GenerationMgMin), Factor: likely(k.Estimate.ClearanceFactor), Residual: k.Residual.MlMin, Sources: k.From}
	}
	for _, mon := range v.Months {
		one := monthOut{Month: mon.First.String()[:7], Held: mon.Done, Missed: len(mon.Missed), Short: mon.Short, Hours: mon.Hours, Sampled: []sampledOut{}}
		for _, s := range mon.Sampled {
			one.Sampled = append(one.Sampled, sampledJSON(s))
		}
		out.Months = append(out.Months, one)
	}
	return out
}

func likely(l kinetics.Likely) rangeOut { return rangeOut{l.Value, l.Low, l.High} }

func fortnightJSON(v household.DoseView, f *household.Fortnight) *fortnightOut {
	out := &fortnightOut{
		Std: rangeOut{f.StdKtV.Value, f.Low, f.High}, Sessions: len(f.Done), Hours: f.Hours, LongestGap: f.LongestH, Peak: f.PeakMmolL, Mean: f.MeanMmolL,
		Missed: append([]unit.Date{}, f.Missed...), Short: []shortOut{}, Verdict: verdictJSON(v.Headline), Cautions: texts(f.Cautions), Assumed: append([]string{}, f.Assumed...),
	}
	if v.Algebraic > 0 {
		out.Algebraic = &v.Algebraic
	}
	if v.Apart != "" {
		out.Apart = &v.Apart
	}
	for _, s := range f.Short {
		out.Short = append(out.Short, shortOut{s.Done.Night, s.Done.LengthMin, s.Ordered})
	}
	if f.AsOrdered != nil {
		out.AsOrdered = &f.AsOrdered.StdKtV
	}
	return out
}

func verdictJSON(v household.DoseVerdict) verdictOut {
	out := verdictOut{Says: v.Says, Words: v.Words, ByUnit: v.ByUnit}
	if v.Minimum > 0 {
		out.Minimum = &v.Minimum
	}
	return out
}

func sampledJSON(s household.SampledDose) sampledOut {
	out := sampledOut{
		Session: s.Pair.Done.ID, Date: s.Pair.Done.Night, Verdict: verdictJSON(s.Judged), Target: s.Target.Source, Notes: append([]string{}, s.SampledNote...),
		Counted: s.Pair.Fits(), LookAt: []string{}, Schedule: s.Schedule, Figures: []figureOut{},
	}
	if d := s.Delivered; d != nil {
		out.Share = &d.Share
		out.LookAt = append(out.LookAt, d.LookAt...)
	}
	for _, f := range s.Figures {
		one := figureOut{Key: f.Key, Unit: f.Unit, Why: f.Why, Source: f.Source, Cautions: texts(f.Cautions)}
		if f.Has {
			one.Value = &f.Value
			if f.High > f.Low {
				one.Low, one.High = &f.Low, &f.High
			}
		}
		out.Figures = append(out.Figures, one)
	}
	return out
}

func texts(cautions []unit.Caution) []string {
	list := []string{}
	for _, c := range cautions {
		list = append(list, c.Text)
	}
	return list
}
