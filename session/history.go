package session

import (
	"slices"
	"strings"
	"time"

	"ebbline/access"
	"ebbline/unit"
)

// History is what earlier sessions and the rest of the record say that this
// session needs. Zero values mean that nothing is known.
type History struct {
	PaperCame bool      // the paper for a phoned prescription has come and agrees
	Hospital  unit.Date // last day of the latest hospital stay, or day it was told of
	Stay      unit.Date // last day of the latest hospital stay that is written down
	Stomach   unit.Date // day diarrhoea, vomiting or not eating was last told of

	LastPost   *WeighOut // of the last session that was treated; nil when it has none
	LastPostAt time.Time
	Scale      string         // used for the latest weighing
	Strength   *unit.Strength // heparin strength drawn up last time
	StrengthAt time.Time
	Lock       *CatheterLock // that was in the hand last time
	Cleaned    *Disinfection // the machine's programme since its last treatment
	CleanedAt  time.Time
	Treated    int           // sessions that were treated
	LastEnd    time.Time     // of the last that was dialysed; zero where its end is not written
	RemovedAt  time.Time     // end of the last that only removed fluid, where it came after that one; else zero
	Goals      []unit.Volume // set goals, oldest first
	Opened     [][]string    // names of what was written with its lot in the last sessions treated at home, oldest first

	Shelf   []ShelfItem           // the household's shelf
	OnShelf map[string]LotOnShelf // what its book says of the lots of this session, by entry

	Fluids  []FluidSeen // of the last sessions treated at home on one machine, oldest first
	FluidOn Machine     // that machine
	Drops   []bool      // whether the pressure fell on standing up, in the last sessions that could show it
	Fell    []fell      // by how much, in the same
	Unable  Unable      // what the person said cannot be measured

	LastBegan   time.Time    // of the last that was dialysed
	LastRan     unit.Minutes // and how long it ran; 0 where its end is not written
	LastPlanned unit.Minutes // of how long it was ordered; 0 where that or its end is not written
	CarbonOver  time.Time    // when chlorine was above the limit after the first carbon last, at home
	Missed      int          // sessions that the order asked for since then and that did not take place

	Signs access.Seen // at the access: when each was last seen
	Held  bool        // of a catheter: cuff, length or old lock was written in an earlier session
	Shut  []string    // the steps before a cap comes off that stand on the sheet of setting up, by id

	NewRx   time.Time // when another prescription was written that holds now; zero while the session's own does
	NewRxBy string    // who ordered it

	Undone  []Undone     // stops of this session that are gone since something was struck out or corrected
	Changed *TermsChange // what was ordered or described again between the opening and the start; nil for nothing

	Who          Whom      // the person, as written down at the time
	PregnantTold time.Time // when "pregnant, or may be" was last told in a session; zero for never

	Broken []*Session // set up shortly before this one and never treated: what stopped there still counts

	Batches    []Batch   // of this session's machine, made before its start line or while it ran, oldest first
	InUseBy    string    // the other person whose treatment runs on this machine; empty for nobody
	InUseSince time.Time // when that began

	StruckBatches []Batch // that it names and that were struck out, each with its strike

	MachineCare
}

// HistoryOf reads the history off earlier sessions of the same person, oldest
// first. What the record knows besides them (hospital stays, the paper of a
// phoned change) is for the caller to add.
func HistoryOf(earlier []*Session) History {
	var h History
	for _, s := range earlier {
		h.Add(s)
	}
	return h
}

// goalsKept is how many of the set goals the history holds, the latest ones:
// nobody looks back further.
const goalsKept = 12

// Add reads one more session, later than all that were added before.
func (h *History) Add(s *Session) {
	var opened *Opened
	var in *WeighIn
	var out, heparin, cleaned *Event
	var plan *AgreedPlan
	var fluid *FluidCheck
	var lock *CatheterLock
	treated, ended := false, time.Time{}
	carbon, held := h.CarbonOver, h.Held
	hospital, stomach, signs, pregnant := h.Hospital, h.Stomach, h.Signs, h.PregnantTold
	for i := range s.Log {
		e := &s.Log[i]
		if e.Struck != nil {
			continue
		}
		held = held || tellsHeld(e.Body)
		switch b := e.Body.(type) {
		case *Opened:
			if opened == nil {
				opened = b
			}
		case *Fitness:
			if b.Hospital {
				hospital = later(hospital, unit.DateOf(e.At))
			}
			if b.Stomach {
				stomach = later(stomach, unit.DateOf(e.At))
			}
			if b.Pregnant {
				pregnant = e.At
			}
		case *WeighIn:
			in = b
		case *WeighOut:
			out = e
		case *AccessCheck:
			if signs.Put(b.local(), e.At); b.Skin == "discharge" {
				signs.PutPus(e.At)
			}
		case *HeparinDrawn:
			heparin = e
		case *Chlorine:
			if over, _ := ChlorineOver(s, b, e); over && b.Point == firstCarbon {
				carbon = e.At
			}
		case *CatheterLock:
			lock = b
		case *Connected:
			if !treated {
				cleaned = nil // what was run while setting up came before the treatment
			}
			treated = true
		case *CameOff:
			ended = e.At
		case *Disinfection:
			cleaned = e
		case *AgreedPlan:
			plan = b
		case *FluidCheck:
			fluid = b
		}
	}
	if opened == nil {
		return // abandoned
	}
	h.Hospital, h.Stomach, h.Signs, h.PregnantTold, h.Held = hospital, stomach, signs, pregnant, held
	if opened.Place != "elsewhere" {
		h.CarbonOver = carbon
	}
	h.vitals(s)
	if in != nil && in.Scale != "" {
		h.Scale = in.Scale
	}
	if treated {
		h.LastPost, h.LastPostAt = nil, time.Time{}
	}
	if out != nil && out.Missing["weight_kg"] == "" {
		h.LastPost, h.LastPostAt = out.Body.(*WeighOut), out.At
		if h.LastPost.Scale != "" {
			h.Scale = h.LastPost.Scale
		}
	}
	if heparin != nil {
		h.Strength, h.StrengthAt = &heparin.Body.(*HeparinDrawn).Strength, heparin.At
	}
	if lock != nil {
		h.Lock = lock
	}
	if !treated {
		if cleaned != nil && opened.Place != "elsewhere" {
			h.Cleaned, h.CleanedAt = cleaned.Body.(*Disinfection), cleaned.At
		}
		return
	}
	h.Treated++
	if s.RemovalOnly() {
		h.RemovedAt = ended // potassium and urea stay: the gap goes on
		if ended.IsZero() {
			h.RemovedAt, _ = s.Began()
		}
	} else {
		h.LastEnd, h.RemovedAt = ended, time.Time{}
		h.lasted(s, plan)
	}
	if opened.Place != "elsewhere" {
		h.Opened = append(slices.Clone(h.Opened[max(0, len(h.Opened)+1-habitOver):]), lotNames(s))
		h.Cleaned, h.CleanedAt = nil, time.Time{}
		if cleaned != nil {
			h.Cleaned, h.CleanedAt = cleaned.Body.(*Disinfection), cleaned.At
		}
		h.fluid(s.Machine, fluid)
	}
	if plan != nil {
		// A slice of its own, so that a copied history can be added to apart.
		h.Goals = append(slices.Clone(h.Goals[max(0, len(h.Goals)+1-goalsKept):]), plan.SetGoal)
	}
}

// endedLast is when the last treatment ended, whether it dialysed or only removed fluid;
// its beginning where no end is written. Zero where there was none.
func (h *History) endedLast() (at time.Time) {
	for _, one := range []time.Time{h.LastBegan, h.LastEnd, h.RemovedAt} {
		if one.After(at) {
			at = one
		}
	}
	return at
}

// lasted notes when a treated session began, how long it ran and was to run: as
// prescribed, for a plan that was cut short is a session cut short; by the plan where
// the order has no length.
func (h *History) lasted(s *Session, plan *AgreedPlan) {
	h.LastBegan, _ = s.Began()
	h.LastRan, h.LastPlanned = 0, 0
	if h.LastEnd.Before(h.LastBegan) {
		return // not written, or a slip
	}
	if s.Rx != nil {
		h.LastPlanned, _, _ = s.Rx.SessionLength()
	}
	if plan != nil && h.LastPlanned <= 0 {
		h.LastPlanned = plan.Length
	}
	h.LastRan = TreatedMinutes(s, h.LastEnd)
}

// lotNames are the names of what was written with its lot in a session.
func lotNames(s *Session) []string {
	var names []string
	for _, lot := range Lots(s) {
		if lot.Lot != "" && !slices.Contains(names, lot.Item) {
			names = append(names, lot.Item)
		}
	}
	return names
}

func later(a, b unit.Date) unit.Date {
	if a.IsZero() || a.Before(b) {
		return b
	}
	return a
}

// SameScale reports whether two names mean one scale: a keyboard that begins
// with a capital letter makes no new scale.
func SameScale(a, b string) bool {
	return sameName(a, b)
}

func sameName(a, b string) bool { return strings.EqualFold(strings.TrimSpace(a), strings.TrimSpace(b)) }
