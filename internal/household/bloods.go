package household

import (
	"math"
	"time"

	"ebbline/record"
	"ebbline/unit"
)

// A BloodSeries is one analyte at one point of the session, from one laboratory
// by one assay: only such values can be laid on one line.
type BloodSeries struct {
	Analyte    unit.Analyte
	Timing     string
	Laboratory string
	Assay      string
	Upper      string // the laboratory's own upper limit, as printed, with its unit
	Unit       string // in which the values are given: that of the last one
	Points     []BloodPoint
}

// A BloodPoint is one value of a series.
type BloodPoint struct {
	Blood  *record.Blood
	Result record.BloodResult
	Value  float64 // in the series' unit
	Judged record.BloodVerdict
	Mean   ThreeMonths
}

// ThreeMonths is the plain mean of the values of one series over the 92 days up
// to one of them. One value is noise: in a cohort only a third of high
// bicarbonates were high again a month later.
//
// Source: the share is read in an abstract of 2015; the window is ours.
type ThreeMonths struct {
	N     int // values in it; bounds such as "< 5" are not counted
	Value float64
	Left  int // bounds left out
}

// Enough reports whether there is more than the one value itself.
func (m ThreeMonths) Enough() bool { return m.N >= 2 }

const meanDays = 92

// BloodSeriesOf sorts a person's results into series, those of one analyte
// together in the order of a report, each series in order of time. A new
// laboratory, assay or upper limit begins a new series.
func BloodSeriesOf(m *record.Member) []BloodSeries {
	var list []BloodSeries
	for _, a := range unit.Analytes() {
		for _, timing := range []string{record.Pre, record.Post, record.Other} {
			list = append(list, seriesOf(m, a, timing)...)
		}
	}
	return list
}

func seriesOf(m *record.Member, a unit.Analyte, timing string) []BloodSeries {
	var list []BloodSeries
	for _, b := range m.Bloods {
		if !b.Counts() || b.Value.Timing != timing {
			continue
		}
		r := b.Value.Find(a.Code)
		if r == nil {
			continue
		}
		upper := ""
		if r.Upper != "" {
			upper = r.Upper.String() + "\u00a0" + r.Unit
		}
		n := len(list)
		if n == 0 || list[n-1].Laboratory != b.Value.Laboratory || list[n-1].Assay != r.Assay || upper != "" && list[n-1].Upper != "" && list[n-1].Upper != upper {
			list = append(list, BloodSeries{Analyte: a, Timing: timing, Laboratory: b.Value.Laboratory, Assay: r.Assay, Upper: upper})
			n++
		}
		s := &list[n-1]
		if s.Upper == "" {
			s.Upper = upper
		}
		s.Points = append(s.Points, BloodPoint{Blood: b, Result: *r, Judged: m.LimitsAt(a.Code, b.Since).Judge(*r, timing)})
	}
	for i := range list {
		list[i].finish()
	}
	return list
}

// finish brings the values into one unit and works out the means.
func (s *BloodSeries) finish() {
	s.Unit = s.Points[len(s.Points)-1].Result.Unit
	for i := range s.Points {
		p := &s.Points[i]
		v, err := s.Analyte.Convert(p.Result.Value.Float(), p.Result.Unit, s.Unit)
		if err != nil {
			v = p.Result.Value.Float() // a bound below what blood usually holds
		}
		p.Value = v
		p.Mean = s.mean(i)
	}
}

func (s *BloodSeries) mean(last int) ThreeMonths {
	var out ThreeMonths
	from := s.Points[last].Blood.At.Add(-meanDays * 24 * time.Hour)
	sum := 0.0
	for _, p := range s.Points[:last+1] {
		switch {
		case p.Blood.At.Before(from):
		case !p.Result.Exact():
			out.Left++
		default:
			out.N++
			sum += p.Value
		}
	}
	if out.N > 0 {
		out.Value = sum / float64(out.N)
	}
	return out
}

// Decimals is how many digits after the point the series' values are printed
// with.
func (s *BloodSeries) Decimals() int {
	if u, err := s.Analyte.Unit(s.Unit); err == nil {
		return u.Decimals
	}
	return 1
}

// MeanText writes the three-month mean with its count, or why there is none.
func (s *BloodSeries) MeanText(p BloodPoint) string {
	if !p.Mean.Enough() {
		return "one value"
	}
	return figure(math.Round(p.Mean.Value*1e6)/1e6, s.Decimals()) + " of " + figure(float64(p.Mean.N), 0)
}
