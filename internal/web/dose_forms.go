package web

import (
	"net/http"
	"strings"

	"ebbline/record"
	"ebbline/unit"
)

// doseSlips are the small forms of the dose by their address.
func (s *server) doseSlips() map[string]slip {
	return map[string]slip{
		"/p/{p}/dose/call/{b}/{analyte}": {kind: "blood_call", title: "I rang about it", here: "dose", make: callForm, sets: ofSample},
		"/p/{p}/dose/range/{analyte}":    {kind: "blood_range", title: "Range set by the unit", here: "dose", make: rangeForm, sets: ofAnalyte},
		"/p/{p}/dose/target":             {kind: "dose_target", title: "Dose wanted by the unit", here: "dose", make: targetForm},
		"/p/{p}/dose/body":               {kind: "body", title: "Body", here: "dose", make: bodyForm},
		"/p/{p}/dose/residual":           {kind: "residual", title: "Collection of urine", here: "dose", make: residualForm},
		"/p/{p}/dose/strike/{b}":         {kind: "struck", title: "Strike out a sample", here: "dose", make: strikeSampleForm, sets: strikesSample},
	}
}

func doseOf(v visit) string { return "/p/" + v.member.ID + "/dose" }

func callForm(v visit, f form, b *slipBody) (form, error) {
	sample := v.member.Blood(v.PathValue("b"))
	if sample == nil || sample.Value.Find(v.PathValue("analyte")) == nil {
		return f, notFound{"no such result"}
	}
	for _, c := range v.member.CriticalOpen() {
		if c.Blood == sample && c.Result.Analyte == v.PathValue("analyte") {
			b.Asks = append(b.Asks, c.Words()+" "+c.Whose())
		}
	}
	b.Notes = append(b.Notes, "Ring first, then write it down. Ebbline rings nobody and is not the laboratory’s alarm.")
	f = f.only("rang", "said")
	f.Hidden = map[string]string{"bloods_id": sample.ID, "analyte": v.PathValue("analyte")}
	f.Next, f.Back, f.Submit = doseOf(v), doseOf(v), "Write it down"
	return f, nil
}

func ofSample(r *http.Request) {
	r.PostForm.Set("bloods_id", r.PathValue("b"))
	r.PostForm.Set("analyte", r.PathValue("analyte"))
}

func ofAnalyte(r *http.Request) { r.PostForm.Set("analyte", r.PathValue("analyte")) }

func rangeForm(v visit, f form, b *slipBody) (form, error) {
	a, ok := unit.FindAnalyte(v.PathValue("analyte"))
	if !ok {
		return f, notFound{"no such analyte"}
	}
	b.Lead = a.Name + ", before a session."
	limits := v.member.LimitsAt(a.Code, v.now)
	if w := limits.Words(record.BloodResult{Analyte: a.Code, Unit: a.Units[0].Symbol}); w != "" {
		whose := "set by your unit"
		if limits.Low != nil && limits.Low.Own() || limits.Low == nil && limits.High.Own() {
			whose = "the program’s own, not set by your unit"
		}
		b.Notes = append(b.Notes, "In force now: "+w+", "+whose+".")
	}
	if a.Note != "" {
		b.Notes = append(b.Notes, strings.ToUpper(a.Note[:1])+a.Note[1:]+".")
	}
	f = f.only("unit", "low", "high", "critical_low", "critical_high", "set_by", "set_on")
	for i := range f.Inputs {
		in := &f.Inputs[i]
		in.Doc = map[string]string{
			"low": "Leave blank what your unit did not set.", "critical_low": "From where your unit wants to be rung at once.", "set_on": "The day your unit set it.",
		}[in.Key]
		if in.Key == "unit" {
			for _, s := range a.Symbols() {
				in.Choices = append(in.Choices, record.Choice{Value: s, Label: labSymbol(a, s)})
			}
		}
	}
	f.Hidden = map[string]string{"analyte": a.Code}
	f.Next, f.Back, f.Submit = doseOf(v)+"/analyte/"+a.Code, doseOf(v)+"/analyte/"+a.Code, "Keep this range"
	return f, nil
}

// labSymbol names a unit as a form offers it; of the three for urea each says
// what it counts.
func labSymbol(a unit.Analyte, symbol string) string {
	if a.Code != "urea" {
		return symbol
	}
	return map[string]string{unit.UreaMmolPerL: "mmol/L urea", unit.BUNMgPerDL: "mg/dL urea nitrogen (BUN)", unit.UreaMgPerDL: "mg/dL urea"}[symbol]
}

func targetForm(v visit, f form, b *slipBody) (form, error) {
	b.Lead = "The least dose your unit wants. Without it the page shows the guideline’s figure for your schedule and says that your unit did not set it."
	f.Next, f.Back, f.Submit = doseOf(v), doseOf(v), "Keep it"
	return f.hint(map[string]string{"set_on": "The day your unit set it."}), nil
}

func bodyForm(v visit, f form, b *slipBody) (form, error) {
	b.Lead = "For the equations of body water, with the birth year and the dry weight. They stand in until the bloods themselves say how large the volume is."
	f.Next, f.Back = doseOf(v), doseOf(v)
	return f, nil
}

func residualForm(v visit, f form, b *slipBody) (form, error) {
	b.Lead = "All urine from a noted moment to a noted moment between two sessions. What the kidneys clear is counted for 90 days, then it is measured again or taken as none."
	b.Notes = append(b.Notes, "Write it down when the collection has ended, or give the length and the volume your unit noted: it counts from today.")
	f.Next, f.Back = doseOf(v), doseOf(v)
	return f.hint(map[string]string{"collection_min": "24 h are 1440 minutes."}), nil
}

// strikeSampleForm takes a sample out of the count.
func strikeSampleForm(v visit, f form, b *slipBody) (form, error) {
	sample := v.member.Blood(v.PathValue("b"))
	if sample == nil || !sample.Counts() {
		return f, notFound{"no such sample; perhaps it was struck out or corrected since"}
	}
	kind, _ := record.Find("bloods")
	b.Rows = valuesOf(kind, &sample.Value, nil)
	b.Notes = append(b.Notes, "It stays in sight, struck through, with your reason, and counts no more.")
	f = f.only("reason")
	f.Next, f.Back, f.Submit = doseOf(v)+"/bloods", doseOf(v)+"/bloods/"+sample.ID, "Strike it out"
	return f, nil
}

func strikesSample(r *http.Request) { r.PostForm.Set("entry_id", r.PathValue("b")) }
