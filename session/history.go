package session

import (
	"time"

	"ebbline/unit"
)

// History is what earlier sessions and the rest of the record say that this
// session needs. Zero values mean that nothing is known.
type History struct {
	PaperCame bool      // the paper for a phoned prescription has come and agrees
	Hospital  unit.Date // last day of the latest hospital stay, or day it was told of
	Stomach   unit.Date // day diarrhoea, vomiting or not eating was last told of

	LastPost   *WeighOut // of the session just before this one; nil when it has none
	LastPostAt time.Time
	Scale      string         // used for the latest weighing
	Strength   *unit.Strength // heparin strength drawn up last time
	StrengthAt time.Time
	Cleaned    *Disinfection // the machine's programme after the session before
	CleanedAt  time.Time
	Treated    int           // sessions that were treated
	Goals      []unit.Volume // set goals, oldest first
}

// HistoryOf reads the history off earlier sessions of the same person, oldest
// first. What the record knows besides them (hospital stays, the paper of a
// phoned change) is for the caller to add.
func HistoryOf(earlier []*Session) History {
	var h History
	for _, s := range earlier {
		if s.Abandoned() {
			continue
		}
		h.LastPost, h.LastPostAt = nil, time.Time{}
		Each(s, func(b *Fitness, e *Event) {
			day := unit.DateOf(e.At)
			if b.Hospital {
				h.Hospital = later(h.Hospital, day)
			}
			if b.Stomach {
				h.Stomach = later(h.Stomach, day)
			}
		})
		if b, _ := Last[WeighIn](s); b != nil && b.Scale != "" {
			h.Scale = b.Scale
		}
		if b, e := Last[WeighOut](s); b != nil && e.Missing["weight_kg"] == "" {
			h.LastPost, h.LastPostAt = b, e.At
			if b.Scale != "" {
				h.Scale = b.Scale
			}
		}
		if b, e := Last[HeparinDrawn](s); b != nil {
			h.Strength, h.StrengthAt = &b.Strength, e.At
		}
		if s.Treated() {
			h.Treated++
			if home, _ := s.Opened(); home.Place != "elsewhere" {
				h.Cleaned, h.CleanedAt = nil, time.Time{}
				if b, e := Last[Disinfection](s); b != nil {
					h.Cleaned, h.CleanedAt = b, e.At
				}
			}
			if b, _ := Last[AgreedPlan](s); b != nil {
				h.Goals = append(h.Goals, b.SetGoal)
			}
		}
	}
	return h
}

func later(a, b unit.Date) unit.Date {
	if a.IsZero() || a.Before(b) {
		return b
	}
	return a
}
