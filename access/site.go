package access

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"ebbline/unit"
)

// A Kind is what sort of access it is.
type Kind string

const (
	Fistula  Kind = "fistula"
	Graft    Kind = "graft"
	Catheter Kind = "catheter"
)

// A Technique is how the needles' places are chosen.
type Technique string

const (
	RopeLadder Technique = "rope_ladder"
	Buttonhole Technique = "buttonhole"
)

// Allowed refuses a technique that does not belong to an access: a graft is
// always rotated and never has buttonholes, and a catheter is not needled.
// Source: common practice; guidelines on needling of the British renal nurses
// (from memory).
func Allowed(k Kind, t Technique) error {
	switch {
	case k == Fistula && (t == RopeLadder || t == Buttonhole):
		return nil
	case k == Graft && t == RopeLadder:
		return nil
	case k == Graft && t == Buttonhole:
		return unit.Refuse("technique", t, "rope ladder: a graft is never needled by buttonhole")
	case k == Catheter:
		return unit.Refuse("technique", t, "none: a catheter is not needled")
	}
	return unit.Refuse("technique", fmt.Sprintf("%s in a %s", t, k), "rope_ladder or buttonhole in a fistula, rope_ladder in a graft")
}

// A Side is the needle that a site is for.
type Side string

const (
	Arterial Side = "arterial"
	Venous   Side = "venous"
)

// A Site is one numbered place on the drawing of the arm.
type Site struct {
	ID      string  `json:"id"` // "A3"
	Side    Side    `json:"side"`
	AlongCm float64 `json:"along_cm"`        // along the vessel from the anastomosis
	Avoid   string  `json:"avoid,omitempty"` // why not, in words; empty: may be used
}

// Label names the site in words, so that it can be read without the drawing.
func (s Site) Label() string {
	return fmt.Sprintf("%s, %s, %g cm from the anastomosis", s.ID, s.Side, s.AlongCm)
}

// A Rule is how sites are rotated, as the unit sets it.
type Rule struct {
	RestDays  int     // a hole is not used again before so many days
	ApartCm   float64 // least distance between the two needle tips
	FromJoint float64 // least distance from the anastomosis, cm
	Setter    string
}

// DefaultRule is two weeks of rest, tips 5 cm apart, 3 cm from the
// anastomosis. Source: UKKA/BRS/VASBI needling guidance 2018 and common
// practice (from memory).
func DefaultRule() Rule {
	return Rule{RestDays: 14, ApartCm: 5, FromJoint: 3, Setter: "program default"}
}

// A Needling is one use of a site.
type Needling struct {
	On   unit.Date `json:"on"`
	Site string    `json:"site"`
}

// A Rested is a site with how long it has rested.
type Rested struct {
	Site  Site
	Last  unit.Date // zero: never used
	Days  int       // since then; 0 when never used
	Times int       // uses in the last 90 days, for the picture
	Free  bool      // may be used: rested long enough, or never used, and not to be avoided
}

// picture is how many days of uses the drawing shows.
const picture = 90

// Rest says of each site how long it has rested on a day. Needlings after that
// day are passed over; of one of that day the rest is 0.
func Rest(sites []Site, history []Needling, day unit.Date, r Rule) []Rested {
	list := make([]Rested, len(sites))
	for i, s := range sites {
		x := Rested{Site: s}
		for _, n := range history {
			if n.Site != s.ID || day.Before(n.On) {
				continue
			}
			if x.Last.IsZero() || x.Last.Before(n.On) {
				x.Last = n.On
			}
			if day.Sub(n.On) < picture {
				x.Times++
			}
		}
		if !x.Last.IsZero() {
			x.Days = day.Sub(x.Last)
		}
		x.Free = s.Avoid == "" && (x.Last.IsZero() || x.Days >= r.RestDays)
		list[i] = x
	}
	return list
}

// Check refuses a drawing that cannot be used: a site without an id or side,
// two of one id, or a place that cannot be. Sites nearer to the anastomosis
// than the rule allows come back as cautions.
func Check(sites []Site, r Rule) ([]unit.Caution, error) {
	var list []unit.Caution
	seen := map[string]bool{}
	for _, s := range sites {
		switch {
		case strings.TrimSpace(s.ID) == "" || seen[s.ID]:
			return nil, unit.Refuse("site", s.ID, "an id of its own for each site")
		case s.Side != Arterial && s.Side != Venous:
			return nil, unit.Refuse("side", s.Side, "arterial or venous")
		case !(s.AlongCm >= 0 && s.AlongCm <= 60):
			return nil, unit.Refuse("along_cm", s.AlongCm, "a distance from 0 to 60 cm")
		}
		seen[s.ID] = true
		if s.AlongCm < r.FromJoint && s.Avoid == "" {
			list = append(list, unit.Caution{Code: "near_anastomosis", Text: fmt.Sprintf("%s lies nearer than %g cm to the anastomosis (%s).", s.Label(), r.FromJoint, r.Setter)})
		}
	}
	return list, nil
}

// A Proposal is the pair of sites offered next.
type Proposal struct {
	Arterial, Venous Rested
	Cautions         []unit.Caution
}

// Propose offers the next pair for a rope ladder: on each side the next rung
// along the vessel after the last one used, beginning anew at the end, passing
// over what has not rested or is to be avoided. Among the pairs it takes
//
//  1. one with the fewest sites that have not rested, so that no hole is used
//     twice in the rest time while free ones exist;
//  2. of these, one with the tips far enough apart, if there is any;
//  3. of these, the one fewest rungs on, and last the one that rested longest.
//
// What could not be had is said in cautions. Both sides need a site that is
// not to be avoided; otherwise the error is an [*unit.InputError].
func Propose(sites []Site, history []Needling, day unit.Date, r Rule) (Proposal, error) {
	if _, err := Check(sites, r); err != nil {
		return Proposal{}, err
	}
	rested := Rest(sites, history, day, r)
	a, v := ladder(rested, Arterial), ladder(rested, Venous)
	if len(a) == 0 || len(v) == 0 {
		return Proposal{}, unit.Refuse("sites", len(sites), "at least one arterial and one venous site that may be used")
	}
	type pair struct {
		a, v          Rested
		tired, on     int
		close, rested int
	}
	var pairs []pair
	for i, x := range a {
		for j, y := range v {
			p := pair{a: x, v: y, tired: tired(x) + tired(y), on: i + j, rested: restOf(x) + restOf(y)}
			if apart(x, y) < r.ApartCm {
				p.close = 1
			}
			if p.tired > 0 {
				p.on = 0 // out of turn anyway: the longest rest counts
			}
			pairs = append(pairs, p)
		}
	}
	best := slices.MinFunc(pairs, func(p, q pair) int {
		return cmp.Or(cmp.Compare(p.tired, q.tired), cmp.Compare(p.close, q.close), cmp.Compare(p.on, q.on), cmp.Compare(q.rested, p.rested))
	})
	prop := Proposal{Arterial: best.a, Venous: best.v}
	for _, x := range []Rested{best.a, best.v} {
		prop.Cautions = append(prop.Cautions, r.Reuse(x)...)
	}
	if best.close == 1 {
		prop.Cautions = append(prop.Cautions, unit.Caution{Code: "tips_close",
			Text: fmt.Sprintf("%s and %s lie %g cm apart, under the %g cm that are set (%s).", best.a.Site.ID, best.v.Site.ID, apart(best.a, best.v), r.ApartCm, r.Setter)})
	}
	return prop, nil
}

// Reuse gives the caution for a site that has not rested or is to be avoided:
// it asks, and is not a refusal.
func (r Rule) Reuse(x Rested) []unit.Caution {
	switch {
	case x.Site.Avoid != "":
		return []unit.Caution{{Code: "site_avoided", Text: fmt.Sprintf("%s is to be avoided: %s.", x.Site.ID, x.Site.Avoid)}}
	case !x.Free:
		return []unit.Caution{{Code: "not_rested", Text: fmt.Sprintf("%s was used %d days ago and should rest %d (%s).", x.Site.ID, x.Days, r.RestDays, r.Setter)}}
	}
	return nil
}

// ladder gives the usable sites of one side in the order of their turn: along
// the vessel, beginning after the one used last.
func ladder(all []Rested, side Side) []Rested {
	var rungs []Rested
	var last unit.Date
	for _, x := range all {
		if x.Site.Side == side {
			rungs = append(rungs, x)
			if last.Before(x.Last) {
				last = x.Last
			}
		}
	}
	slices.SortStableFunc(rungs, func(p, q Rested) int {
		return cmp.Or(cmp.Compare(p.Site.AlongCm, q.Site.AlongCm), cmp.Compare(p.Site.ID, q.Site.ID))
	})
	begin := slices.IndexFunc(rungs, func(x Rested) bool { return !last.IsZero() && x.Last == last }) + 1
	turn := append(slices.Clone(rungs[begin:]), rungs[:begin]...)
	return slices.DeleteFunc(turn, func(x Rested) bool { return x.Site.Avoid != "" })
}

func tired(x Rested) int {
	if x.Free {
		return 0
	}
	return 1
}

func restOf(x Rested) int {
	if x.Last.IsZero() {
		return 10_000
	}
	return x.Days
}

func apart(x, y Rested) float64 { return math.Abs(x.Site.AlongCm - y.Site.AlongCm) }

// AreaPuncture remarks on a side where the last 12 needlings went into fewer
// than four places while at least six could have been used: small stretches
// used again and again become aneurysms. The numbers are our own choice.
func AreaPuncture(sites []Site, history []Needling, side Side) []unit.Caution {
	usable := map[string]bool{}
	for _, s := range sites {
		if s.Side == side && s.Avoid == "" {
			usable[s.ID] = true
		}
	}
	own := slices.DeleteFunc(slices.Clone(history), func(n Needling) bool { return !usable[n.Site] })
	slices.SortStableFunc(own, func(a, b Needling) int { return a.On.Sub(b.On) })
	if len(own) < 12 || len(usable) < 6 {
		return nil
	}
	places := map[string]bool{}
	for _, n := range own[len(own)-12:] {
		places[n.Site] = true
	}
	if len(places) >= 4 {
		return nil
	}
	return []unit.Caution{{Code: "area_puncture",
		Text: fmt.Sprintf("The last 12 %s needles went into %d places of %d: the same stretch again and again weakens the vessel wall.", side, len(places), len(usable))}}
}
