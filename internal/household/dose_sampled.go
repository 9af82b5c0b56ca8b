package household

import (
	"fmt"
	"slices"
	"time"

	"ebbline/kinetics"
	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// A DoseFigure is one figure of a dose with its range and what must be said
// beside it. Low and High are what it becomes when the sample after the session
// reads 5 % too high or too low.
type DoseFigure struct {
	Key       string // urr, spktv, ektv, stdktv, npcr
	Name      string
	Unit      string
	Decimals  int
	Has       bool
	Value     float64
	Low, High float64
	Why       string // why there is none
	Source    string
	Cautions  []unit.Caution
}

// Text writes the value, or a dash where there is none.
func (f DoseFigure) Text() string {
	if !f.Has {
		return "–"
	}
	return figure(f.Value, f.Decimals)
}

// Range writes the range, or nothing where there is none.
func (f DoseFigure) Range() string {
	if !f.Has || f.High <= f.Low {
		return ""
	}
	return figure(f.Low, f.Decimals) + " to " + figure(f.High, f.Decimals)
}

// A SampledDose is a session judged by its two ureas, as guidelines do.
type SampledDose struct {
	Pair        SampledPair
	PerWeek     float64
	Days        float64 // since the session before, nominal; 0 when not known
	Schedule    string  // in words
	Figures     []DoseFigure
	Target      kinetics.Target
	Judged      DoseVerdict
	SampledNote []string // what is odd about the samples, in sentences
	Spoilt      bool     // so odd that the figures mean nothing
	Delivered   *Delivered
}

// Figure returns a figure by its key; a blank one when it is not there.
func (s *SampledDose) Figure(key string) DoseFigure {
	for _, f := range s.Figures {
		if f.Key == key {
			return f
		}
	}
	return DoseFigure{Key: key, Why: "not worked out"}
}

// A DoseVerdict holds a dose against what is wanted.
type DoseVerdict struct {
	Says    string // inside, outside, cannot tell, or nothing
	Words   string
	Minimum float64
	Measure string
	ByUnit  bool
}

// sampleError is how far a sample after a session is easily off.
const sampleError = 0.05

// SampledDoses gives a dose for each of the person's pairs of ureas, oldest
// first.
func SampledDoses(m *record.Member, k *Kinetic, now time.Time) []SampledDose {
	list := make([]SampledDose, 0, len(k.Pairs))
	for _, p := range k.Pairs {
		list = append(list, sampledDose(m, k, p))
	}
	if m.Pregnant(now) {
		for i := range list {
			list[i].unitSets()
		}
	}
	delivered(k, list)
	return list
}

// unitSets takes away what a guideline says of a dose.
func (s *SampledDose) unitSets() {
	s.Target = kinetics.Target{Measure: s.Target.Measure, Source: UnitSetsDose}
	if !s.Judged.ByUnit {
		s.Judged = DoseVerdict{Measure: s.Target.Measure, Words: UnitSetsDose}
	}
}

func sampledDose(m *record.Member, k *Kinetic, p SampledPair) SampledDose {
	s := SampledDose{Pair: p}
	s.notes()
	rx := p.Done.session.Rx
	if rx == nil {
		s.Figures = noFigures("the session has no prescription, so its schedule is not known")
		return s
	}
	s.PerWeek = rx.PerWeek()
	s.Schedule = scheduleWords(s.PerWeek, rx)
	if before := m.DialysedBefore(p.Done.Began.Add(-time.Hour)); before != nil {
		if began, ok := before.Began(); ok && began.Before(p.Done.Began) {
			s.Days = nominalDays(began, p.Done.Began)
		}
	}
	then := ResidualAt(m, p.Done.Ended)
	residual := then.MlMin
	if then.collection != nil && then.collection == k.Residual.collection {
		residual = k.Residual.MlMin // the same collection, with the better mean
	}
	s.Figures = s.figures(k, rx, residual)
	if t, err := kinetics.TargetFor(s.PerWeek, residual); err == nil {
		s.Target = t
		s.Judged = s.judge(m)
	}
	return s
}

func scheduleWords(perWeek float64, rx *session.Prescription) string {
	if rx.EveryHours > 0 {
		return fmt.Sprintf("every %d hours", rx.EveryHours)
	}
	return count(len(rx.Days), "session a week", "sessions a week")
}

// notes says what is odd about the samples themselves.
func (s *SampledDose) notes() {
	p := s.Pair
	say := func(format string, args ...any) { s.SampledNote = append(s.SampledNote, fmt.Sprintf(format, args...)) }
	if !p.Fits() && p.Judged.Verdict != "" {
		say("%s It is not counted in the estimate.", p.Judged.Text())
		s.Spoilt = slices.Contains([]kinetics.Verdict{kinetics.SampleSwapped, kinetics.SampleInput}, p.Judged.Verdict)
	}
	switch p.Post.Value.Method {
	case "after_washback":
		say("The sample after was drawn after the blood was given back: saline thins it, and the dose looks higher than it was.")
	case "full_flow":
		say("The sample after was drawn at full blood flow: blood that has just been cleaned may be in it, and the dose looks higher than it was.")
	case "not_recorded", "":
		say("How the sample after was drawn is not written down; the figures lean on it.")
	}
	if d := p.Pre.At.Sub(p.Done.Began); d > 15*time.Minute {
		say("The sample before was drawn %d minutes after the treatment began: the dose looks lower than it was.", int(d.Minutes()))
	}
	if d := p.Post.At.Sub(p.Done.Ended); d > 15*time.Minute {
		say("The sample after was drawn %d minutes after the end: urea had begun to come back, and the dose looks lower than it was.", int(d.Minutes()))
	} else if d < -15*time.Minute {
		say("The sample after was drawn %d minutes before the end: the dose looks lower than it was.", int(-d.Minutes()))
	}
	if p.Pre.Value.Laboratory != p.Post.Value.Laboratory {
		say("The two samples went to different laboratories.")
	}
	for _, a := range p.Done.Assumed {
		say("Not written down and taken as usual: %s.", a)
	}
}

var figureNames = []DoseFigure{
	{Key: "urr", Name: "URR", Unit: "%", Decimals: 0, Source: "definition"},
	{Key: "spktv", Name: "spKt/V, single pool", Decimals: 2, Source: "Daugirdas 1993; generation term by days, 2013 (from memory)"},
	{Key: "ektv", Name: "eKt/V, equilibrated", Decimals: 2, Source: "Tattersall et al. 1996"},
	{Key: "stdktv", Name: "stdKt/V a week, algebraic", Decimals: 2, Source: "Leypoldt et al. 2004 (from memory), with fluid and residual clearance by Daugirdas et al. 2010 (from memory)"},
	{Key: "npcr", Name: "nPCR", Unit: "g/kg/day", Decimals: 2, Source: "Depner and Daugirdas 1996 (from memory)"},
}

func noFigures(why string) []DoseFigure {
	list := slices.Clone(figureNames)
	for i := range list {
		list[i].Why = why
	}
	return list
}

// chain is the row of formulas from two ureas to a week's dose.
type chain struct {
	urr, sp, e, std *kinetics.Figure
	why             map[string]string
}

// figures works out the row with the samples as they are and with the one after
// 5 % too high and too low.
func (s *SampledDose) figures(k *Kinetic, rx *session.Prescription, residual float64) []DoseFigure {
	in := s.sampled(k)
	access := kinetics.Arteriovenous
	if rx.ByCatheter() {
		access = kinetics.Venovenous
	}
	at := func(factor float64) chain {
		one := in
		one.Post = unit.Urea(float64(in.Post) * factor)
		return s.chain(one, access, k, residual)
	}
	mid, low, high := at(1), at(1+sampleError), at(1-sampleError)
	list := noFigures("")
	set := func(key string, scale float64, a, b, c *kinetics.Figure) {
		for i := range list {
			f := &list[i]
			switch {
			case f.Key != key:
			case a == nil:
				f.Why = mid.why[key]
			default:
				f.Has, f.Value, f.Cautions = true, a.Value*scale, a.Cautions
				if b != nil && c != nil {
					f.Low, f.High = b.Value*scale, c.Value*scale
				}
			}
		}
	}
	set("urr", 100, mid.urr, low.urr, high.urr)
	set("spktv", 1, mid.sp, low.sp, high.sp)
	set("ektv", 1, mid.e, low.e, high.e)
	set("stdktv", 1, mid.std, low.std, high.std)
	pm, why := s.npcr(mid.sp, k, rx, residual)
	pl, _ := s.npcr(low.sp, k, rx, residual)
	ph, _ := s.npcr(high.sp, k, rx, residual)
	mid.why["npcr"] = why
	set("npcr", 1, pm, pl, ph)
	return list
}

func (s *SampledDose) sampled(k *Kinetic) kinetics.Sampled {
	d := s.Pair.Done
	w := d.PostKg
	if w == 0 {
		w = k.DryKg
	}
	return kinetics.Sampled{
		Pre: s.Pair.PreUrea, Post: s.Pair.PostUrea, LengthMin: d.LengthMin, RemovedL: max(d.LostL, 0),
		PostWeightKg: w, PerWeek: s.PerWeek, DaysSincePrevious: s.Days,
	}
}

func (s *SampledDose) chain(in kinetics.Sampled, access kinetics.Access, k *Kinetic, residual float64) chain {
	c := chain{why: map[string]string{}}
	fail := func(err error, keys ...string) chain {
		for _, key := range keys {
			c.why[key] = err.Error()
		}
		return c
	}
	urr, err := kinetics.URR(in.Pre, in.Post)
	if err != nil {
		return fail(err, "urr", "spktv", "ektv", "stdktv")
	}
	c.urr = &urr
	sp, err := kinetics.SinglePool(in)
	if err != nil {
		return fail(err, "spktv", "ektv", "stdktv")
	}
	c.sp = &sp
	e, err := kinetics.Equilibrated(sp.Value, in.LengthMin, access)
	if err != nil {
		return fail(err, "ektv", "stdktv")
	}
	c.e = &e
	std, err := kinetics.StandardKtV(sp.Value, e.Value, s.PerWeek, in.LengthMin)
	if err != nil {
		return fail(err, "stdktv")
	}
	weekly := s.Pair.weeklyL()
	if k.Pools.VolumeL > 0 && weekly > 0 {
		full, err := kinetics.StandardFull(std.Value, sp.Value, s.PerWeek, kinetics.WholeWeek{RemovedL: weekly, VolumeL: k.Pools.VolumeL, ResidualMlMin: residual})
		if err == nil {
			full.Cautions = append(full.Cautions, std.Cautions...)
			c.std = &full
			return c
		}
	}
	std.Cautions = append(std.Cautions, unit.Caution{Code: "fluid_not_counted", Text: "Fluid removed and residual clearance are not counted in this standard Kt/V; it reads low."})
	c.std = &std
	return c
}

// weeklyL is the fluid removed in a week around the sample.
func (p SampledPair) weeklyL() float64 {
	sum := 0.0
	for _, s := range p.drawn.Cycle.Sessions {
		sum += s.RemovedL
	}
	if p.drawn.Cycle.LengthMin == 0 {
		return 0
	}
	return sum / p.drawn.Cycle.LengthMin * 10080
}

// npcr reads the protein catabolic rate off the level before the session where
// the published constants hold, at two or three sessions a week, and off the
// model of the person elsewhere.
func (s *SampledDose) npcr(sp *kinetics.Figure, k *Kinetic, rx *session.Prescription, residual float64) (*kinetics.Figure, string) {
	if sp == nil {
		return nil, "there is no single-pool Kt/V to work it out from"
	}
	n := len(rx.Days)
	if rx.EveryHours == 0 && (n == 2 || n == 3) {
		position, ok := position(rx.Days, s.Pair.Done.Night)
		if !ok {
			return nil, "the session was not on one of the ordered days, so its place in the week is not known"
		}
		f, err := kinetics.NPCR(kinetics.ProteinSample{Pre: s.Pair.PreUrea, SpKtV: sp.Value, PerWeek: n, Position: position, ResidualMlMin: residual, VolumeL: k.Pools.VolumeL})
		if err != nil {
			return nil, err.Error()
		}
		return &f, ""
	}
	if g := s.Pair.Judged.GenerationMgMin; g > 0 {
		v, err := kinetics.NPCRFromGeneration(g, k.Pools.VolumeL)
		if err == nil {
			return &kinetics.Figure{Value: v, Cautions: []unit.Caution{{Code: "npcr_by_model", Text: "From the model: the published formula holds for two or three sessions a week only."}}}, ""
		}
	}
	return nil, "the published formula holds for two or three sessions a week only"
}

// position tells which session of the week a day is: the first follows the
// longest gap.
func position(days []string, night unit.Date) (kinetics.Position, bool) {
	var at []int
	for i, code := range dayNames {
		if slices.Contains(days, code) {
			at = append(at, i)
		}
	}
	here := slices.Index(at, int(night.Weekday()))
	if here < 0 || len(at) < 2 {
		return "", false
	}
	first, longest := 0, 0
	for i := range at {
		before := at[(i+len(at)-1)%len(at)]
		if gap := (at[i] - before + 7) % 7; gap > longest {
			first, longest = i, gap
		}
	}
	switch (here - first + len(at)) % len(at) {
	case 0:
		return kinetics.FirstOfWeek, true
	case len(at) - 1:
		return kinetics.LastOfWeek, true
	}
	return kinetics.MiddleOfWeek, true
}

// judge holds the dose against the minimum the unit set of some measure, else
// against the guideline's for this schedule.
func (s *SampledDose) judge(m *record.Member) DoseVerdict {
	keys := []string{s.Target.Measure, "stdktv", "spktv", "ektv", "urr"}
	for _, key := range keys {
		measure := key
		if key == "urr" {
			measure = "urr_percent"
		}
		if t := m.TargetAt(measure, s.Pair.Post.Since); t != nil {
			return s.Figure(key).against(t.Minimum.Float(), "the limits your unit set on "+t.SetOn.Long(), true)
		}
	}
	scale := 1.0
	if s.Target.Measure == "urr" {
		scale = 100
	}
	return s.Figure(s.Target.Measure).against(s.Target.Minimum*scale, "the guideline’s figure", false)
}

// against words where a figure lies. When its range holds the minimum, one
// sample cannot tell.
func (f DoseFigure) against(minimum float64, whose string, byUnit bool) DoseVerdict {
	v := DoseVerdict{Minimum: minimum, Measure: f.Key, ByUnit: byUnit}
	inside, outside := "Inside "+whose, "Outside "+whose
	least := ": " + f.Name + " of at least " + figure(minimum, f.Decimals) + "."
	if !byUnit {
		inside, outside = "Not below "+whose, "Below "+whose
		least = " for " + f.Name + ", at least " + figure(minimum, f.Decimals) + ". It is not set by your unit."
	}
	switch {
	case !f.Has:
		v.Words = "There is no " + f.Name + " to hold against a minimum: " + f.Why + "."
	case f.Value >= minimum:
		v.Says, v.Words = "inside", inside+least
		if f.Low < minimum && f.High > f.Low {
			v.Words += " Near it: a sample that read 5 % too low would put it outside."
		}
	default:
		v.Says, v.Words = "outside", outside+least
		if f.High >= minimum && f.High > f.Low {
			v.Words += " Near it: a sample that read 5 % too high would put it inside."
		}
	}
	return v
}
