package access

import (
	"fmt"
	"strings"

	"ebbline/unit"
)

// A Tract is a buttonhole being made or in use.
type Tract struct {
	Site     string   `json:"site"`
	Sessions int      `json:"sessions"` // it has been used
	Hands    []string `json:"hands"`    // who needled it while it was made
	Blunt    bool     `json:"blunt"`    // blunt needles are used now
}

// The sessions that making a tract takes with sharp needles. Source: common
// practice, 6 to 12; the same person at the same angle.
const (
	tractFrom = 6
	tractTo   = 12
)

// Remarks says what is out of the ordinary about a tract: blunt needles before
// six sessions, sharp ones after twelve, or more than one pair of hands while
// it is made.
func (t Tract) Remarks() []unit.Caution {
	var list []unit.Caution
	add := func(code, format string, args ...any) {
		list = append(list, unit.Caution{Code: code, Text: fmt.Sprintf(format, args...)})
	}
	switch {
	case t.Blunt && t.Sessions < tractFrom:
		add("blunt_early", "Buttonhole %s has been used %d times; blunt needles commonly come after %d to %d: ask the unit.", t.Site, t.Sessions, tractFrom, tractTo)
	case !t.Blunt && t.Sessions > tractTo:
		add("sharp_late", "Buttonhole %s is still needled sharp after %d sessions: ask the unit.", t.Site, t.Sessions)
	}
	hands := map[string]bool{}
	for _, h := range t.Hands {
		if h = fold(h); h != "" {
			hands[h] = true
		}
	}
	if t.Sessions < tractTo && !t.Blunt && len(hands) > 1 {
		add("many_hands", "Buttonhole %s was needled by %d people while it is made: one pair of hands makes one tract.", t.Site, len(hands))
	}
	return list
}

func fold(s string) string { return strings.ToLower(strings.TrimSpace(s)) }
