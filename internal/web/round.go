package web

import (
	"net/http"
	"slices"
	"strings"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/report"
	"ebbline/unit"
	"ebbline/water"
)

// roundBody is the page of what recurs: due first.
type roundBody struct {
	Base     string
	Phones   []report.Phone
	Tasks    []taskView
	Carbon   *carbonView
	Happened []stepLink // what does not recur: to write it down
	Errands  []standing // what else must not be forgotten
	Due      []roundView
	Coming   []roundView
	Later    []roundView
	Never    []roundView
	Remarks  []unit.Caution
	Troubles []household.Trouble
	Mended   int
	Fridge   bool // the fridge was out of bounds when it was looked at last
	Bin      string
	Recalls  int
}

// roundView is one thing that recurs as the page shows it.
type roundView struct {
	household.RoundRow
	Every string
	Link  string // to write it down
	Write string // what its link says
	Set   string // to change how often
	When  string
}

type taskView struct {
	household.WaterTask
	Link string
	Dial string
}

// carbonView is a first carbon that let chlorine through.
type carbonView struct {
	household.CarbonTask
	Link, Changed, Dial string
}

// carbonOf is the task of the first carbon, or nil.
func carbonOf(v visit) *carbonView {
	t, failed := household.FailedCarbon(v.house, v.now)
	if !failed {
		return nil
	}
	base := "/p/" + v.member.ID + "/round"
	return &carbonView{t, base + "/task/" + t.ID, base + "/done/carbon", report.Phone{Number: t.Phone}.Dial()}
}

func (s *server) roundPage(v visit) (view, error) {
	b := roundBody{Base: "/p/" + v.member.ID, Remarks: household.WaterRemarks(v.house, v.now)}
	if u, ok := v.house.Unit.Now(); ok {
		b.Phones = household.Phones(u)
	}
	for _, t := range household.WaterTasks(v.house, v.now) {
		b.Tasks = append(b.Tasks, taskView{t, b.Base + "/round/task/" + t.Result.ID, report.Phone{Number: t.Phone}.Dial()})
	}
	b.Carbon = carbonOf(v)
	for _, one := range record.Happenings() {
		b.Happened = append(b.Happened, stepLink{one.Name, b.Base + "/round/done/" + one.ID})
	}
	for _, o := range household.Errands(v.house, v.member, v.now) {
		if !o.Task {
			b.Errands = append(b.Errands, standing{o.Words, o.Do, b.Base + "/" + o.Part})
		}
	}
	for _, r := range household.Round(v.house, v.member, v.now) {
		row := roundView{RoundRow: r, Every: household.EveryWords(r.Round.Every), Link: b.Base + linkOf(r.Round.ID), Write: writeOf(r), Set: b.Base + "/round/item/" + r.Round.ID, When: whenDue(r, v.today())}
		switch {
		case r.Never:
			b.Never = append(b.Never, row)
		case r.State == water.Due:
			b.Due = append(b.Due, row)
		case r.State == water.Coming:
			b.Coming = append(b.Coming, row)
		default:
			b.Later = append(b.Later, row)
		}
	}
	for _, t := range household.Troubles(v.house, v.now) {
		if t.Mended {
			b.Mended++
		} else {
			b.Troubles = append(b.Troubles, t)
		}
	}
	for _, r := range household.Recalls(v.house, v.now) {
		if !r.Settled() {
			b.Recalls++
		}
	}
	b.Fridge = warmFridge(v.house)
	return view{page: "round", title: "Round", here: "round", body: b}, nil
}

// linkOf is the form on which something that recurs is written down.
func linkOf(item string) string {
	switch item {
	case "culture", "chemistry", "feed":
		return "/round/water#samples"
	case "softener-salt":
		return "/round/plant"
	case "sharps", "waste":
		return "/round/sharps"
	case "count":
		return "/shelf"
	case "bloods":
		return "/dose"
	case "prescription":
		return "/prescription"
	}
	return "/round/done/" + item
}

// writeOf is what the link says: that it was done, or where it is seen to when
// that is more than a tap.
func writeOf(r household.RoundRow) string {
	switch id := r.Round.ID; {
	case id == "culture" || id == "chemistry" || id == "feed":
		return "Sample"
	case id == "softener-salt":
		return "Read"
	case id == "count":
		return "Count"
	case id == "bloods":
		return "Bloods"
	case id == "prescription":
		return "Look"
	case strings.HasPrefix(id, "opened-"):
		return "New one"
	case r.Never:
		return "Done before"
	}
	return "Done"
}

// whenDue says a date as people do.
func whenDue(r household.RoundRow, today unit.Date) string {
	if r.On.IsZero() {
		return ""
	}
	switch d := r.On.Sub(today); {
	case d == 0:
		return "today"
	case d == 1:
		return "tomorrow"
	case d < 0 && r.State == water.Due:
		return "since " + r.On.Long()
	}
	return r.On.Long()
}

// warmFridge reports whether the last look into the fridge found it out of bounds.
func warmFridge(h *record.Household) bool {
	for i := len(h.Upkeep.Done) - 1; i >= 0; i-- {
		if d := h.Upkeep.Done[i]; d.Struck == nil && d.Value.Item == "fridge" {
			return d.Value.ShownTemp != nil && (*d.Value.ShownTemp < 20 || *d.Value.ShownTemp > 80)
		}
	}
	return false
}

// doneForm writes down that something was done; only what belongs to it is
// asked.
func doneForm(v visit, f form, b *slipBody) (form, error) {
	id := v.PathValue("item")
	var row household.RoundRow
	for _, r := range household.Round(v.house, v.member, v.now) {
		if r.Round.ID == id {
			row = r
		}
	}
	happened, is := happening(id)
	if row.Round.ID == "" && !is {
		return f, notFound{"nothing of that name on the round"}
	}
	b.Lead = roundName(v.house, id)
	if !row.LastDone.IsZero() {
		b.Notes = append(b.Notes, "Done last on "+row.LastDone.Long()+orEmpty(", and it showed ", row.Shown)+". Every "+household.EveryWords(row.Round.Every)+": "+row.Round.Source+".")
	} else if row.Round.ID != "" {
		b.Notes = append(b.Notes, "Every "+household.EveryWords(row.Round.Every)+": "+row.Round.Source+". If it was done before, write down when: “It happened earlier”.")
	}
	keys := []string{"outcome"}
	if known, shown, ok := record.Calibration(id); ok {
		keys = append(keys, known, shown)
		b.Notes = append(b.Notes, "Two readings: what is known, and what the instrument shows. Leave both blank if a workshop did it.")
	}
	if id == "fridge" {
		keys = append(keys, "shown_c")
	}
	if id == "ro-disinfection" {
		keys = append(keys, "programme")
	}
	opened := strings.HasPrefix(id, "opened-")
	if opened || slices.Contains([]string{"ultrafilter", "sediment", "carbon", "membrane", "uv"}, id) {
		keys = append(keys, "lot")
	}
	if row.Round.Every.Hours > 0 || id == "service" {
		keys = append(keys, "machine_h")
	}
	if row.Round.Every.Litres > 0 || id == "carbon" || id == "service" {
		keys = append(keys, "plant_l")
	}
	f = f.only(append(keys, "who", "note")...)
	for i := range f.Inputs {
		if f.Inputs[i].Key == "outcome" {
			f.Inputs[i].Value = "done"
		}
	}
	f.Hidden = map[string]string{"item": id}
	f.Submit = "Write it down"
	if opened {
		b.Notes = append(b.Notes, "Write on the bottle the day you opened it. If it was opened earlier, say when: “It happened earlier”.")
		f = f.hide("outcome", "done")
		f.Submit = "A new one is opened"
	}
	if id == "rinse" {
		b.Notes = append(b.Notes, "Say in words for how long. The residue test comes after it.")
	}
	if upset := happened.Did != "" || id == "service" || id == "membrane"; upset || id == "chemical" {
		b.Asks = append(b.Asks, "The next start line asks for "+map[bool]string{true: "a rinse and "}[upset]+"a residue test that shows nothing.")
	}
	return f, nil
}

// happening gives what does not recur and is written on the round all the same.
func happening(id string) (record.Happening, bool) {
	for _, one := range record.Happenings() {
		if one.ID == id {
			return one, true
		}
	}
	return record.Happening{}, false
}

func orEmpty(before, s string) string {
	if s == "" {
		return ""
	}
	return before + s
}

// roundItemForm changes how often something recurs, or adds something.
func roundItemForm(v visit, f form, b *slipBody) (form, error) {
	id := v.PathValue("item")
	given := map[string]string{"set_on": v.today().String()}
	f = f.without("off")
	if id == "" {
		b.Lead = "Anything that recurs at your home: a seal, a filter of your own, a phone call."
		f = f.hide("item", v.posted("item", "own-"+newID()[:6]))
	} else {
		found := false
		for _, r := range v.house.Upkeep.Rounds() {
			if r.ID == id {
				found = true
				given["name"] = r.Name
				given["days"], given["months"], given["sessions"] = number(r.Every.Days), number(r.Every.Months), number(r.Every.Sessions)
				given["coming_days"] = number(r.Coming.Days)
				if r.StartLine {
					given["start_line"] = "yes"
				}
				b.Notes = append(b.Notes, "Until now every "+household.EveryWords(r.Every)+": "+r.Source+".")
			}
		}
		if !found {
			return f, notFound{"nothing of that name on the round"}
		}
		f = f.hide("item", id)
	}
	b.Notes = append(b.Notes, "Several intervals may be given: the first that is reached counts. Your unit’s and the maker’s own go first.")
	f = f.begin(given)
	f.Submit = "Keep this"
	return f.hint(map[string]string{"set_by": "You, your unit, or the maker’s book: by name.", "coming_days": "Left blank: a tenth of the interval."}), nil
}

func number(n int) string {
	if n == 0 {
		return ""
	}
	return whole(n)
}

func roundOffForm(v visit, f form, b *slipBody) (form, error) {
	id := v.PathValue("item")
	for _, r := range v.house.Upkeep.Rounds() {
		if r.ID == id {
			b.Lead = r.Name + ": no longer followed. What was written of it stays."
			f = f.only("set_by").hide("item", id).hide("name", r.Name).hide("off", "yes").hide("set_on", v.today().String())
			f.Submit = "Take it off the round"
			return f, nil
		}
	}
	return f, notFound{"nothing of that name on the round"}
}

func faultForm(v visit, f form, b *slipBody) (form, error) {
	b.Notes = append(b.Notes, "What it said and did, in your own words; what you did; whom you rang. The technician reads it as you write it.")
	if u, ok := v.house.Unit.Now(); ok && u.Technician != "" {
		b.Notes = append(b.Notes, "Technician: "+u.Technician+".")
	}
	about := v.URL.Query().Get("about")
	if v.Method == "POST" {
		about = v.PostFormValue("about")
	}
	f = f.without("about")
	if about != "" {
		for _, d := range v.house.Upkeep.Faults {
			if d.ID == about {
				b.Rows = append(b.Rows, labelled{d.At.Format("2 January 2006"), d.Value.Words})
			}
		}
		f = f.hide("about", about)
	}
	return f, nil
}

func sharpsForm(v visit, f form, b *slipBody) (form, error) {
	b.Lead = "Three months from opening, or three quarters full, whichever comes first (common practice; WHO, from memory)."
	b.Notes = append(b.Notes, "Needles go in at once, with nothing put back on them. Never push them down; never empty the bin into another.")
	f.Submit = "Write it down"
	return f, nil
}

func taskForm(v visit, f form, b *slipBody) (form, error) {
	if t, failed := household.FailedCarbon(v.house, v.now); failed && t.ID == v.PathValue("e") {
		b.Asks = append(b.Asks, t.What())
		b.Rows = append(b.Rows, labelled{"Who sees to it", t.Owner}, labelled{"By", t.Due.Long()}, labelled{"The " + t.Who, t.Phone})
		f = f.hide("result_id", t.ID)
		f.Submit = "It is seen to"
		return f, nil
	}
	j := v.house.Upkeep.Result(v.PathValue("e"))
	if j == nil || !j.Open() {
		return f, notFound{"nothing to follow up; perhaps it was followed up since"}
	}
	for _, t := range household.WaterTasks(v.house, v.now) {
		if t.Result.ID == j.ID {
			for _, one := range t.Tasks {
				b.Asks = append(b.Asks, one.What)
			}
			b.Rows = append(b.Rows, labelled{"Who sees to it", j.Value.Owner}, labelled{"By", t.Due.Long()}, labelled{"Your unit", t.Phone})
		}
	}
	f = f.hide("result_id", j.ID)
	f.Submit = "It is seen to"
	return f, nil
}

// needlestickBody is the card for a carer who was pricked.
type needlestickBody struct {
	Has    bool
	Words  []string
	Given  record.NeedlestickCard
	Past   bool
	Phones []report.Phone
	Edit   string
}

func (s *server) needlestickPage(v visit) (view, error) {
	b := needlestickBody{Edit: "/p/" + v.member.ID + "/needlestick/edit"}
	if u, ok := v.house.Unit.Now(); ok {
		u.Technician = ""
		b.Phones = household.Phones(u)
	}
	if c, ok := v.house.Upkeep.Needlestick.Now(); ok {
		b.Has, b.Given, b.Words = true, c, strings.Split(strings.TrimSpace(c.Words), "\n")
		b.Past = c.ReviewBy.Before(v.today())
	}
	return view{page: "needlestick", title: "Needlestick", here: "round", body: b}, nil
}

func needlestickForm(v visit, f form, b *slipBody) (form, error) {
	b.Lead = "Type what your unit’s own paper says, word for word: what the carer does at once, and whom to ring."
	if now, ok := v.house.Upkeep.Needlestick.Now(); ok {
		kind, _ := record.Find("needlestick_card")
		f = f.begin(filled(kind, &now))
	}
	f.Submit = "Keep this card"
	return f, nil
}

// whoseRound says whether something that was done belongs to the person of the
// page or to the machine.
func whoseRound(r *http.Request) string {
	if record.IsPersonal(r.PathValue("item")) {
		return r.PathValue("p")
	}
	return ""
}

func noticeForm(v visit, f form, b *slipBody) (form, error) {
	b.Lead = "A letter about works, a burst main, brown water, a smell of chlorine: chlorine may jump, so it is tested behind each carbon and again during the session, as your unit asks."
	f.Submit = "Keep the notice"
	return f.without("about").begin(map[string]string{"from": v.today().String()}), nil
}

// noticeOverForm ends a notice that had no last day; both entries stay.
func noticeOverForm(v visit, f form, b *slipBody) (form, error) {
	for _, n := range v.house.NoticesAt(v.now) {
		if n.ID == v.PathValue("e") && n.To.IsZero() {
			b.Lead = "The chlorine is still doubted for two days after its last day (ours)."
			b.Rows = append(b.Rows, labelled{"Since " + n.From.Long(), n.Text})
			f = f.without("words").hide("about", n.ID).hide("from", n.From.String()).hide("words", "it is over").begin(map[string]string{"to": v.today().String()})
			f.Submit = "It is over"
			return f, nil
		}
	}
	return f, notFound{"no notice of that name that is still open"}
}

func residueForm(v visit, f form, b *slipBody) (form, error) {
	b.Lead = "After a chemical disinfection, in the rinsed machine, before anybody is connected."
	b.Notes = append(b.Notes, "Limits: chlorine 0.1 mg/L, peracetic acid or peroxide under 1, formaldehyde under 3 (from memory); the machine’s own text goes first.")
	f.Submit = "Write it down"
	return f.hint(map[string]string{"lot": "Of the strips or the reagent; the whole code of the box can be scanned in."}), nil
}

func rulesForm(v visit, f form, b *slipBody) (form, error) {
	b.Lead = "As your unit wants it. Until then the program’s own figures hold and say that they are its own."
	now, _ := v.house.Upkeep.RulesNow()
	kind, _ := record.Find("water_rules")
	f.Submit = "Keep these rules"
	return f.begin(filled(kind, &now)), nil
}

func limitForm(v visit, f form, b *slipBody) (form, error) {
	b.Lead = "In the unit of the table: mg/L, CFU/mL or EU/mL. What was judged before keeps its judgement."
	f.Submit = "Keep this limit"
	return f.begin(map[string]string{"use": "standard"}), nil
}

// diaryBody is all that was written of the round, newest first.
type diaryBody struct {
	Base string
	Rows []diaryRow
	More bool
}

type diaryRow struct {
	record.Kept
	Title  string
	Values []labelled
	Link   string
}

// diaryRows is how many entries one page of the diary holds.
const diaryRows = 80

func (s *server) diaryPage(v visit) (view, error) {
	b := diaryBody{Base: "/p/" + v.member.ID}
	for _, k := range v.house.Upkeep.Kept() {
		if k.Kind == "calendar_secret" || k.Person != "" && k.Person != v.member.ID {
			continue
		}
		if len(b.Rows) == diaryRows && v.URL.Query().Get("all") == "" {
			b.More = true
			break
		}
		kind, ok := record.Find(k.Kind)
		if !ok {
			continue
		}
		row := diaryRow{Kept: k, Title: kind.Title, Values: keptValues(kind, k.Body), Link: b.Base + "/kept/" + k.ID}
		if done, is := k.Body.(*record.RoundDone); is {
			row.Title = roundName(v.house, done.Item) + ", " + done.Outcome
			row.Values = row.Values[min(2, len(row.Values)):]
		}
		b.Rows = append(b.Rows, row)
	}
	return view{page: "diary", title: "Diary", here: "round", body: b}, nil
}

func roundName(h *record.Household, item string) string {
	for _, r := range h.Upkeep.Rounds() {
		if r.ID == item {
			return r.Name
		}
	}
	if one, is := happening(item); is {
		return one.Name
	}
	return item
}
