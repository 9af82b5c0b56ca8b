package web

import (
	"net/http"
	"strings"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/stock"
	"ebbline/unit"
)

// recallBody is the form of a recall.
type recallBody struct {
	Form   form
	Lots   string
	Ranges string
	Items  []string
	Makers []string
}

func (s *server) recallForm(v visit, fill func(form) form) (view, error) {
	kind, _ := record.Find("recall")
	f := newForm(kind, v.URL.Path, nil).without("lots", "ranges")
	f.Next = "/p/" + v.member.ID + "/shelf#recalls"
	f.Back, f.Submit = "/p/"+v.member.ID+"/shelf", "Search and set aside"
	b := recallBody{Lots: v.PostFormValue("lot_list"), Ranges: v.PostFormValue("range_list")}
	b.Form = fill(f.hint(map[string]string{
		"item":  "As it is called on your shelf.",
		"maker": "As the notice names it: short lot codes of other makers match by chance.",
	}))
	seen := map[string]bool{}
	for _, it := range v.house.Upkeep.ItemsNow() {
		b.Items = append(b.Items, it.Item)
		if it.Maker != "" && !seen[it.Maker] {
			seen[it.Maker] = true
			b.Makers = append(b.Makers, it.Maker)
		}
	}
	return view{page: "recall", title: "A recall", here: "shelf", body: b}, nil
}

// recordRecall keeps a notice; the search through shelf and sessions is made
// with it, and what it finds is set aside at once.
func (s *server) recordRecall(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("recall")
	oneLineEnd(r)
	e, found := s.read(r, kind)
	e.Person = ""
	b := e.Body.(*record.Recall)
	b.Lots = nil
	for _, l := range strings.FieldsFunc(r.PostFormValue("lot_list"), func(c rune) bool { return c == '\n' || c == ',' || c == ';' }) {
		if l = strings.TrimSpace(l); l != "" {
			b.Lots = append(b.Lots, l)
		}
	}
	for line := range strings.SplitSeq(r.PostFormValue("range_list"), "\n") {
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		from, to, ok := strings.Cut(line, " to ")
		if !ok {
			found = append(found, record.Finding{Field: "ranges", Step: record.Refuse, Words: "cannot be read: write “A100 to A199”, one on each line"})
			continue
		}
		b.Ranges = append(b.Ranges, stock.LotRange{From: strings.TrimSpace(from), To: strings.TrimSpace(to)})
	}
	return s.settle(w, r, e, dropField(found, "lots"), s.recallForm)
}

// letterBody is what the unit is told of a recall.
type letterBody struct {
	Base   string
	Letter household.RecallLetter
	Left   string
	Gone   string
	Lots   string
	Aside  []letterLot
}

type letterLot struct{ Item, Lot, Pieces, Match string }

func (s *server) letterPage(v visit) (view, error) {
	l, ok := household.LetterOf(v.house, v.member, v.PathValue("e"), v.now)
	if !ok {
		return view{}, notFound{"no such recall"}
	}
	b := letterBody{Base: "/p/" + v.member.ID, Letter: l, Left: unit.PiecesText(l.Row.Left), Lots: lotsText(l.Row.Value)}
	for _, f := range l.Row.Found.Shelf {
		b.Aside = append(b.Aside, letterLot{f.Item, f.Lot.Code, unit.PiecesText(f.Lot.Count), string(f.Match)})
	}
	if c := l.Row.Closed; c != nil {
		b.Gone = unit.PiecesText(c.Value.Returned) + " sent back, " + unit.PiecesText(c.Value.Destroyed) + " destroyed"
	}
	return view{page: "letter", title: "Recall", here: "shelf", body: b}, nil
}

// lotsText writes what a notice names.
func lotsText(r record.Recall) string {
	if r.All {
		return "every lot"
	}
	parts := append([]string{}, r.Lots...)
	for _, g := range r.Ranges {
		parts = append(parts, g.From+" to "+g.To)
	}
	return strings.Join(parts, ", ")
}

func closeRecallForm(v visit, f form, b *slipBody) (form, error) {
	row, ok := household.RecallOf(v.house, v.PathValue("e"), v.now)
	if !ok || row.Closed != nil {
		return f, notFound{"no such recall; perhaps it was closed since"}
	}
	b.Rows = []labelled{{"Recall", row.Name()}, {"Set aside", unit.PiecesText(row.Left)}}
	b.Lead = "What became of the pieces, counted."
	f = f.hide("recall_id", row.ID)
	f.Submit = "Close the recall"
	return f, nil
}
