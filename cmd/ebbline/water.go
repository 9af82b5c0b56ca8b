package main

import (
	"flag"
	"fmt"
	"io"
	"strconv"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/trend"
	"ebbline/unit"
	"ebbline/water"
)

var waterVerb = verb{
	name:  "water",
	args:  "[--person ID] [--on DATE] [--json]",
	short: "print the water: samples, results against their limits, courses",
	long: `
Prints what waits to be seen to, samples under way, each result with the limit it
was judged by and whose that is, the last reading of the plant against its bounds,
and the course of what wears out: chlorine behind the carbon, hardness, rejection,
counts, with the day each meets its limit. Last come the rules in force.

A judgement is the one that was made when the result was written down; a table or a
limit that was changed since does not move it.`,
	setUp: func(fs *flag.FlagSet) func(*terminal, []string) error {
		file, who := fileFlag(fs), whoFlags(fs)
		asJSON := fs.Bool("json", false, "print JSON")
		return func(t *terminal, args []string) error {
			if err := noWords("water", args); err != nil {
				return err
			}
			return withPerson(file, who, func(h *record.Household, m *record.Member, at time.Time) error {
				out := waterOf(h, m, at)
				if *asJSON {
					return printJSON(&t.out, out)
				}
				printWater(&t.out, h, out)
				return nil
			})
		}
	},
}

// waterOut is the shape of `water --json`. Keys are only ever added to it.
type waterOut struct {
	Demonstration bool        `json:"demonstration"`
	On            unit.Date   `json:"on"`
	Tasks         []taskOut   `json:"tasks"`
	Samples       []sampleOut `json:"samples"` // under way first, then the newest
	Plant         *plantOut   `json:"plant"`   // the last reading; null: never read
	Courses       []courseOut `json:"courses"`
	Remarks       []string    `json:"remarks"`
	Rules         rulesOut    `json:"rules"`
}

type plantOut struct {
	At        time.Time `json:"at"`
	Rejection *float64  `json:"rejection_percent"`
	Hardness  *float64  `json:"hardness_mg_l_caco3"`
	Drops     []dropOut `json:"pressure_drops"`
	Cautions  []string  `json:"cautions"`
}

type dropOut struct {
	Over string  `json:"over"`
	PSI  float64 `json:"drop_psi"`
}

type rulesOut struct {
	Edition     string     `json:"edition"`
	Use         string     `json:"use"`
	Filtered    bool       `json:"use_by_haemodiafiltration"` // and not by the unit's rules
	SetBy       string     `json:"set_by"`                    // empty: the program's own
	SetOn       *unit.Date `json:"set_on"`
	RepeatHours float64    `json:"chlorine_repeat_h"` // 0: not asked
	RepeatWhose string     `json:"chlorine_repeat_whose"`
}

type taskOut struct {
	Result string    `json:"result_id"`
	What   []string  `json:"what"`
	Owner  string    `json:"owner"`
	Due    unit.Date `json:"due"`
	Late   bool      `json:"late"`
	Phone  string    `json:"unit_phone"`
}

type sampleOut struct {
	ID       string            `json:"id"`
	Point    string            `json:"point"`
	State    water.SampleState `json:"state"`
	Planned  unit.Date         `json:"planned_on"`
	Drawn    *time.Time        `json:"drawn_at"`
	Late     []string          `json:"late"`
	Handling []string          `json:"handling"`
	Judged   []water.Judgement `json:"judged"`
	Closed   bool              `json:"followed_up"`
}

type courseOut struct {
	Name    string     `json:"name"`
	Unit    string     `json:"unit"`
	Limit   float64    `json:"limit"`
	Whose   string     `json:"limit_whose"`
	Last    float64    `json:"last"`
	LastOp  water.Op   `json:"last_op"`
	LastOn  unit.Date  `json:"last_on"`
	Count   int        `json:"readings"`
	Says    trend.Says `json:"says"`
	Already bool       `json:"already_there"`
	Likely  *unit.Date `json:"meets_limit_on"`
	Soonest *unit.Date `json:"soonest"`
	Latest  *unit.Date `json:"latest"`
	Steeper *unit.Date `json:"if_it_steepens"`
}

func waterOf(h *record.Household, m *record.Member, at time.Time) waterOut {
	out := waterOut{Demonstration: h.Demo, On: unit.DateOf(at), Tasks: []taskOut{}, Samples: []sampleOut{}, Courses: []courseOut{}, Remarks: sentencesOf(household.WaterRemarks(h, at))}
	for _, t := range household.WaterTasks(h, at) {
		one := taskOut{Result: t.Result.ID, Owner: t.Result.Value.Owner, Due: t.Due, Late: t.Late, Phone: t.Phone, What: []string{}}
		for _, w := range t.Tasks {
			one.What = append(one.What, w.What)
		}
		out.Tasks = append(out.Tasks, one)
	}
	if t, failed := household.FailedCarbon(h, at); failed {
		out.Tasks = append(out.Tasks, taskOut{Result: t.ID, Owner: t.Owner, Due: t.Due, Late: t.Late, Phone: t.Phone, What: []string{t.What()}})
	}
	for _, s := range household.SampleRows(h, at) {
		one := sampleOut{ID: s.ID, Point: s.Point, State: s.State, Planned: s.PlannedOn, Late: sentencesOf(s.Late), Handling: sentencesOf(s.Handled), Judged: []water.Judgement{}}
		if !s.DrawnAt.IsZero() {
			one.Drawn = &s.DrawnAt
		}
		if s.Result != nil {
			one.Judged, one.Closed = append(one.Judged, s.Result.Judgements...), s.Result.Closed != nil && !s.Result.Closed.At.After(at)
		}
		out.Samples = append(out.Samples, one)
	}
	for _, c := range household.WaterTrends(h, m, at) {
		last := c.Points[len(c.Points)-1]
		out.Courses = append(out.Courses, courseOut{Name: c.Name, Unit: c.Unit, Limit: c.Limit, Whose: c.Whose, Last: last.Value, LastOp: last.Op, LastOn: last.On, Count: len(c.Points),
			Says: c.Forecast.Says, Already: c.Forecast.Already, Likely: dateOrNull(c.Forecast.Likely), Soonest: dateOrNull(c.Forecast.Soonest), Latest: dateOrNull(c.Forecast.Latest), Steeper: dateOrNull(c.Steeper)})
	}
	for _, r := range household.PlantRows(h) {
		if r.At.After(at) {
			continue
		}
		p := &plantOut{At: r.At, Rejection: r.Rejection, Drops: []dropOut{}, Cautions: sentencesOf(r.Cautions)}
		if r.Value.Hardness != nil {
			v := r.Value.Hardness.Float()
			p.Hardness = &v
		}
		for _, d := range r.Drops {
			p.Drops = append(p.Drops, dropOut{d.Over, d.PSI})
		}
		out.Plant = p
		break
	}
	rules, set := h.Upkeep.RulesNow()
	repeat := household.ChlorineRule(h)
	out.Rules = rulesOut{Edition: rules.Edition, Use: rules.Use, RepeatHours: repeat.Every.Hours(), RepeatWhose: repeat.Whose()}
	use, filtered := h.HeldTo(out.On)
	out.Rules.Use, out.Rules.Filtered = string(use), filtered
	if set {
		out.Rules.SetBy, out.Rules.SetOn = rules.SetBy, dateOrNull(rules.SetOn)
	}
	return out
}

func sentencesOf(list []unit.Caution) []string {
	out := []string{}
	for _, c := range list {
		out = append(out, c.Text)
	}
	return out
}

func printWater(w io.Writer, h *record.Household, out waterOut) {
	demoLine(w, h.Demo)
	for _, t := range out.Tasks {
		for _, what := range t.What {
			fmt.Fprintf(w, "SEE TO IT: %s %s, by %s. Unit: %s\n", oneLine(what), oneLine(t.Owner), t.Due, oneLine(t.Phone))
		}
	}
	for _, r := range out.Remarks {
		fmt.Fprintf(w, "LOOK: %s\n", oneLine(r))
	}
	if len(out.Samples) == 0 {
		fmt.Fprintln(w, "No sample is written down.")
	}
	for _, s := range out.Samples {
		on := "planned for " + s.Planned.String()
		if s.Drawn != nil {
			on = "drawn " + s.Drawn.Format("2006-01-02")
		}
		fmt.Fprintf(w, "%s, %s: %s\n", oneLine(s.Point), on, s.State)
		for _, l := range append(s.Late, s.Handling...) {
			fmt.Fprintf(w, "  LOOK: %s\n", oneLine(l))
		}
		for _, j := range s.Judged {
			sign := "up to"
			if j.Limit.Exclusive {
				sign = "under"
			}
			fmt.Fprintf(w, "  %s %s%s %s: %s (%s %s %s, %s)\n", j.Result.What.Label(), opWord(j.Result.Op), digits(j.Result.Value), j.Result.Unit, verdicts[j.Verdict], sign, digits(j.Limit.Max), j.Limit.Unit, whoseLimit(j.Limit))
		}
	}
	printPlant(w, out.Plant)
	for _, c := range out.Courses {
		fmt.Fprintf(w, "%s: %s%s %s on %s, limit %s. %s\n", c.Name, opWord(c.LastOp), digits(c.Last), c.Unit, c.LastOn, digits(c.Limit), courseWords(c))
	}
	whose := "program default"
	if out.Rules.SetBy != "" {
		whose = "set by " + out.Rules.SetBy + " on " + out.Rules.SetOn.String()
	}
	because := ""
	if out.Rules.Filtered {
		because = " because of haemodiafiltration"
	}
	fmt.Fprintf(w, "Limits: %s, %s water%s (%s).\n", out.Rules.Edition, out.Rules.Use, because, oneLine(whose))
	if out.Rules.RepeatHours > 0 {
		fmt.Fprintf(w, "Chlorine again in a session every %s hours (%s).\n", digits(out.Rules.RepeatHours), oneLine(out.Rules.RepeatWhose))
	} else {
		fmt.Fprintf(w, "Chlorine again in a session: not asked for (%s).\n", oneLine(out.Rules.RepeatWhose))
	}
}

func printPlant(w io.Writer, p *plantOut) {
	if p == nil {
		return
	}
	fmt.Fprintf(w, "Plant read %s", p.At.Format("2006-01-02 15:04"))
	if p.Hardness != nil {
		fmt.Fprintf(w, ", hardness %s mg/L as CaCO3", digits(*p.Hardness))
	}
	if p.Rejection != nil {
		fmt.Fprintf(w, ", rejection %.1f %%", *p.Rejection)
	}
	for _, d := range p.Drops {
		fmt.Fprintf(w, ", %.1f psi over the %s", d.PSI, d.Over)
	}
	fmt.Fprintln(w, ".")
	for _, c := range p.Cautions {
		fmt.Fprintf(w, "  LOOK: %s\n", oneLine(c))
	}
}

var verdicts = map[water.Verdict]string{water.Within: "within", water.Action: "ACT", water.Over: "OVER", water.CannotTell: "cannot tell"}

func whoseLimit(l water.Limit) string {
	if l.Kind == water.IsUnitSet {
		return "set by " + l.Setter + " on " + l.Date
	}
	return l.Edition
}

// opWord is what stands before a value that is a bound: "< ".
func opWord(op water.Op) string {
	if op == water.Equal || op == "" {
		return ""
	}
	return string(op) + " "
}

func digits(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func courseWords(c courseOut) string {
	switch {
	case c.Already:
		return "At the limit or beyond on its course."
	case c.Likely != nil:
		words := "Meets it about " + c.Likely.String() + " (" + c.Soonest.String() + " to " + c.Latest.String() + ")"
		if c.Steeper != nil {
			words += ", about " + c.Steeper.String() + " if it goes on steepening"
		}
		return words + "."
	}
	return sentence(string(c.Says))
}
