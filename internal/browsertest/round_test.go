//go:build browser

package browsertest

import (
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"ebbline/internal/simulate"
	"ebbline/record"
	"ebbline/unit"
	"ebbline/water"
)

// troubled is a household with a water result over its limit, a sample on its
// way, a recall that holds a lot, and a notice of the water works.
func troubled(t *testing.T) *house {
	t.Helper()
	h := home(t, 4, true)
	day, warm, plated := unit.NewDate(2026, 6, 11), unit.Temperature(200), unit.Drawn(100)
	at := time.Date(2026, 6, 11, 9, 0, 0, 0, simulate.Zone())
	var lot record.Recall
	h.desk.View(func(house *record.Household) {
		for _, it := range house.Shelf(at) {
			if it.Item == "dialyser" && len(it.Lots) > 0 {
				lot = record.Recall{Item: it.Item, Maker: it.Lots[0].Maker, Lots: []string{it.Lots[0].Code}, From: "the unit", Number: "FSN 12"}
			}
		}
	})
	if lot.Item == "" || lot.Maker == "" {
		t.Fatalf("the invented shelf has no dialyser of a maker: %+v", lot)
	}
	for i, e := range []record.Entry{
		{ID: "sample-over-plan", Kind: "water_sample", Body: &record.WaterSample{Sample: "sample-over", State: "planned", Point: water.PointProduct, For: []string{"viable_count"}, PlannedOn: day}},
		{ID: "sample-over-drawn", Kind: "water_sample", Body: &record.WaterSample{Sample: "sample-over", State: "drawn", Cooled: true}},
		{ID: "sample-over-result", Kind: "water_result", Body: &record.WaterResult{Sample: "sample-over", Laboratory: "Laboratory by the weir (invented)", Edition: water.ISO2019, Use: "standard", Owner: "Vida",
			Medium: "R2A", Celsius: &warm, Days: 7, Plated: &plated,
			Results: []water.Result{{What: water.ViableCount, Op: water.Equal, Value: 130, Unit: water.CFUPerML}}}},
		{ID: "sample-way-plan", Kind: "water_sample", Body: &record.WaterSample{Sample: "sample-way", State: "planned", Point: water.PointProduct, For: []string{"viable_count", "endotoxin"}, PlannedOn: day}},
		{ID: "the-recall", Kind: "recall", Body: &lot},
		{ID: "the-notice", Kind: "utility_notice", Body: &record.UtilityNotice{From: day, Words: "main flushed in our street (invented)"}},
	} {
		e.At, e.Zone = at.Add(time.Duration(i)*time.Minute), simulate.Zone().String()
		if out, err := h.desk.Record(t.Context(), e); err != nil || !out.Clear() {
			t.Fatalf("%s: %v %v", e.ID, err, out.Findings)
		}
	}
	return h
}

// The pages of round, water and shelf are made for a thumb: on every width
// nothing reaches beyond the screen, and what is tapped is large and apart.
func TestLayoutOfTheRound(t *testing.T) {
	t.Parallel()
	h := troubled(t)
	s := newScreen(t, h, "round", phoneW, phoneH)
	pages := map[string]string{
		"round": "/round", "diary": "/round/diary", "water": "/round/water", "plant": "/round/plant", "own-item": "/round/item", "how-often": "/round/item/carbon",
		"done": "/round/done/carbon", "scale": "/round/done/scale", "opened": "/round/done/opened-heparin", "notice-over": "/round/notice/the-notice/over", "fridge": "/round/done/fridge", "fault": "/round/fault", "sharps": "/round/sharps", "task": "/round/task/sample-over-result",
		"notice": "/round/notice", "residual": "/round/residual", "rules": "/round/rules", "limit": "/round/limit", "plan-sample": "/round/sample", "drawn": "/round/sample/sample-way/drawn",
		"result": "/round/sample/sample-way/result", "needlestick": "/needlestick", "needlestick-edit": "/needlestick/edit", "kept": "/kept/sample-over-result",
		"shelf": "/shelf", "item": "/shelf/item/dialyser", "change-item": "/shelf/item/dialyser/change", "count": "/shelf/count/dialyser", "delivery": "/shelf/delivery", "order": "/shelf/order",
		"used": "/shelf/used", "supplier": "/shelf/supplier", "planned": "/shelf/planned", "substitute": "/shelf/substitute", "aside": "/shelf/aside", "recall": "/shelf/recall",
		"letter": "/shelf/recall/the-recall", "close": "/shelf/recall/the-recall/close", "calendar": "/calendar", "supply": "/session/" + url.PathEscape(h.life.Open) + "/supply",
	}
	for name, path := range pages {
		s.size(phoneW, phoneH)
		s.open(vida + path)
		for _, width := range []int64{320, phoneW, tabletW, deskW} {
			s.size(width, tabletH)
			if what := eval[string](s, wide); what != "" {
				t.Errorf("%s, %d wide: %s", name, width, what)
			}
			if width == 320 {
				continue
			}
			for _, fault := range eval[[]string](s, measure) {
				t.Errorf("%s, %d wide: %s", name, width, fault)
			}
		}
		s.size(phoneW, tabletH)
		eval[bool](s, `document.documentElement.style.fontSize = "225%", true`)
		if what := eval[string](s, wide); what != "" {
			t.Errorf("%s, letters twice as large: %s", name, what)
		}
		eval[bool](s, `document.documentElement.style.fontSize = "", true`)
		s.sees(name)
		s.size(tabletW, tabletH)
		eval[bool](s, `delete document.documentElement.dataset.theme, true`)
		s.shot(name + "-tablet")
	}
	if s.looked != len(pages) {
		t.Errorf("%d of %d pages were looked at", s.looked, len(pages))
	}
}

// What is handed on says on paper what it says on the screen, without what can
// only be tapped; the order and the needlestick card are one side of A4. The
// letter of a recall is as long as its sessions.
func TestRoundOnPaper(t *testing.T) {
	t.Parallel()
	h := troubled(t)
	s := newScreen(t, h, "paper", deskW, deskH)
	for path, sheet := range map[string]struct {
		holds, lacks []string
		long         bool
	}{
		"/shelf/order":             {holds: []string{"DEMONSTRATION", "order"}},
		"/shelf/recall/the-recall": {holds: []string{"DEMONSTRATION", "FSN 12", "dialyser"}, lacks: []string{"back to the shelf"}, long: true},
		"/needlestick":             {holds: []string{"DEMONSTRATION", "Needlestick", "Ring the unit within the hour", "112"}, lacks: []string{"change it"}},
		"/round":                   {holds: []string{"DEMONSTRATION", "over the limit"}, lacks: []string{"how often", "Read the plant"}, long: true},
		"/round/water":             {holds: []string{"DEMONSTRATION", "130 CFU/mL", "over", "100 CFU/mL, act from 50"}, lacks: []string{"Plan a sample"}, long: true},
	} {
		s.open(vida + path)
		printed, err := chromedp.Run(s.ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
		if err != nil {
			t.Fatal(err)
		}
		var text string
		if sheet.long {
			text = longText(t, "paper"+strings.ReplaceAll(path, "/", "-"), printed)
		} else {
			text = pdfText(t, "paper"+strings.ReplaceAll(path, "/", "-"), printed)
		}
		for _, want := range sheet.holds {
			if !strings.Contains(text, want) {
				t.Errorf("%s on paper does not hold %q:\n%s", path, want, text)
			}
		}
		for _, not := range sheet.lacks {
			if strings.Contains(text, not) {
				t.Errorf("%s on paper holds %q:\n%s", path, not, text)
			}
		}
	}
}

// longText gives the text of a PDF of any length.
func longText(t *testing.T, name string, b []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "long.pdf")
	if err := os.WriteFile(path, b, 0o644); err != nil {
		t.Fatal(err)
	}
	if folder := os.Getenv("EBBLINE_SHOTS"); folder != "" {
		if err := os.WriteFile(filepath.Join(folder, name+".pdf"), b, 0o644); err != nil {
			t.Error(err)
		}
	}
	return output(t, "pdftotext", "-layout", path, "-")
}
