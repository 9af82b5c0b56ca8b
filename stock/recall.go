package stock

import (
	"strconv"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"ebbline/unit"
)

// NormalLot brings a lot code into the form in which codes are compared:
// capitals, no spaces or separators (hyphen, point, slash, underline), and
// zero and one for the letters O and I that people read and type for them. Wide
// and narrow forms of a letter are one (Unicode's form NFKC), and characters that
// cannot be seen are left out: two codes that look alike compare alike. Letters of
// another script that look the same do not.
func NormalLot(code string) string {
	if strings.ContainsFunc(code, func(r rune) bool { return r > unicode.MaxASCII }) {
		code = norm.NFKC.String(code)
	}
	var b strings.Builder
	for _, r := range strings.ToUpper(code) {
		if !unit.Shows(r) {
			continue
		}
		switch r {
		case '-', '‐', '‑', '–', '.', '/', '_':
			continue
		case 'O':
			r = '0'
		case 'I':
			r = '1'
		}
		b.WriteRune(r)
	}
	return b.String()
}

// looseLot goes further, over every pair that is commonly misread.
func looseLot(code string) string {
	return strings.NewReplacer("L", "1", "S", "5", "B", "8", "Z", "2", "Q", "0", "D", "0", "G", "6").Replace(NormalLot(code))
}

// A LotRange is a run of lots from one code to another, both included.
type LotRange struct {
	From string `json:"from"`
	To   string `json:"to"`
}

// A Recall is a notice that some lots of an item must not be used.
type Recall struct {
	Maker  string     `json:"maker"`
	Item   string     `json:"item"` // as the household calls it
	Lots   []string   `json:"lots,omitempty"`
	Ranges []LotRange `json:"ranges,omitempty"`
	All    bool       `json:"all,omitempty"` // every lot of the item
}

// Check refuses a notice that would match nothing or cannot be compared: no
// item or maker, no lots, or a range that runs backwards or whose ends are not
// built alike.
func (r Recall) Check() error {
	switch {
	case fold(r.Item) == "":
		return unit.Refuse("item", strconv.Quote(r.Item), "the item that is recalled")
	case fold(r.Maker) == "":
		return unit.Refuse("maker", strconv.Quote(r.Maker), "the maker named in the notice: short lot codes of other makers match by chance")
	case !r.All && len(r.Lots) == 0 && len(r.Ranges) == 0:
		return unit.Refuse("lots", "none", "lots, a range of lots, or all of them")
	}
	for _, l := range r.Lots {
		if NormalLot(l) == "" {
			return unit.Refuse("lots", strconv.Quote(l), "a lot code")
		}
	}
	for _, g := range r.Ranges {
		from, to := runs(NormalLot(g.From)), runs(NormalLot(g.To))
		if !alike(from, to) || compareRuns(from, to) > 0 {
			return unit.Refuse("ranges", g.From+" to "+g.To, "two codes built alike, the lower first")
		}
	}
	return nil
}

// A Match says how surely a lot is meant by a recall.
type Match string

const (
	NoMatch  Match = "no match"
	Look     Match = "look at the box" // the code may have been misread, or maker or lot was not written down
	Recalled Match = "recalled"
)

// Matches compares one lot of an item, as it was written down, with the
// notice. Item and maker are compared without case and spaces, the lot as
// [NormalLot] brings it. A lot whose maker or code was not written down, or
// whose code differs only in characters that are easily misread, is Look: it
// is set aside until somebody has looked.
func (r Recall) Matches(item, maker, lot string) Match {
	if fold(item) != fold(r.Item) {
		return NoMatch
	}
	if fold(maker) != "" && fold(maker) != fold(r.Maker) {
		return NoMatch
	}
	m := r.lotMatches(lot)
	if m == Recalled && fold(maker) == "" {
		return Look
	}
	return m
}

func (r Recall) lotMatches(lot string) Match {
	code := NormalLot(lot)
	if r.All {
		return Recalled
	}
	if code == "" {
		return Look
	}
	best := NoMatch
	for _, l := range r.Lots {
		if NormalLot(l) == code {
			return Recalled
		}
		if looseLot(l) == looseLot(lot) {
			best = Look
		}
	}
	x := runs(code)
	for _, g := range r.Ranges {
		from, to := runs(NormalLot(g.From)), runs(NormalLot(g.To))
		if alike(from, x) && compareRuns(from, x) <= 0 && compareRuns(x, to) <= 0 {
			return Recalled
		}
	}
	return best
}

// A Past is one use of a lot in a past session.
type Past struct {
	Session string    `json:"session"` // its id
	On      unit.Date `json:"on"`
	Item    string    `json:"item"`
	Maker   string    `json:"maker"`
	Lot     string    `json:"lot"`
}

// Found is what a recall touches.
type Found struct {
	Shelf []FoundLot
	Past  []FoundPast
}

// A FoundLot is a lot on the shelf that is recalled or must be looked at.
type FoundLot struct {
	Item  string
	Place int // in the item's lots
	Lot   Lot
	Match Match
}

// A FoundPast is a past use of such a lot.
type FoundPast struct {
	Past  Past
	Match Match
}

// None reports whether the notice touches nothing, which is recorded too.
func (f Found) None() bool { return len(f.Shelf) == 0 && len(f.Past) == 0 }

// Search matches the notice against the shelf, held and expired lots
// included, and against past sessions. The notice is checked first.
func (r Recall) Search(shelf []Item, past []Past) (Found, error) {
	if err := r.Check(); err != nil {
		return Found{}, err
	}
	var f Found
	for _, it := range shelf {
		for i, l := range it.Lots {
			if m := r.Matches(it.Name, l.Maker, l.Code); m != NoMatch {
				f.Shelf = append(f.Shelf, FoundLot{Item: it.Name, Place: i, Lot: l, Match: m})
			}
		}
	}
	for _, p := range past {
		if m := r.Matches(p.Item, p.Maker, p.Lot); m != NoMatch {
			f.Past = append(f.Past, FoundPast{Past: p, Match: m})
		}
	}
	return f, nil
}

// Hold gives the shelf with every lot that was found put into quarantine, so
// that it cannot be offered or taken. The shelf given is not changed.
func (f Found) Hold(shelf []Item) []Item {
	held := make([]Item, len(shelf))
	for i, it := range shelf {
		held[i] = it
		held[i].Lots = append([]Lot(nil), it.Lots...)
		for _, l := range f.Shelf {
			if l.Item == it.Name {
				held[i].Lots[l.Place].Held = true
			}
		}
	}
	return held
}

func fold(s string) string { return strings.Join(strings.Fields(strings.ToLower(s)), "") }

// A run is a stretch of digits or of other characters in a code.
type run struct {
	text   string
	digits bool
}

func runs(code string) []run {
	var list []run
	for i := range len(code) {
		digit := code[i] >= '0' && code[i] <= '9'
		if n := len(list); n > 0 && list[n-1].digits == digit {
			list[n-1].text += code[i : i+1]
			continue
		}
		list = append(list, run{code[i : i+1], digit})
	}
	return list
}

// alike reports whether two codes are built of the same kinds of runs.
func alike(a, b []run) bool {
	if len(a) != len(b) || len(a) == 0 {
		return false
	}
	for i := range a {
		if a[i].digits != b[i].digits {
			return false
		}
	}
	return true
}

// compareRuns orders codes that are built alike: digits as numbers, the rest
// as letters, shorter before longer.
func compareRuns(a, b []run) int {
	for i := range a {
		x, y := a[i].text, b[i].text
		if a[i].digits {
			x, y = strings.TrimLeft(x, "0"), strings.TrimLeft(y, "0")
		}
		if len(x) != len(y) {
			return len(x) - len(y)
		}
		if c := strings.Compare(x, y); c != 0 {
			return c
		}
	}
	return 0
}
