package web

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"ebbline/exchange"
	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/unit"
)

// draftBody is the order to send: as a sheet, as the text of an e-mail, and as
// the form that says it was sent.
type draftBody struct {
	Base     string
	View     household.ShelfView
	Draft    household.Draft
	Word     string
	Text     string
	Subject  string
	MailTo   string
	Form     form
	Lines    []orderRow
	Cautions []unit.Caution
	Waiting  []waitingView
}

// orderRow is one line of the order that can be changed before it is sent.
type orderRow struct {
	household.DraftLine
	N      int
	PackOf string
	All    string
}

type waitingView struct {
	household.Awaited
	Came, Link string
}

func (s *server) draftPage(v visit) (view, error) {
	return s.draftForm(v, func(f form) form { return f })
}

func (s *server) draftForm(v visit, fill func(form) form) (view, error) {
	base := "/p/" + v.member.ID
	b := draftBody{Base: base, View: household.Shelf(v.house, v.now)}
	b.Draft = b.View.DraftOrder(v.today())
	b.Word = orderWord(b.Draft, v.today())
	for i, l := range b.Draft.Lines {
		b.Lines = append(b.Lines, orderRow{l, i, l.Pack.String(), unit.PiecesText(l.Pieces)})
	}
	for _, r := range b.View.Rows {
		b.Cautions = append(b.Cautions, r.Order.Cautions...)
	}
	p, _ := v.member.Person.Now()
	b.Text, b.Subject = b.Draft.Text(p.Name), b.Draft.Subject(b.View.Supplier)
	if sup := b.View.Supplier; sup != nil {
		b.MailTo = mailTo(sup.Email, b.Subject, b.Text)
	}
	for _, w := range b.View.Waiting {
		b.Waiting = append(b.Waiting, waitingView{w, base + "/shelf/delivery?order=" + w.ID, base + "/kept/" + w.ID})
	}
	kind, _ := record.Find("order_sent")
	b.Form = newForm(kind, base+"/shelf/order", nil).only("how", "number", "note").hide("for", b.Draft.For.String())
	b.Form.Next, b.Form.Submit = base+"/shelf", "It is sent"
	b.Form = fill(b.Form)
	return view{page: "order", title: "Order", here: "shelf", body: b}, nil
}

// recordSent keeps the order as it went out, with the packs as they were
// changed on the form.
func (s *server) recordSent(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("order_sent")
	oneLineEnd(r)
	e, found := s.read(r, kind)
	e.Person = ""
	found = dropField(found, "lines")
	b := e.Body.(*record.OrderSent)
	err := s.look(r, func(v visit) error {
		for n := range mostRows {
			item, packs := strings.TrimSpace(r.PostFormValue("item."+strconv.Itoa(n))), strings.TrimSpace(r.PostFormValue("packs."+strconv.Itoa(n)))
			if item == "" || packs == "" || packs == "0" {
				continue
			}
			count, err := strconv.Atoi(packs)
			it, known := v.house.Upkeep.Item(item)
			if err != nil || count < 0 || count > 10000 || !known {
				found = append(found, record.Finding{Field: "lines", Step: record.Refuse, Words: "cannot be read: “" + packs + "” packs of " + item})
				continue
			}
			b.Lines = append(b.Lines, record.OrderLine{Item: it.Item, Packs: count, Pieces: unit.Pieces(count) * it.Pack})
		}
		return nil
	})
	if err != nil {
		return err
	}
	return s.settle(w, r, e, found, s.draftForm)
}

// orderTable is the order for a spreadsheet or the supplier's own page.
func orderTable(v visit) (exchange.Sheet, error) {
	return household.Shelf(v.house, v.now).DraftOrder(v.today()).Sheet(), nil
}

// table serves what a page shows as a file for a spreadsheet.
func (s *server) table(name string, of func(v visit) (exchange.Sheet, error)) http.HandlerFunc {
	return s.raw(func(w http.ResponseWriter, r *http.Request) error {
		var sheet exchange.Sheet
		err := s.look(r, func(v visit) (err error) {
			sheet, err = of(v)
			return err
		})
		if err != nil {
			return err
		}
		file, err := sheet.CSV()
		if err != nil {
			return err
		}
		w.Header().Set("Content-Type", "text/csv; charset=utf-8")
		w.Header().Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", name))
		_, err = w.Write(file)
		return err
	})
}

// raw wraps a handler that answers a reading with something that is no page.
func (s *server) raw(h postFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if err := h(w, r); err != nil {
			s.answer(w, r, err)
		}
	}
}
