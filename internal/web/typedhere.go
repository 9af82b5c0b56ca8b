package web

// A value that leads to help may stand typed in the form of a page while its steps lie
// over it. The tile then shows that value, not an older one, and its first button sends
// the form.

// typedHere is such a value under its trouble.
type typedHere struct {
	Code  string
	Shown string // "51/30"
	Yes   *yes   // nil where no tap can keep it
	Form  string // id of the form
}

// typedOn gives what stands typed and not saved of a trouble on a page; nil where
// nothing does.
func (p view) typedOn(code string) *typedHere {
	b, is := p.body.(entryBody)
	if !is || !b.Form.Sent {
		return nil
	}
	for _, w := range b.Form.Ways {
		if w.Trouble == code && w.Title != "" {
			return &typedHere{code, w.Shown(), w.Yes, "send-" + b.Form.Tag}
		}
	}
	return nil
}
