package access

import (
	"fmt"

	"ebbline/unit"
)

// Recirculation gives the share of dialysed blood that goes round again, by
// the two-needle slow-flow method:
//
//	R = (S − A) / (S − V)
//
// with urea in any one unit: S systemic (slow flow), A arterial line, V venous
// line at full flow. It needs S ≥ A ≥ V ≥ 0 and S > V. Up to 0.10 is commonly
// called normal, above 0.20 a reason to have the access seen to (teaching site
// and hospital protocol, read). Source: formula read in the Royal Children's
// Hospital protocol 1215.
func Recirculation(systemic, arterial, venous float64) (float64, error) {
	if !(systemic > venous && systemic >= arterial && arterial >= venous && venous >= 0 && systemic < 1e6) {
		return 0, unit.Refuse("systemic", fmt.Sprintf("%v, %v, %v", systemic, arterial, venous), "systemic at least arterial, arterial at least venous, none below 0")
	}
	return (systemic - arterial) / (systemic - venous), nil
}

// FlowByReversal gives the access flow in mL/min from the recirculation with
// the lines reversed:
//
//	Qa = Qb·(1/R − 1)
//
// It needs a blood flow above 0 and R between 0 and 1, neither included.
// Source: Krivitski, Kidney Int 1995 (from memory).
func FlowByReversal(bloodFlow unit.Flow, recirculation float64) (float64, error) {
	if bloodFlow <= 0 || bloodFlow > 1000 || !(recirculation > 0 && recirculation < 1) {
		return 0, unit.Refuse("recirculation", recirculation, "a share between 0 and 1, with a blood flow above 0")
	}
	return bloodFlow.Float() * (1/recirculation - 1), nil
}

// FlowByDialysateUrea gives the access flow (of blood water) in mL/min from
// the dialysate's urea with the lines as usual (n) and reversed (r):
//
//	Qa = K·Cr / (Cn − Cr)
//
// with the clearance K in mL/min. It needs K > 0 and 0 < Cr < Cn. Source:
// dialysate urea with line reversal, relation read in an abstract; agreement
// with dilution +3.5 to +5.3 % ± 15 %.
func FlowByDialysateUrea(clearance, usual, reversed float64) (float64, error) {
	if !(clearance > 0 && clearance <= 1000 && reversed > 0 && usual > reversed && usual < 1e6) {
		return 0, unit.Refuse("reversed", fmt.Sprintf("%v of %v at %v", reversed, usual, clearance), "a dialysate urea above 0 and below that with the lines as usual, and a clearance above 0")
	}
	return clearance * reversed / (usual - reversed), nil
}

// FlowByDialysance gives the access flow (of blood water) in mL/min from ionic
// dialysance with the lines as usual and reversed:
//
//	Qa = Dn·Dr / (Dn − Dr)
//
// It needs 0 < Dr < Dn ≤ 1000. Source: derived from the mass balance of
// [FlowByDialysateUrea].
func FlowByDialysance(usual, reversed float64) (float64, error) {
	if !(reversed > 0 && usual > reversed && usual <= 1000) {
		return 0, unit.Refuse("reversed", fmt.Sprintf("%v of %v", reversed, usual), "a dialysance above 0 and below that with the lines as usual")
	}
	return usual * reversed / (usual - reversed), nil
}

// FlowConcern remarks on an access flow, in mL/min, that units commonly look
// into: a fistula under 500, a graft under 600, or a fall of a quarter or more
// from an earlier flow (0: none known). KDOQI 2019 asks that no access be
// opened on numbers alone. Source: KDOQI 2006 and 2019 (from memory).
func FlowConcern(k Kind, flow, earlier float64) []unit.Caution {
	least := map[Kind]float64{Fistula: 500, Graft: 600}[k]
	var list []unit.Caution
	if flow < least {
		list = append(list, unit.Caution{Code: "access_flow_low",
			Text: fmt.Sprintf("An access flow of %.0f mL/min is under %.0f in a %s: show this to your unit (KDOQI 2006, from memory).", flow, least, k)})
	}
	if earlier > 0 && flow <= 0.75*earlier {
		list = append(list, unit.Caution{Code: "access_flow_fell",
			Text: fmt.Sprintf("The access flow fell from %.0f to %.0f mL/min, by a quarter or more: show this to your unit (KDOQI 2006, from memory).", earlier, flow)})
	}
	return list
}
