package session

import "strings"

// What a person can say of a bag: a word, so that "not looked at" is another thing
// than "no".
const (
	Yes = "yes"
	No  = "no"
)

// bagSeen is what a bag and its label show beside potassium, calcium and expiry, on a
// machine with ready bags: the lot, the seal whole, the fluid clear. A bag that leaks or
// is cloudy is not used (common practice); a better answer later keeps both in sight.
func bagSeen(v *verdict, b *BathLabel, e *Event) {
	if b.Seal == No {
		v.stop(e, "bag_seal").stays(looked)
	}
	if b.Clear == No {
		v.stop(e, "bag_cloudy").stays(looked)
	}
	if b.Lot == "" {
		v.open(e, "bag_no_lot")
	}
	if b.Seal == "" || b.Clear == "" {
		v.open(e, "bag_not_seen")
	}
}

func sameLot(a, b string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(a), ""), strings.Join(strings.Fields(b), ""))
}

// notOfFluid reports whether a kind of entry is not looked for in a session because of
// where its fluid comes from: bags are not tested, and a batch may have been tested and
// its label read when it was made, or in the session before.
func notOfFluid(s *Session, kind string) bool {
	switch s.Machine.Fluid() {
	case FluidBags:
		return kind == "chlorine" || kind == "fluid_check"
	case FluidBatch:
		return has[BatchUsed](s) && (kind == "chlorine" || kind == "fluid_check" || kind == "bath_label")
	}
	return false
}
