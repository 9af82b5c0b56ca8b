package main

import (
	"flag"
	"fmt"
	"io"
	"text/tabwriter"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/unit"
)

var doseVerb = verb{
	name:  "dose",
	args:  "[--person ID] [--on DATE] [--json]",
	short: "print the dose of the months and of the last 14 days",
	long: `
Prints what the treatment achieved: the standard Kt/V by definition over the
sessions really held in the last 14 days, what was missed or cut short, and for
each month the figures from its bloods with their ranges and the minimum that
fits the schedule. --on prints it as it stood at the end of that day.

Ranges of the 14 days hold 80 of 100 persons who fit the bloods; those of a month
are what 5 % in the sample after the session makes. Critical bloods about which
nobody is written down as rung come first.`,
	setUp: func(fs *flag.FlagSet) func(*terminal, []string) error {
		file, who := fileFlag(fs), whoFlags(fs)
		asJSON := fs.Bool("json", false, "print JSON")
		return func(t *terminal, args []string) error {
			if err := noWords("dose", args); err != nil {
				return err
			}
			return runDose(t, file, who, *asJSON)
		}
	},
}

// doseOut is the shape of `dose --json`. Keys are only ever added to it.
type doseOut struct {
	Demonstration bool          `json:"demonstration"`
	Person        string        `json:"person"`
	Name          string        `json:"name"`
	At            time.Time     `json:"at"`
	Critical      []string      `json:"critical_open"` // sentences; nobody is written down as rung
	Fortnight     *fortnightOut `json:"fortnight"`
	WhyNot        *string       `json:"why_not"` // what must be written down first
	Model         *modelOut     `json:"model"`
	Months        []monthOut    `json:"months"` // newest first
}

type rangeOut struct {
	Value float64 `json:"value"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
}

type fortnightOut struct {
	Std        rangeOut    `json:"stdktv"` // by definition, a week
	Algebraic  *float64    `json:"stdktv_algebraic"`
	Apart      *string     `json:"apart"` // said when the two differ by more than 5 %
	Sessions   int         `json:"sessions"`
	Hours      float64     `json:"hours"`
	LongestGap float64     `json:"longest_gap_h"`
	Peak       float64     `json:"peak_urea_mmol_l"`
	Mean       float64     `json:"mean_urea_mmol_l"`
	Missed     []unit.Date `json:"missed"`
	Short      []shortOut  `json:"shortened"`
	AsOrdered  *float64    `json:"stdktv_as_ordered"` // null when nothing was missed or short
	Verdict    verdictOut  `json:"verdict"`
	Cautions   []string    `json:"cautions"`
	Assumed    []string    `json:"assumed"`
}

type shortOut struct {
	Date    unit.Date `json:"date"`
	Treated float64   `json:"treated_min"`
	Ordered float64   `json:"ordered_min"`
}

type verdictOut struct {
	Says    string   `json:"says"` // inside, outside or empty
	Words   string   `json:"words"`
	Minimum *float64 `json:"minimum"`
	ByUnit  bool     `json:"set_by_unit"`
}

type modelOut struct {
	Volume     rangeOut `json:"urea_volume_l"`
	Generation rangeOut `json:"generation_mg_min"`
	Factor     rangeOut `json:"clearance_factor"`
	Residual   float64  `json:"residual_clearance_ml_min"`
	Sources    []string `json:"sources"`
}

type monthOut struct {
	Month   string       `json:"month"` // YYYY-MM
	Held    int          `json:"held"`
	Missed  int          `json:"missed"`
	Short   int          `json:"shortened"`
	Hours   float64      `json:"hours"`
	Sampled []sampledOut `json:"sampled"`
}

type sampledOut struct {
	Session  string      `json:"session"`
	Date     unit.Date   `json:"date"`
	Figures  []figureOut `json:"figures"`
	Verdict  verdictOut  `json:"verdict"`
	Target   string      `json:"target"` // where the minimum comes from
	Notes    []string    `json:"notes"`  // what is odd about the samples
	Counted  bool        `json:"counted"`
	Share    *float64    `json:"delivered_share"` // of the clearance to expect
	LookAt   []string    `json:"look_at"`
	Schedule string      `json:"schedule"`
}

type figureOut struct {
	Key      string   `json:"key"`
	Unit     string   `json:"unit"`
	Value    *float64 `json:"value"`
	Low      *float64 `json:"low"`
	High     *float64 `json:"high"`
	Why      string   `json:"why"` // why there is none
	Source   string   `json:"source"`
	Cautions []string `json:"cautions"`
}

func runDose(t *terminal, file *place, who *whoWhen, asJSON bool) error {
	return withPerson(file, who, func(h *record.Household, m *record.Member, at time.Time) error {
		v := household.DoseOf(m, at)
		if asJSON {
			return printJSON(&t.out, doseJSON(h, m, v))
		}
		return printDose(&t.out, h, m, v)
	})
}

func printDose(w io.Writer, h *record.Household, m *record.Member, v household.DoseView) error {
	demoLine(w, h.Demo)
	p, _ := m.Person.Now()
	fmt.Fprintf(w, "Dose of %s, %s\n", p.Name, v.At.Format("2006-01-02"))
	for _, c := range v.Critical {
		fmt.Fprintf(w, "RING: %s Nobody is written down as rung.\n", oneLine(c.Words()))
	}
	if why := v.Why + v.NoStretch; why != "" {
		fmt.Fprintf(w, "\n%s\n", why)
	}
	if f := v.Fortnight; f != nil {
		printFortnight(w, v, f)
	}
	if k := v.Person; k != nil && k.Pools.VolumeL > 0 {
		e := k.Estimate
		fmt.Fprintf(w, "\nBy the bloods: urea volume %.1f L (%.1f to %.1f), urea made %.1f mg/min of nitrogen (%.1f to %.1f).\n",
			e.VolumeL.Value, e.VolumeL.Low, e.VolumeL.High, e.GenerationMgMin.Value, e.GenerationMgMin.Low, e.GenerationMgMin.High)
		for _, s := range k.From {
			fmt.Fprintf(w, "  %s\n", s)
		}
	}
	return printMonths(w, v.Months)
}

func printFortnight(w io.Writer, v household.DoseView, f *household.Fortnight) {
	fmt.Fprintf(w, "\nThe last 14 days, as they were done: %d sessions, %.1f hours, longest time without %.0f hours.\n", len(f.Done), f.Hours, f.LongestH)
	if f.StdKtV.Exists {
		fmt.Fprintf(w, "Standard Kt/V a week, by definition: %.2f (%.2f to %.2f)", f.StdKtV.Value, f.Low, f.High)
		if v.Algebraic > 0 {
			fmt.Fprintf(w, "; by the algebraic form, from the last bloods: %.2f", v.Algebraic)
		}
		fmt.Fprintln(w, ".")
	}
	for _, words := range []string{v.Headline.Words, v.Apart} {
		if words != "" {
			fmt.Fprintln(w, words)
		}
	}
	fmt.Fprintf(w, "Urea at most %.1f before a session, on average %.1f mmol/L by the model.\n", f.PeakMmolL, f.MeanMmolL)
	for _, d := range f.Missed {
		fmt.Fprintf(w, "Not held: %s.\n", d)
	}
	for _, s := range f.Short {
		fmt.Fprintf(w, "Short: %s, %.0f of %.0f minutes.\n", s.Done.Night, s.Done.LengthMin, s.Ordered)
	}
	if f.AsOrdered != nil {
		fmt.Fprintf(w, "As ordered these days would have given %.2f, with urea at most %.1f mmol/L.\n", f.AsOrdered.StdKtV, f.AsOrdered.PeakMmolL)
	}
	for _, c := range f.Cautions {
		fmt.Fprintln(w, c.Text)
	}
}

func printMonths(w io.Writer, months []household.DoseMonth) error {
	if len(months) == 0 {
		return nil
	}
	fmt.Fprintln(w)
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(table, "month\theld\tmissed\tshort\thours\tURR %\tspKt/V\teKt/V\tstdKt/V\tnPCR\t")
	for _, m := range months {
		fmt.Fprintf(table, "%s\t%d\t%d\t%d\t%.1f\t", m.First.String()[:7], m.Done, len(m.Missed), m.Short, m.Hours)
		if len(m.Sampled) == 0 {
			fmt.Fprint(table, "–\t–\t–\t–\t–\t\n")
			continue
		}
		for _, f := range m.Sampled[0].Figures {
			fmt.Fprintf(table, "%s\t", f.Text())
		}
		fmt.Fprintln(table)
	}
	if err := table.Flush(); err != nil {
		return err
	}
	for _, m := range months {
		for _, s := range m.Sampled {
			for _, note := range s.SampledNote {
				fmt.Fprintf(w, "%s: %s\n", s.Pair.Done.Night, note)
			}
			if s.Delivered != nil && s.Delivered.Low {
				fmt.Fprintf(w, "%s: delivered %.2f of the clearance to expect; look at real time, blood flow, recirculation and needles, clotting, sampling.\n", s.Pair.Done.Night, s.Delivered.Share)
			}
		}
	}
	if s := newest(months); s != nil {
		if s.Target.Minimum == 0 { // the unit sets it
			fmt.Fprintln(w, oneLine(s.Judged.Words))
			return nil
		}
		fmt.Fprintf(w, "%s (%s).\n", oneLine(s.Judged.Words), oneLine(s.Target.Source))
	}
	return nil
}

func newest(months []household.DoseMonth) *household.SampledDose {
	for _, m := range months {
		if len(m.Sampled) > 0 {
			return &m.Sampled[0]
		}
	}
	return nil
}
