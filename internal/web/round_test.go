package web

import (
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/stock"
	"ebbline/unit"
	"ebbline/water"
)

// roundAddresses are the pages of round, water, shelf and calendar of one person.
func (h *house) roundAddresses(person string) []string {
	p := "/p/" + person
	list := []string{"/round", "/round/diary", "/round/diary?all=1", "/round/water", "/round/water?all=1", "/round/plant", "/round/item", "/round/item/carbon", "/round/item/carbon/off", "/round/fault", "/round/sharps",
		"/round/notice", "/round/residual", "/round/rules", "/round/limit", "/round/sample", "/round/done/scale", "/round/done/carbon", "/round/done/fridge", "/round/done/chemical", "/round/done/bloods",
		"/needlestick", "/needlestick/edit", "/shelf", "/shelf/item", "/shelf/supplier", "/shelf/planned", "/shelf/substitute", "/shelf/aside", "/shelf/used", "/shelf/order", "/shelf/delivery", "/shelf/recall", "/calendar"}
	h.desk.View(func(s *record.Household) {
		for _, it := range s.Upkeep.ItemsNow() {
			list = append(list, "/shelf/item/"+escape(it.Item), "/shelf/item/"+escape(it.Item)+"/change", "/shelf/count/"+escape(it.Item))
		}
		for _, one := range s.Upkeep.Samples() {
			list = append(list, "/round/sample/"+one.ID+"/drawn", "/round/sample/"+one.ID+"/result", "/round/sample/"+one.ID+"/lost")
		}
		for _, j := range s.Upkeep.Results {
			if j.Open() {
				list = append(list, "/round/task/"+j.ID)
			}
		}
		for _, r := range household.Recalls(s, h.now) {
			list = append(list, "/shelf/recall/"+r.ID)
		}
		for i, k := range s.Upkeep.Kept() {
			if i%7 == 0 {
				list = append(list, "/kept/"+k.ID)
			}
		}
	})
	for i := range list {
		list[i] = p + list[i]
	}
	return list
}

// crowded is a household with more of water and shelf than fits.
func crowded(t *testing.T) *house {
	h := home(t, 3, true)
	day := unit.DateOf(h.now)
	long := strings.Repeat("Lengthy-", 7)[:55]
	var bodies []any
	add := func(b ...any) { bodies = append(bodies, b...) }
	for i := range 40 {
		name := fmt.Sprintf("%s %d", long, i)
		add(&record.StockItem{Item: name, Also: strings.Repeat("x", 150) + fmt.Sprint(i), Maker: "<b>Maker</b>", PerSession: pieces(1.5), Pack: 7 * unit.Piece, OrderCode: strings.Repeat("8", 40), Storage: "fridge"})
		var lots []record.CountedLot
		for j := range 6 {
			lots = append(lots, record.CountedLot{Lot: fmt.Sprintf("%s-%d", strings.Repeat("Z", 30), j), Maker: "<b>Maker</b>", Expires: day.Add(j*9 - 10), Pieces: 3 * unit.Piece})
		}
		add(&record.StockCount{Item: name, Lots: lots})
		add(&record.Recall{Number: strings.Repeat("9", 60), Maker: "<b>Maker</b>", Item: name, Ranges: []stock.LotRange{{From: "A1", To: "A99"}}, From: "</article><script>", Words: strings.Repeat("danger ", 200)})
		add(&record.Fault{Words: "<script>" + strings.Repeat("it whirrs ", 100)})
		add(&record.UtilityNotice{From: day.Add(-i), Words: strings.Repeat("works ", 60)})
		add(&record.RoundItem{Item: fmt.Sprintf("own-%d", i), Name: strings.Repeat("own ", 20)[:79], Days: 3, SetBy: "me", SetOn: day})
	}
	add(&record.Recall{Maker: "<b>Maker</b>", Item: long + " 1", All: true, From: "the unit"})
	for i := range 12 {
		id := fmt.Sprintf("sample-crowded-%02d", i)
		var all []string
		for _, s := range chemistry() {
			all = append(all, string(s))
		}
		add(&record.WaterSample{Sample: id, State: "planned", Point: water.PointProduct, For: all, PlannedOn: day.Add(-40)}, &record.WaterSample{Sample: id, State: "drawn"})
		add(&record.WaterResult{Sample: id, Laboratory: strings.Repeat("L", 80), Edition: water.ISO2019, Use: "standard", Owner: strings.Repeat("O", 60), Results: []water.Result{
			{What: water.Lead, Op: water.Equal, Value: 0.02, Unit: water.MgPerL}, {What: water.Nitrate, Op: water.Less, Value: 100, Unit: water.MgPerL, Basis: water.AsNO3}}})
	}
	h.keep("", bodies...)
	return h
}

// Every page of round, water and shelf is there for an empty, an ordinary and an
// overfull record, says nothing it must not say, and lets no typed text into its
// markup.
func TestEveryPageOfTheRound(t *testing.T) {
	t.Parallel()
	empty, p := settled(t)
	for name, h := range map[string]*house{"empty": empty, "ordinary": home(t, 2, true), "overfull": crowded(t)} {
		who := "p-vida-hribar"
		if name == "empty" {
			who = strings.TrimPrefix(p, "/p/")
		}
		list := h.roundAddresses(who)
		if name != "empty" && len(list) < 80 {
			t.Fatalf("%s: only %d pages", name, len(list))
		}
		for _, path := range list {
			text, ok := h.sound(name, path, "<b>Maker</b>", 400_000)
			if !ok {
				continue
			}
			for _, at := range fieldStart.FindAllStringIndex(text, -1) {
				field, _, _ := strings.Cut(text[at[0]:], "</div>")
				if in := anyValue.FindString(field); in != "" && !strings.Contains(in, `value=""`) {
					t.Errorf("%s: %s fills in a measured value: %s", name, path, in)
				}
			}
		}
	}
}

// Something that recurs is written down, changed, added and taken off.
func TestRoundIsWrittenDown(t *testing.T) {
	h, p := settled(t)
	h.says(p+"/round", "Nothing is due", "Nothing written yet")
	h.refused(p+"/round/done/scale", "write both", "item", "scale", "outcome", "done", "known_kg", "20")
	h.saved(p+"/round/done/scale", "item", "scale", "outcome", "done", "known_kg", "20", "shown_kg", "19.9")
	h.says(p+"/round", "−0.1 kg")
	h.refused(p+"/round/done/fridge", "outside 2 to 8", "item", "fridge", "outcome", "done", "shown_c", "9.4")
	h.saved(p+"/round/done/fridge", "item", "fridge", "outcome", "done", "shown_c", "9.4", "again.shown_c", "9.4")
	h.says(p+"/round", "The fridge was outside 2 to 8 °C")
	h.saved(p+"/round/done/clinic", "item", "clinic", "outcome", "done", "clock", "10:00", "day", "2026-03-02")
	h.says(p+"/round", "Clinic, by visit or telephone", "since 2 May 2026")
	h.desk.View(func(s *record.Household) {
		for _, d := range s.Upkeep.Done {
			if personal := d.Value.Item == "clinic"; personal != (d.Person != "") {
				t.Errorf("%s belongs to %q", d.Value.Item, d.Person)
			}
		}
	})
	h.saved(p+"/round/item", "item", "own-seal", "name", "Door seal of the machine", "days", "10", "set_by", "me", "set_on", "2026-06-01")
	h.says(p+"/round", "Door seal of the machine")
	h.saved(p+"/round/item/own-seal/off", "item", "own-seal", "name", "Door seal of the machine", "off", "yes", "set_by", "me", "set_on", "2026-06-01")
	h.silent(p+"/round", "Door seal of the machine")
	h.saved(p+"/round/fault", "words", "it hummed and stopped")
	text := h.see(p + "/round")
	link := regexp.MustCompile(`/round/fault\?about=[a-z0-9]+`).FindString(text)
	if link == "" {
		t.Fatal("a fault that is not mended does not stand on the round")
	}
	h.saved(p+"/round/fault", "words", "a fuse was changed", "mended", "yes", "about", strings.TrimPrefix(link, "/round/fault?about="))
	h.silent(p+"/round", "Faults not mended")
	h.says(p+"/round/diary", "it hummed and stopped", "a fuse was changed")
	h.saved(p+"/round/sharps", "did", "opened")
	h.saved(p+"/round/sharps", "did", "three_quarters")
	h.says(p+"/round", "three quarters full")
}

// A bottle's own day, a notice that ends, a sample that is late: each is written
// down or seen where it is looked for.
func TestOpenedNoticedAndLate(t *testing.T) {
	h, p := settled(t)
	h.says(p+"/round/done/opened-heparin", "A new one is opened", "Lot of what was fitted")
	h.saved(p+"/round/done/opened-heparin", "item", "opened-heparin", "outcome", "done", "lot", "H-3")
	h.says(p+"/round", "Heparin vial, from the day it was opened", "28 days left")
	h.saved(p+"/round/notice", "from", "2026-06-09", "words", "brown water at the tap")
	h.says(p+"/", "brown water at the tap")
	link := regexp.MustCompile(`/round/notice/[a-z0-9-]+/over`).FindString(h.see(p + "/round/water"))
	if link == "" {
		t.Fatal("a notice without an end cannot be ended")
	}
	id := strings.TrimSuffix(strings.TrimPrefix(link, "/round/notice/"), "/over")
	h.refused(p+link, "before the day it began", "about", id, "from", "2026-06-09", "to", "2026-06-01", "words", "it is over")
	h.saved(p+link, "about", id, "from", "2026-06-09", "to", "2026-06-11", "words", "it is over")
	h.says(p+"/round/water", "9 June 2026 to 11 June 2026")
	if status, _ := h.get(p + link); status != http.StatusNotFound {
		t.Errorf("a notice that is over can be ended again: %d", status)
	}
	h.saved(p+"/round/sample", "sample", "sample-late-01", "state", "planned", "point", water.PointInlet, "planned_on", "2026-06-13", "looked", "count")
	h.later(4 * 24 * time.Hour)
	h.silent(p+"/", "brown water at the tap", "has not been drawn")
	h.says(p+"/round", "Not to be forgotten", "The sample of machine inlet has not been drawn, due since 13 June 2026")
	h.says(p+"/round/water", "has not been drawn")
}

// What the household put on the start line itself stops there, with the way to
// the round, until it is written down.
func TestOwnRoundAtTheStartLine(t *testing.T) {
	h := home(t, 2, false)
	h.keep("", &record.RoundItem{Item: "own-seal", Name: "Door seal", Days: 30, StartLine: true, SetBy: "me", SetOn: unit.DateOf(h.now)})
	h.says(vida+"/", "Door seal: never recorded.")
	base := h.setUp()
	h.says(base, "Round, water and bloods", "Door seal: never written down")
	if text := h.see(base); !strings.Contains(text, `href="`+vida+`/round"`) {
		t.Error("the check does not lead to the round")
	}
	h.saved(vida+"/round/done/own-seal", "item", "own-seal", "outcome", "done")
	h.silent(base, "Door seal")
}

// What was written wrongly is struck out with a reason and stays in sight.
func TestKeptEntryIsStruckOut(t *testing.T) {
	h, p := settled(t)
	id := h.keep("", &record.UtilityNotice{From: unit.DateOf(h.now), Words: "brown water"})[0]
	h.says(p+"/round/water", "brown water")
	h.refused(p+"/kept/"+id, "say in a word or two why", "reason", "x")
	h.saved(p+"/kept/"+id, "reason", "it was another street")
	h.silent(p+"/round/water", "brown water")
	h.says(p+"/kept/"+id, "brown water", "Struck out: it was another street")
	own := h.keep("person-ida", &record.RoundDone{Item: "clinic", Outcome: "done"})[0]
	h.saved(p+"/kept/"+own, "reason", "it was put off")
	if status, _ := h.get(p + "/kept/no-such-entry"); status != http.StatusNotFound {
		t.Errorf("an entry that is not there: %d", status)
	}
}

// Gauges in bar and hardness in degrees are converted before they are kept; a
// value without its unit is not taken.
func TestPlantIsReadInItsOwnUnits(t *testing.T) {
	h, p := settled(t)
	h.refused(p+"/round/plant", "has no unit", "feed_kpa", "3.4")
	h.refused(p+"/round/plant", "has no unit", "hardness_mg_l_caco3", "1")
	h.refused(p+"/round/plant", "is not accepted in bar", "gauge_unit", "bar", "feed_kpa", "3,4,1")
	h.refused(p+"/round/plant", "wrong way round", "gauge_unit", "psi", "feed_kpa", "40", "after_sediment_kpa", "45")
	h.saved(p+"/round/plant", "gauge_unit", "bar", "feed_kpa", "3.4", "after_carbon_kpa", "3.1", "hardness_unit", "°dH", "hardness_mg_l_caco3", "0.5", "salt", "bridge", "feed_conductivity_us_cm", "480", "product_conductivity_us_cm", "60")
	h.desk.View(func(s *record.Household) {
		b := s.Upkeep.Readings[0].Value
		if b.Feed.String() != "340" || b.AfterCarbon.String() != "310" || b.Hardness.String() != "8.9" {
			t.Errorf("kept: %s, %s kPa, %s mg/L", b.Feed, b.AfterCarbon, b.Hardness)
		}
	})
	h.says(p+"/round/water", "4.4 psi", "87.5 %", "below the limit of 90", "made a bridge")
}

// A sample goes from planned to judged on the pages; a result that cannot stand
// becomes a task with the unit's number, and Today tells of it until it is seen
// to.
func TestSampleOnThePages(t *testing.T) {
	h, p := settled(t)
	h.refused(p+"/round/sample", "Looked for is still blank", "sample", "sample-page-01", "state", "planned", "point", water.PointProduct, "planned_on", "2026-06-11")
	h.saved(p+"/round/sample", "sample", "sample-page-01", "state", "planned", "point", water.PointProduct, "planned_on", "2026-06-11", "looked", "microbes")
	at := p + "/round/sample/sample-page-01"
	h.saved(at+"/drawn", "sample", "sample-page-01", "state", "drawn", "cooled", "yes", "since_disinfection_h", "40")
	h.later(time.Hour)
	h.saved(at+"/sent", "sample", "sample-page-01", "state", "sent", "carrier", "courier")
	h.later(9 * 24 * time.Hour)
	method := []string{"sample", "sample-page-01", "laboratory", "Laboratory (invented)", "edition", water.ISO2019, "use", "standard", "medium", "R2A", "culture_temperature_c", "20", "culture_days", "7", "plated_ml", "1"}
	h.refused(at+"/result", "ask the laboratory for it", append(method, "figure.viable_count", "nil")...)
	h.refused(at+"/result", "its unit, as printed", append(method, "figure.viable_count", "120", "figure.endotoxin", "0.1")...)
	full := append(method, "figure.viable_count", "120", "figure.endotoxin", "<0.05", "unit.endotoxin", "EU/mL")
	h.refused(at+"/result", "somebody has to see to it", full...)
	h.saved(at+"/result", append(full, "owner", "Ida")...)
	h.says(p+"/round/water", "✕ over", "✓ within", "120 CFU/mL", "< 100 CFU/mL, act from 50", "+000 1 23", "by 20 June 2026")
	h.says(p+"/", "A water result is over its limit", "+000 1 23")
	for _, page := range []string{"/round", "/round/water"} {
		if !strings.Contains(h.see(p+page), `href="tel:&#43;000123"`) {
			t.Errorf("%s: the unit cannot be rung from the task", page)
		}
	}
	var id string
	h.desk.View(func(s *record.Household) {
		j := s.Upkeep.Results[0]
		id = j.ID
		if len(j.Value.Judged) != 2 || j.Value.Judged[0].Limit.Edition != water.ISO2019 || j.Value.Judged[0].Limit.Max != 100 {
			t.Errorf("the comparison is not kept whole: %+v", j.Value.Judged)
		}
	})
	h.saved(p+"/round/task/"+id, "result_id", id, "did", "ring disinfected, another sample planned", "told", "nurse by telephone")
	h.silent(p+"/", "A water result")
	if status, _ := h.get(p + "/round/task/" + id); status != http.StatusNotFound {
		t.Errorf("a task that was seen to: %d", status)
	}
}

// Nitrate is asked for its basis on the page; a chemical analysis that lies
// within its limits is one line.
func TestChemistryOnThePages(t *testing.T) {
	h, p := settled(t)
	h.saved(p+"/round/sample", "sample", "sample-chem-01", "state", "planned", "point", water.PointProduct, "planned_on", "2026-06-11", "looked", "chemistry")
	at := p + "/round/sample/sample-chem-01"
	h.saved(at+"/drawn", "sample", "sample-chem-01", "state", "drawn")
	form := []string{"sample", "sample-chem-01", "laboratory", "Laboratory (invented)", "edition", water.ISO2019, "use", "standard", "figure.lead", "<1", "unit.lead", "ug/L", "figure.copper", "0.02", "unit.copper", "mg/L",
		"figure.zinc", "0.03", "unit.zinc", "mg/L", "figure.sodium", "1.2", "unit.sodium", "mg/L", "figure.nitrate", "8.8", "unit.nitrate", "mg/L"}
	h.refused(at+"/result", "the two differ by 4.4 times", form...)
	h.saved(at+"/result", append(form, "basis.nitrate", "NO3")...)
	h.says(p+"/round/water", "5 of 5 substances", "✓ within", "8.8 mg/L as NO3")
}

// The needlestick card holds the unit's words, or what is common practice and
// the numbers.
func TestNeedlestickCard(t *testing.T) {
	h, p := settled(t)
	h.says(p+"/needlestick", "Ring within the hour (common practice)", "+000 1 23", "+000 1 99")
	h.saved(p+"/needlestick/edit", "words", "Wash it\nRing us", "from", "Nurse K", "given_on", "2026-05-01", "review_by", "2027-05-01")
	h.says(p+"/needlestick", "Wash it", "Ring us", "Nurse K", "+000 1 99")
	h.silent(p+"/needlestick", "common practice")
	h.later(400 * 24 * time.Hour)
	h.says(p+"/needlestick", "OLD: to be looked at again since 1 May 2027")
}

// A test that the unit wants every two hours is asked for on the running page, and
// one over the limit is told of at once.
func TestChlorineAgainWhileRunning(t *testing.T) {
	h := home(t, 2, false)
	h.keep("", &record.WaterRules{Edition: water.ISO2019, Use: "standard", Repeat: ptrHours(2), SetBy: "Dr B. Zupan (invented)", SetOn: unit.DateOf(h.now)})
	base := h.begin()
	h.silent(base, "Total chlorine is to be tested again")
	h.later(105 * time.Minute)
	h.says(base, "Total chlorine again at")
	h.later(30 * time.Minute)
	h.says(base, "Total chlorine is to be tested again: every 2 h, set by Dr B. Zupan (invented)")
	h.saved(base+"/chlorine", "total_chlorine_mg_l", "0.2", "again.total_chlorine_mg_l", "0.2", "method", "reagent", "reads_down_to_mg_l", "0.02", "lot", "C1", "expiry", "2026-12", "sample_point", "first_carbon")
	h.silent(base, "is to be tested again")
	h.says(base, "Total chlorine 0.2 mg/L, limit 0.1 mg/L")
}

// Chlorine over the limit stops the start, with the unit's numbers on the same
// page; only a written reason goes past it, and that stands on the sheet. A test
// that does not say its method, its lot or how low it reads is not taken, and
// none of it is filled in.
func TestChlorineStopsTheStart(t *testing.T) {
	h := home(t, 2, false)
	base := h.setUp()
	test := func(value string, more ...string) []string {
		return append([]string{"total_chlorine_mg_l", value, "method", "reagent", "reads_down_to_mg_l", "0.02", "lot", "C1", "expiry", "2026-12", "sample_point", "first_carbon"}, more...)
	}
	for _, blank := range []string{"method", "lot", "reads_down_to_mg_l", "sample_point", "expiry"} {
		form := test("0.05")
		for i := range form {
			if form[i] == blank {
				form[i+1] = ""
			}
		}
		h.refused(base+"/chlorine", "still blank", form...)
	}
	h.refused(base+"/chlorine", "type it again", test("0.11")...)
	h.saved(base+"/chlorine", test("0.11", "again.total_chlorine_mg_l", "0.11")...)
	h.says(base, "0.11 mg/L, limit 0.1", "Something stands at STOP. Unit, by day", "+000 1 555 01 10", "+000 1 555 01 99")
	h.refused(base+"/override", "at least 10", "check", "chlorine", "reason", "it is ok")
	h.saved(base+"/override", "check", "chlorine", "reason", "unit rung, second carbon reads none")
	h.says(base+"/sheet", "Gone on in spite of “total chlorine”", "unit rung, second carbon reads none")
	// A strip that cannot tell the limit from none is no pass, whatever it shows.
	h.later(time.Minute)
	h.saved(base+"/chlorine", "total_chlorine_mg_l", "0", "method", "strip", "reads_down_to_mg_l", "0.5", "lot", "C2", "expiry", "2026-12", "sample_point", "first_carbon")
	h.says(base, "This test reads down to 0.5 only; limit 0.1")
	h.saved(base+"/chlorine", test("0.1")...)
	h.silent(base, "Something stands at STOP")
}

func ptrHours(v float64) *unit.Hours { h := unit.Hours(v * 100); return &h }
