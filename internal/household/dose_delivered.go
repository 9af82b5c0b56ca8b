package household

import (
	"fmt"

	"ebbline/kinetics"
	"ebbline/session"
	"ebbline/unit"
)

// Delivered sets the clearance a session delivered, by its ureas, beside what
// the dialyser should give at its flows.
type Delivered struct {
	MlMin    float64 // delivered: spKt/V·V/t
	Expected float64
	Share    float64
	VolumeL  float64
	Volume   string // whose volume that is
	Low      bool
	Cautions []unit.Caution
	LookAt   []string // what the record says that may be behind it, in the order to look
}

// lowShare is from which share of the expected clearance it is said what to
// look at; below 0.85 the room adds its own caution. Rule of thumb, from
// memory.
const lowShare = 0.90

// delivered works out the share of each session. The volume is that of the
// other months: one found from the very samples would make the share by
// itself. Without other months it is the body water by height and weight.
func delivered(k *Kinetic, list []SampledDose) {
	if k.Clearance != FromKoA {
		return // the clearance itself came from the bloods
	}
	for i := range list {
		s := &list[i]
		sp := s.Figure("spktv")
		d := s.Pair.Done
		if !sp.Has || d.Clearance <= 0 {
			continue
		}
		volume, whose := k.otherVolume(i)
		if volume == 0 {
			continue
		}
		ml, err := kinetics.ClearanceFor(sp.Value, d.LengthMin, volume)
		if err != nil {
			continue
		}
		share, err := kinetics.ShareDelivered(ml, d.Clearance)
		if err != nil {
			continue
		}
		s.Delivered = &Delivered{MlMin: ml, Expected: d.Clearance, Share: share.Value, VolumeL: volume, Volume: whose, Low: share.Value < lowShare, Cautions: share.Cautions}
		s.Delivered.Cautions = append(s.Delivered.Cautions, convectionCaution(d.session.Rx, k.Clearance)...)
		if s.Delivered.Low {
			s.Delivered.LookAt = lookAt(s)
		}
	}
}

// otherVolume is the middle of what the other months say alone; with fewer than
// three of them, nine tenths of the body water by Watson.
func (k *Kinetic) otherVolume(not int) (float64, string) {
	var v []float64
	for i, p := range k.Pairs {
		if i != not && p.Fits() && p.Judged.Alone.VolumeL > 0 {
			v = append(v, p.Judged.Alone.VolumeL)
		}
	}
	if len(v) >= 3 {
		return middleOf(v), fmt.Sprintf("middle of %d other months", len(v))
	}
	if k.WatsonL > 0 {
		return 0.9 * k.WatsonL, "nine tenths of the body water by Watson, since there are fewer than three other months"
	}
	return 0, ""
}

// lookAt lists what to look at when less was delivered than expected, with what
// the record says of each.
func lookAt(s *SampledDose) []string {
	d := s.Pair.Done
	rx := d.session.Rx
	var list []string
	if length, ok := orderedLength(d.session); ok && d.LengthMin < length-5 {
		list = append(list, fmt.Sprintf("Real time: %.0f of the ordered %.0f minutes were treated.", d.LengthMin, length))
	} else {
		list = append(list, "Real time: the treated time agrees with the ordered one by what is written; were there pauses that nobody wrote?")
	}
	switch {
	case d.FlowAssumed:
		list = append(list, "Blood flow: hardly written down in this session, so the ordered one was taken.")
	case rx != nil && d.BloodFlow < 0.95*rx.BloodFlow.Float():
		list = append(list, fmt.Sprintf("Blood flow: %.0f mL/min on average, ordered were %s.", d.BloodFlow, rx.BloodFlow))
	default:
		list = append(list, "Blood flow: as ordered on the display. A strongly negative arterial pressure makes the real flow less than the pump shows (common practice).")
	}
	list = append(list, "Recirculation and needles: were the lines swapped, the needles closer than usual or in new places? A narrowing shows in the pressures at like flow.")
	if c, _ := session.Last[session.Circuit](d.session); c != nil && c.Grade >= 1 {
		list = append(list, fmt.Sprintf("Clotting: the dialyser was graded %d of 3 in this session.", c.Grade))
	} else {
		list = append(list, "Clotting: nothing is written of this session’s dialyser but clear, or nothing at all.")
	}
	list = append(list, "Sampling: "+s.Pair.methodWords()+".")
	return list
}

func (p SampledPair) methodWords() string {
	switch p.Post.Value.Method {
	case "slow_flow":
		return "the sample after was drawn with the pump slowed, as it should be each time"
	case "stop_flow":
		return "the sample after was drawn with the pump stopped"
	case "stop_dialysate":
		return "the sample after was drawn with the dialysate stopped"
	}
	return "how the sample after was drawn is not written down"
}
