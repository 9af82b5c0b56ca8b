package web

import (
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// batchView is one batch as the water page shows it.
type batchView struct {
	Words  string // with a capital letter
	Until  string
	Past   bool
	InUse  bool     // the last session is from it
	Tests  []string // what was tested of it, oldest first
	Litres string
	Test   string // link to write down a test
	Link   string // to the batch as written
}

// batchesOf lists the batches of the household's machine, the newest first; none for a
// machine that uses none.
func batchesOf(v visit) (list []batchView) {
	base := "/p/" + v.member.ID
	used := ""
	if last := latestSession(v.member); last != nil {
		if b, _ := session.Last[session.BatchUsed](last); b != nil {
			used = v.house.Newest(b.Batch)
		}
	}
	for _, b := range v.house.Batches(v.now) {
		one := batchView{
			Words: capital(b.Words()), Until: b.Until(), InUse: b.ID == used, Link: base + "/kept/" + b.ID, Test: base + "/round/batch/" + b.ID + "/test",
			Past: !b.UseBy().IsZero() && !v.now.Before(b.UseBy()), Tests: b.TestsUntil(v.now),
		}
		if b.Litres != nil {
			one.Litres = b.Litres.Text()
		}
		list = append(list, one)
	}
	return list
}

// latestSession is the session that the person began last, or nil.
func latestSession(m *record.Member) *session.Session {
	for i := len(m.Sessions) - 1; i >= 0; i-- {
		if !m.Sessions[i].Abandoned() {
			return m.Sessions[i]
		}
	}
	return nil
}

// usesBatch reports whether fluid is made in batches here.
func usesBatch(v visit) bool {
	m, ok := v.house.Machine.Now()
	return ok && m.Fluid() == session.FluidBatch
}

// whichBatch asks for the batch of a session.
type whichBatch struct {
	Taps  []form // one for each that may still be used, the newest first
	Write string // to where one is written down
}

// batchAsked asks which batch a session is from, by one tap for each that may still be
// used; nil once one is named, where no fluid is used, and on another machine.
func batchAsked(v visit, base string) *whichBatch {
	one := v.session
	if one.Machine.Fluid() != session.FluidBatch || one.Has("batch_used") || one.RemovalOnly() {
		return nil
	}
	all := v.member.History(one).Batches
	if len(all) == 0 && one.Machine.FluidUnsaid() {
		return nil
	}
	ask := whichBatch{Write: "/p/" + v.member.ID + "/round/batch?next=" + base}
	kind, _ := record.Find("batch_used")
	for _, b := range all {
		if use := b.UseBy(); !use.IsZero() && !v.now.Before(use) {
			continue
		}
		f := newForm(kind, base+"/batch_used", nil).only().tagged("batch-" + b.ID)
		f.Hidden = map[string]string{"batch_id": b.ID}
		f.Next, f.Submit = base, "From the "+b.Words()+", "+b.Until()
		ask.Taps = append([]form{f}, ask.Taps...)
	}
	return &ask
}

// ofBatch puts the batches to choose from into the form that names one: those of this
// machine, the newest first, with their use-by.
func (f form) ofBatch(v visit, b *entryBody, base string) form {
	if f.Kind.Name != "batch_used" {
		return f
	}
	back := "/p/" + v.member.ID + "/round/batch?next=" + base + "/batch_used"
	b.More = &stepLink{"Write down a batch", back}
	list := v.member.History(v.session).Batches
	for i := range f.Inputs {
		in := &f.Inputs[i]
		in.Choices = nil
		for j := len(list) - 1; j >= 0; j-- {
			in.Choices = append(in.Choices, record.Choice{Value: list[j].ID, Label: capital(list[j].Words()) + ", " + list[j].Until()})
		}
		in.Doc = "The one whose name and use-by you read on the machine."
		if len(list) == 0 {
			in.Doc = "None is written down yet."
		}
	}
	f.Submit = "From this batch"
	return f
}

var batchHints = map[string]string{
	"name":                   "As it stands on the tank or in your book.",
	"conductivity_low_ms_cm": "The range that your unit or the label gives for this fluid. Left blank, it is held against what is set for you.",
	"made_l":                 "If you count litres.",
	"lot":                    "Of the concentrate it was made from.",
}

// madeAgo are the times since a batch was made that are one tap each, in minutes. Ours:
// it is written down as it is made, or after the test and the clearing up.
var madeAgo = []int{30, 60, 120, 240}

// batchForm writes down a batch that was made. Its time is said, and others are one tap
// each. Nothing of the last batch stands in it until it is asked for: a range that came
// by itself would be held against nothing.
func batchForm(v visit, f form, b *slipBody) (form, error) {
	asked := v.URL.Query()
	link := func(key, value string) string {
		to := url.Values{}
		for _, k := range []string{"next", "ago", "last"} {
			if asked.Has(k) {
				to.Set(k, asked.Get(k))
			}
		}
		to.Set(key, value)
		return v.URL.Path + "?" + to.Encode()
	}
	b.Asks = append(b.Asks, "Made now, "+dayClock(v.now)+". Not so? Tap when, before you type the rest.")
	ago, err := strconv.Atoi(asked.Get("ago"))
	if err == nil && slices.Contains(madeAgo, ago) {
		made := v.now.Add(-time.Duration(ago) * time.Minute)
		b.Asks = []string{"Made " + unit.Minutes(ago).Text() + " ago, " + dayClock(made) + ". Not so? Tap when, before you type the rest."}
		if f.Clock == "" {
			f.Clock, f.Day = made.Format("15:04"), made.Format(time.DateOnly)
		}
	}
	b.Taps = []stepLink{{"now", link("ago", "0")}}
	for _, m := range madeAgo {
		b.Taps = append(b.Taps, stepLink{unit.Minutes(m).Text() + " ago", link("ago", strconv.Itoa(m))})
	}
	hints := maps.Clone(batchHints)
	if list := v.house.Batches(v.now); len(list) > 0 {
		last := session.BatchMade{Within: list[0].Within, CondLow: list[0].CondLow, CondHigh: list[0].CondHigh}
		var parts []string
		if last.Within != nil {
			parts = append(parts, "use within "+last.Within.Text())
		}
		if last.CondLow != nil && last.CondHigh != nil {
			parts = append(parts, "conductivity "+last.CondLow.Digits(2)+" to "+last.CondHigh.Digits(2)+"\u00a0"+last.CondLow.Symbol())
		}
		switch {
		case len(parts) == 0:
		case asked.Get("last") == "":
			b.Taps = append(b.Taps, stepLink{"As last time: " + strings.Join(parts, ", "), link("last", "yes")})
		default:
			kind, _ := record.Find("batch_made")
			f = f.begin(filled(kind, &last))
			b.Notes = append(b.Notes, "As last time: "+strings.Join(parts, ", ")+". Hold both against this label, or what your unit gave you for it, before you save.")
			for _, key := range []string{"use_within_h", "conductivity_low_ms_cm", "conductivity_high_ms_cm"} {
				hints[key] = "As last time: hold it against the label."
			}
		}
	}
	b.Lead = "Its tests count for every session from it."
	f.Submit = "Write it down"
	return f.hint(hints), nil
}

// dayClock is a time of day with its day of the week.
func dayClock(t time.Time) string { return t.Format("Mon 15:04") }

// batchTestForm writes down what was measured of a batch.
func batchTestForm(v visit, f form, b *slipBody) (form, error) {
	id := v.PathValue("e")
	for _, one := range v.house.Batches(v.now) {
		if one.Is(id) {
			b.Rows = append(b.Rows, labelled{capital(one.Words()), one.Until()})
			for _, words := range one.TestsUntil(v.now) {
				b.Rows = append(b.Rows, labelled{"Tested", words})
			}
			b.Lead = "Total chlorine of the water it is made from, its conductivity, or both."
			f.Submit = "Write it down"
			return f.without("batch_id").hint(map[string]string{"lot": "Of the chlorine test."}), nil
		}
	}
	return f, notFound{"no such batch; perhaps it was struck out since"}
}

// ofThatBatch names the batch of the address.
func ofThatBatch(r *http.Request) { r.PostForm.Set("batch_id", r.PathValue("e")) }

// fluidForms ask which of the two a machine of bags or a made batch uses; none once it
// is said.
func fluidForms(v visit, base string) (list []form) {
	now, ok := v.house.Machine.Now()
	if !ok || !now.FluidUnsaid() {
		return nil
	}
	kind, _ := record.Find("machine")
	for _, one := range []struct {
		fluid session.Fluid
		words string
	}{{session.FluidBags, "Ready bags"}, {session.FluidBatch, "A batch we make from tap water"}} {
		said := now
		said.Kind = string(one.fluid)
		f := newForm(kind, base+"/machine", nil).only().tagged("fluid-" + said.Kind)
		f.Hidden = filled(kind, &said)
		f.Next, f.Submit = base+"/unit#house", one.words
		list = append(list, f)
	}
	return list
}

// fluidWords say where the fluid of a machine comes from.
func fluidWords(m session.Machine) string {
	switch {
	case m.FluidUnsaid():
		return "bags or a made batch"
	case m.Fluid() == session.FluidBags:
		return "ready bags"
	case m.Fluid() == session.FluidBatch:
		return "batches made from tap water"
	}
	return "fluid from tap water"
}

// offersFluid leaves out of the choices of a machine's kind the one that says two at
// once, unless that is what is written now.
func (f form) offersFluid() form {
	for i := range f.Inputs {
		in := &f.Inputs[i]
		if in.Key != "kind" || unsaid(in.Value) {
			continue
		}
		var kept []record.Choice
		for _, c := range in.Choices {
			if !unsaid(c.Value) {
				kept = append(kept, c)
			}
		}
		in.Choices = kept
	}
	return f
}

// unsaid reports whether a kind of machine may be either of two.
func unsaid(kind string) bool { return session.Machine{Kind: kind}.FluidUnsaid() }

// fluidLinks lead from a check to what answers it on a machine with a batch, and to
// where it is said which fluid it is.
func fluidLinks(v visit, c session.Check, base string) (list []stepLink) {
	m := v.session.Machine
	person := "/p/" + v.member.ID
	if c.ID == session.CheckBath && m.Fluid() == session.FluidBatch && (usesBatch(v) || v.session.Has("batch_used")) {
		list = append(list, stepLink{"Which batch", base + "/batch_used"})
	}
	if m.FluidUnsaid() && c.ID == session.CheckChlorine {
		list = append(list, stepLink{"Bags? Say so", person + "/unit#house"})
	}
	return list
}
