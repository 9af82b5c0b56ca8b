package kinetics

import (
	"fmt"
	"strings"

	"ebbline/unit"
)

// The reckonings that several rows of the table share.

func figure(f Figure, err error) ([]float64, error) { return []float64{f.Value}, err }

func one(v float64, err error) ([]float64, error) { return []float64{v}, err }

func two(a, b float64) []float64 { return []float64{a, b} }

// ratioSession is a session of which only post/pre is known.
func (in checkInputs) ratioSession(r float64) Sampled {
	return Sampled{Pre: unit.BUN(100), Post: unit.BUN(100 * r), LengthMin: 60 * in.num("t_h"), RemovedL: in.num("UF_L"),
		PostWeightKg: in.num("W_kg"), PerWeek: 3, DaysSincePrevious: in.or("PIDI_d", 0)}
}

func (in checkInputs) rate(a Access) ([]float64, error) {
	return figure(EquilibratedRate(in.num("spKtV"), 60*in.num("t_h"), a))
}

func (in checkInputs) person() Person {
	p := Person{Sex: Male, HeightCm: in.num("h"), WeightKg: in.num("w"), AgeY: in.or("age", 50)}
	if in.text("sex") == "f" {
		p.Sex = Female
	}
	p.Diabetes, _ = in.values["diabetes"].(bool)
	return p
}

func (in checkInputs) phosphate() PhosphateSession {
	return PhosphateSession{PreMmolL: in.num("Cpre_mmol_L"), MobilisationMl: in.num("KM"), Clearance: in.num("Kd"),
		VolumeL: in.num("Vpost_mL") / 1000, RemovedL: in.num("UF_mL") / 1000, LengthMin: in.num("t_min")}
}

func standardByTattersall(in checkInputs) ([]float64, error) {
	e, err := Equilibrated(in.num("spKtV"), in.num("t_min"), Arteriovenous)
	if err != nil {
		return nil, err
	}
	return figure(StandardKtV(in.num("spKtV"), e.Value, in.num("n"), in.num("t_min")))
}

// generationBySchedule gives the true Kt/V of a long daily session and what
// the two generation terms make of it. The row leaves out the fluid: 9 L a
// week, of which a day's gap is 1.2 L, and a weight of V/0.58.
func generationBySchedule(in checkInputs) ([]float64, error) {
	litres := in.num("V_mL") / 1000
	s := Sampled{Pre: unit.BUN(in.num("pre")), Post: unit.BUN(in.num("post")), LengthMin: in.num("t_min"),
		RemovedL: 1.2, PostWeightKg: litres / 0.58, PerWeek: 6}
	truth, err := NominalKtV(in.num("K"), in.num("t_min"), litres)
	if err != nil {
		return nil, err
	}
	plainTerm, err := SinglePool(s)
	if err != nil {
		return nil, err
	}
	s.DaysSincePrevious = 1
	byDays, err := SinglePool(s)
	return []float64{truth, plainTerm.Value, byDays.Value}, err
}

// npcrOverTheWeek takes the three samples of a week, each with its own set.
func npcrOverTheWeek(in checkInputs) ([]float64, error) {
	var v []float64
	for i, pre := range in.list("pre") {
		f, err := NPCR(ProteinSample{Pre: unit.BUN(pre), SpKtV: in.num("spKtV"), PerWeek: 3,
			Position:      []Position{FirstOfWeek, MiddleOfWeek, LastOfWeek}[i],
			ResidualMlMin: in.or("Kr", 0), VolumeL: in.or("V_L", 35)})
		if err != nil {
			return nil, err
		}
		v = append(v, f.Value)
	}
	return v, nil
}

// targetOf finds a target of a schedule by its measure and source.
func targetOf(perWeek, residual float64, measure, source string) (Target, error) {
	list, err := Targets(perWeek, residual)
	if err != nil {
		return Target{}, err
	}
	for _, target := range list {
		if target.Measure == measure && strings.HasPrefix(target.Source, source) {
			return target, nil
		}
	}
	return Target{}, fmt.Errorf("no target %s of %s", measure, source)
}

func minima(residual float64, perWeek ...float64) ([]float64, error) {
	var v []float64
	for _, n := range perWeek {
		least, ok := SessionMinimum(n, residual)
		if !ok {
			return nil, fmt.Errorf("no minimum for %v a week", n)
		}
		v = append(v, least)
	}
	return v, nil
}

// otherSolute takes the two pools for beta-2-microglobulin: what is cleared
// otherwise than by dialysis stands for residual clearance, no fluid moves, and
// levels are in mg/L. Three sessions are Monday, Wednesday and Friday, six all
// but Sunday.
func otherSolute(in checkInputs) ([]float64, error) {
	p := Pools{VolumeL: in.num("V_mL") / 1000, ExtracellularFraction: in.num("accessible_fraction"), GenerationMgMin: in.num("G_mg_min"),
		ResidualMlMin: in.num("K_nonrenal"), TransferMlMin: in.num("K12")}
	starts := mondayWednesdayFriday
	if in.num("days") == 6 {
		starts = mondayToSaturday
	}
	c := Cycle{LengthMin: minutesAWeek}
	for _, start := range starts {
		c.Sessions = append(c.Sessions, CycleSession{StartMin: start, LengthMin: in.num("t_min"), ClearanceMlMin: in.num("K")})
	}
	s, err := p.Steady(c, nil)
	return []float64{1000 * s.MeanPre}, err
}

// residualEquivalents gives k in Kt/V + k·Kr/V three times: so that a week with
// residual clearance and the smaller Kt/V holds the same time-averaged, mean
// and highest urea as one without it. The rows leave out the rest of the week:
// 4 h, 7.5 L gained between sessions, on Monday, Wednesday and Friday or on
// Monday and Thursday.
func residualEquivalents(in checkInputs) ([]float64, error) {
	const residual, volume, length, weekly = 2, 35.0, 240.0, 7.5
	starts := []float64{480, 3360, 6240}
	if in.text("per_week") == "2" {
		starts = []float64{480, 4800}
	}
	levels := func(ktv, residual float64) ([3]float64, error) {
		p := Pools{VolumeL: volume, ExtracellularFraction: 1.0 / 3, GenerationMgMin: 5.35346, ResidualMlMin: residual, TransferMlMin: 1e9}
		c := Cycle{LengthMin: minutesAWeek}
		for i, start := range starts {
			since := start - starts[(i+len(starts)-1)%len(starts)]
			if since <= 0 {
				since += minutesAWeek
			}
			// Gain comes during the sessions too in a cycle: each takes it off again.
			gain := weekly / (minutesAWeek - length*float64(len(starts)))
			c.Sessions = append(c.Sessions, CycleSession{StartMin: start, LengthMin: length,
				ClearanceMlMin: ktv * volume * 1000 / length, RemovedL: gain * since})
		}
		s, err := p.Steady(c, nil)
		highest := 0.0
		for _, l := range s.Sessions {
			highest = max(highest, l.Pre)
		}
		return [3]float64{s.TimeAveraged, s.MeanPre, highest}, err
	}
	full := in.num("KtV0")
	want, err := levels(full, 0)
	if err != nil {
		return nil, err
	}
	var k []float64
	for i := range want {
		less, more := 0.01, full
		for range 50 {
			mid := (less + more) / 2
			got, err := levels(mid, residual)
			if err != nil {
				return nil, err
			}
			if got[i] > want[i] {
				less = mid
			} else {
				more = mid
			}
		}
		k = append(k, (full-less)*volume/residual)
	}
	return k, nil
}
