package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/unit"
)

var weekVerb = verb{
	name:  "week",
	args:  "[--days LIST | --every HOURS] [--length MIN] [flows] | --find WISH",
	short: "weigh another week beside today's, or find weeks that meet the target",
	long: `
Sets another week beside the one of the prescription: what is not named is as
today. Every figure carries a range that holds 80 of 100 persons who fit the
bloods. It is for looking at and for asking your unit; it changes nothing.

  ebbline week --days mon,tue,thu,fri,sun --length 180
  ebbline week --every 48 --length 300 --blood 250 --dialysate 300
  ebbline week --find gentle --no-gap

--find weighs some 200 weeks, and lists those that reach what is wanted for nine
of ten such persons inside the limits your unit set at your usual gain: "hours"
first those with the fewest, "gentle" with the lowest removal rate, "evenings"
with the most evenings free.`,
	setUp: func(fs *flag.FlagSet) func(*terminal, []string) error {
		file, who := fileFlag(fs), whoFlags(fs)
		var a askedWeek
		fs.StringVar(&a.days, "days", "", "`LIST` of days, such as mon,wed,fri")
		fs.IntVar(&a.every, "every", 0, "or every so many `HOURS`")
		fs.Float64Var(&a.length, "length", 0, "length of a session in `MIN`utes")
		fs.Float64Var(&a.blood, "blood", 0, "blood flow, `ML/MIN`")
		fs.Float64Var(&a.dialysate, "dialysate", 0, "dialysate flow, `ML/MIN`")
		fs.Float64Var(&a.koa, "koa", 0, "KoA of the dialyser for urea, `ML/MIN`")
		fs.StringVar(&a.start, "start", "", "when treatment begins, `HH:MM`")
		fs.StringVar(&a.find, "find", "", "`WISH`: hours, gentle or evenings")
		fs.BoolVar(&a.noGap, "no-gap", false, "with --find: no gap over two days")
		draws := fs.Int("persons", 1000, "`N`umber of persons each week is weighed with")
		asJSON := fs.Bool("json", false, "print JSON")
		return func(t *terminal, args []string) error {
			if err := noWords("week", args); err != nil {
				return err
			}
			if *draws < 1 || *draws > 20000 {
				return refusal{fmt.Sprintf("persons: %d is not accepted; accepted is 1 to 20000", *draws)}
			}
			return runWeek(t, file, who, a, *draws, *asJSON)
		}
	},
}

// askedWeek is the week of the command line; what is 0 or empty is as today.
type askedWeek struct {
	days, start, find     string
	every                 int
	length                float64
	blood, dialysate, koa float64
	noGap                 bool
}

var weekdays = map[string]time.Weekday{"sun": time.Sunday, "mon": time.Monday, "tue": time.Tuesday, "wed": time.Wednesday, "thu": time.Thursday, "fri": time.Friday, "sat": time.Saturday}

// over puts what was asked for over today's week.
func (a askedWeek) over(now household.Week) (household.Week, error) {
	w := now
	if a.days != "" || a.every != 0 {
		w.Days, w.EveryHours = nil, a.every
	}
	for _, d := range strings.FieldsFunc(a.days, func(r rune) bool { return r == ',' || r == ' ' }) {
		day, ok := weekdays[strings.ToLower(d)]
		if !ok {
			return w, refusal{fmt.Sprintf("days: %q is no day; accepted are mon tue wed thu fri sat sun", d)}
		}
		w.Days = append(w.Days, day)
	}
	for _, f := range []struct {
		from float64
		to   *float64
	}{{a.length, &w.LengthMin}, {a.blood, &w.BloodFlow}, {a.dialysate, &w.Dialysate}, {a.koa, &w.KoA}} {
		if f.from != 0 {
			*f.to = f.from
		}
	}
	if a.start != "" {
		at, err := time.Parse("15:04", a.start)
		if err != nil {
			return w, refusal{fmt.Sprintf("start: %q is no time; accepted is HH:MM", a.start)}
		}
		w.Start = at.Hour()*60 + at.Minute()
	}
	var input *unit.InputError
	if err := w.Check(); errors.As(err, &input) {
		return w, refusal{input.Error()}
	} else if err != nil {
		return w, err
	}
	return w, nil
}

// weekOut is one week of `week --json`. Keys are only ever added to it.
type weekOut struct {
	When       string    `json:"when"`
	Length     float64   `json:"length_min"`
	Blood      float64   `json:"blood_flow_ml_min"`
	Dialysate  float64   `json:"dialysate_flow_ml_min"`
	KoA        float64   `json:"koa_ml_min"`
	Std        rangeOut  `json:"stdktv"`
	Peak       rangeOut  `json:"peak_urea_mmol_l"`
	Mean       rangeOut  `json:"mean_urea_mmol_l"`
	SpKtV      rangeOut  `json:"spktv"`
	Measure    string    `json:"measure"` // what the minimum is of
	Minimum    float64   `json:"minimum"`
	ByUnit     bool      `json:"set_by_unit"`
	Share      float64   `json:"share_reaching_minimum"`
	Phosphate  *rangeOut `json:"phosphate_relative"` // to today's week; direction and size only
	Rates      []float64 `json:"removal_ml_h_kg"`
	Over       string    `json:"over"` // which limit of the unit, at the usual gain
	Gap        float64   `json:"longest_gap_h"`
	On         float64   `json:"hours_on"`
	Around     float64   `json:"hours_around"`
	DialysateL float64   `json:"dialysate_l_week"`
	WaterL     float64   `json:"water_l_week"`
	PerMonth   float64   `json:"sets_per_month"`
	Evenings   int       `json:"evenings_free"`
	Today      bool      `json:"today"`
	Cautions   []string  `json:"cautions"` // what none of the figures counts
}

func runWeek(t *terminal, file *place, who *whoWhen, a askedWeek, draws int, asJSON bool) error {
	if a.find != "" && !slices.Contains([]string{"hours", "gentle", "evenings"}, a.find) {
		return refusal{fmt.Sprintf("find: %q is not accepted; accepted are hours, gentle, evenings", a.find)}
	}
	var book *household.WeekBook
	demo := false
	err := withPerson(file, who, func(h *record.Household, m *record.Member, at time.Time) (err error) {
		demo = h.Demo
		book, err = household.WeekBookOf(h, m, at)
		return err
	})
	if err != nil {
		return err
	}
	if !asJSON {
		demoLine(&t.out, demo)
	}
	if a.find != "" {
		return findWeeks(t, book, a, draws, asJSON)
	}
	other, err := a.over(book.Now)
	if err != nil {
		return err
	}
	list := []household.Week{book.Now}
	if !other.Same(book.Now) || other.Start != book.Now.Start {
		list = append(list, other)
	}
	var out []household.WeekOutcome
	for _, w := range list {
		o, err := book.Outcome(w, draws)
		var input *unit.InputError
		if errors.As(err, &input) {
			return refusal{input.Error()}
		} else if err != nil {
			return err
		}
		out = append(out, o)
	}
	if asJSON {
		return printJSON(&t.out, weeksJSON(book, out))
	}
	return printWeeks(&t.out, book, out)
}

func findWeeks(t *terminal, book *household.WeekBook, a askedWeek, draws int, asJSON bool) error {
	weeks := book.Candidates()
	p := newProgress(t.err, len(weeks), time.Now)
	all, err := book.Compare(context.Background(), weeks, draws, p.done)
	p.end()
	if err != nil {
		return err
	}
	wanted := household.Wanted(all, household.Wish(a.find), a.noGap)
	if asJSON {
		return printJSON(&t.out, weeksJSON(book, wanted))
	}
	fmt.Fprintf(&t.out, "%d of %d weeks reach what is wanted, inside the limits your unit set, at your usual gain.\n\n", len(wanted), len(all))
	printCautions(&t.out, book)
	table := tabwriter.NewWriter(&t.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "hours\tmL/h/kg\tgap h\tevenings\tstd Kt/V\tweek")
	for i, o := range wanted {
		if i == 20 {
			break
		}
		mark := ""
		if o.Same(book.Now) {
			mark = " (today's)"
		}
		fmt.Fprintf(table, "%.1f\t%.1f\t%.0f\t%d\t%.2f (%.2f to %.2f)\t%s%s\n", o.AroundH, o.MaxRate, o.GapH, o.Evenings, o.StdKtV.Value, o.StdKtV.Low, o.StdKtV.High, o.Long(), mark)
	}
	return table.Flush()
}

func weeksJSON(book *household.WeekBook, all []household.WeekOutcome) []weekOut {
	list := []weekOut{}
	for _, o := range all {
		w := weekOut{
			When: o.When(), Length: o.LengthMin, Blood: o.BloodFlow, Dialysate: o.Week.Dialysate, KoA: o.KoA, Std: likely(o.StdKtV), Peak: likely(o.PeakMmolL), Mean: likely(o.MeanMmolL),
			SpKtV: likely(o.SpKtV), Measure: o.Target.Measure, Minimum: o.Minimum, ByUnit: o.ByUnit, Share: o.Share, Rates: []float64{}, Over: o.Over, Gap: o.GapH, On: o.OnH,
			Around: o.AroundH, DialysateL: o.Dialysate, WaterL: o.Water, PerMonth: o.PerMonth, Evenings: o.Evenings, Today: o.Same(book.Now),
			Cautions: sentencesOf(book.Cautions),
		}
		for _, r := range o.Rates {
			w.Rates = append(w.Rates, r.RatePer)
		}
		if o.Phosphate.Has {
			w.Phosphate = &rangeOut{o.Phosphate.Relative, o.Phosphate.Low, o.Phosphate.High}
		}
		list = append(list, w)
	}
	return list
}

// printCautions says what none of the weeks counts.
func printCautions(w io.Writer, book *household.WeekBook) {
	for _, c := range book.Cautions {
		fmt.Fprintf(w, "%s\n\n", c.Text)
	}
}

// printWeeks sets one or two weeks side by side.
func printWeeks(w io.Writer, book *household.WeekBook, out []household.WeekOutcome) error {
	names := []string{"now", "other"}
	for i, o := range out {
		fmt.Fprintf(w, "%s: %s\n", names[i], o.Long())
	}
	fmt.Fprintln(w)
	printCautions(w, book)
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	row := func(name string, f func(o household.WeekOutcome) string) {
		fmt.Fprint(table, name)
		for _, o := range out {
			fmt.Fprint(table, "\t", f(o))
		}
		fmt.Fprintln(table)
	}
	row("", func(o household.WeekOutcome) string {
		if o.Same(book.Now) {
			return "now"
		}
		return "other"
	})
	of := func(value, low, high float64, decimals int) string {
		return fmt.Sprintf("%.*f (%.*f to %.*f)", decimals, value, decimals, low, decimals, high)
	}
	row("standard Kt/V a week", func(o household.WeekOutcome) string { return of(o.StdKtV.Value, o.StdKtV.Low, o.StdKtV.High, 2) })
	row("minimum reached by, of 100", func(o household.WeekOutcome) string {
		whose := "guideline, not set by your unit"
		if o.ByUnit {
			whose = "set by your unit"
		}
		return fmt.Sprintf("%.0f (%s %.1f, %s)", 100*o.Share, o.Target.Measure, o.Minimum, whose)
	})
	row("highest urea, mmol/L", func(o household.WeekOutcome) string {
		return of(o.PeakMmolL.Value, o.PeakMmolL.Low, o.PeakMmolL.High, 1)
	})
	row("mean urea, mmol/L", func(o household.WeekOutcome) string {
		return of(o.MeanMmolL.Value, o.MeanMmolL.Low, o.MeanMmolL.High, 1)
	})
	row("phosphate, direction and size", func(o household.WeekOutcome) string { return o.Phosphate.Says })
	row("removal rates, mL/h/kg", func(o household.WeekOutcome) string {
		var list []string
		for _, r := range o.Rates {
			list = append(list, fmt.Sprintf("%.1f", r.RatePer))
		}
		return strings.Join(list, " ")
	})
	row("longest time without, h", func(o household.WeekOutcome) string { return fmt.Sprintf("%.0f", o.GapH) })
	row("hours a week, on and with all", func(o household.WeekOutcome) string { return fmt.Sprintf("%.1f, %.1f", o.OnH, o.AroundH) })
	row("evenings free", func(o household.WeekOutcome) string { return fmt.Sprint(o.Evenings) })
	row("dialysate and water, L a week", func(o household.WeekOutcome) string { return fmt.Sprintf("%.0f, %.0f", o.Dialysate, o.Water) })
	row("sets of supplies a month", func(o household.WeekOutcome) string { return fmt.Sprintf("%.1f", o.PerMonth) })
	if err := table.Flush(); err != nil {
		return err
	}
	for i, o := range out {
		if o.Over != "" {
			fmt.Fprintf(w, "\n%s: %s at the usual gain.\n", names[i], o.Over)
		}
	}
	return nil
}
