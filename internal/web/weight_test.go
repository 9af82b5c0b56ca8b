package web

import (
	"fmt"
	"html"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// The invented household's next session begins at about 64.6 kg, dry weight 62.3
// kg: 142.4 lb, 10 st 2.4 lb.

// weights are the weights before and after of the open session, as kept.
func (h *house) weights(base string) (in []session.WeighIn, out []session.WeighOut) {
	h.t.Helper()
	h.desk.View(func(r *record.Household) {
		for _, e := range r.Session(base[strings.LastIndex(base, "/")+1:]).Log {
			switch b := e.Body.(type) {
			case *session.WeighIn:
				in = append(in, *b)
			case *session.WeighOut:
				out = append(out, *b)
			}
		}
	})
	return in, out
}

func (h *house) fresh() (base string) {
	return h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
}

var worn = []string{"clothing_kg", "0.2", "scale", "bathroom scale"}

func lb(typed string, more ...string) []string {
	return slices.Concat(worn, []string{"read_in", "lb", "weight_lb", typed}, more)
}

func st(stone, pounds string, more ...string) []string {
	return slices.Concat(worn, []string{"read_in", "st", "weight_st", stone, "weight_lb", pounds}, more)
}

// typedIn gives the fields of the form of an entry on a page, by name.
func typedIn(text string) map[string]string {
	start := strings.Index(text, `class="entry keys"`)
	text = text[start:]
	text = text[:strings.Index(text, "</form>")]
	fields := map[string]string{}
	for _, tag := range regexp.MustCompile(`<input [^>]*>`).FindAllString(text, -1) {
		name, value := inTag(tag, "name"), inTag(tag, "value")
		if !strings.Contains(tag, `type="radio"`) || strings.Contains(tag, "checked") {
			fields[name] = value
		}
	}
	return fields
}

func inTag(tag, name string) string {
	_, rest, _ := strings.Cut(tag, " "+name+`="`)
	value, _, _ := strings.Cut(rest, `"`)
	return html.UnescapeString(value)
}

// Pounds, and stone and pounds, are kept as kilograms after these were shown, the
// same by a page and by the script (H-01).
func TestKilogramsAreShownBeforeTheyAreKept(t *testing.T) {
	for _, tt := range []struct {
		typed         []string
		words, kg, in string
	}{
		{lb("142.4"), "142.4 lb", "64.592", "lb"},
		{lb("142,4"), "142.4 lb", "64.592", "lb"},
		{lb("142"), "142 lb", "64.41", "lb"},
		{st("10", "2.4"), "10 st 2.4 lb", "64.592", "st"},
		{st("10", "3"), "10 st 3 lb", "64.864", "st"},
	} {
		h := home(t, 2, false)
		base := h.fresh()
		form := formOf(append(tt.typed, "id", "weight-before-1")...)

		a := h.postJSON(base+"/weigh_in", form)
		if want := tt.words + " is " + tt.kg + " kg. Keep it?"; a.Saved || a.Findings.On("shown_kg") != want || a.Findings.Refused() {
			t.Errorf("%s by script: saved %v, %q, want %q", tt.words, a.Saved, a.Findings.Error(), want)
		}
		status, _, text := h.post(base+"/weigh_in", form)
		for _, words := range []string{"<p>" + tt.words + " is <b", tt.kg + "&nbsp;kg</b>", `<button class="main">Keep ` + tt.kg + " kg</button>"} {
			if status != http.StatusUnprocessableEntity || !strings.Contains(strings.ReplaceAll(text, "\u00a0", "&nbsp;"), words) {
				t.Errorf("%s: %d, the page does not say %q", tt.words, status, words)
			}
		}
		if in, _ := h.weights(base); len(in) > 0 {
			t.Fatalf("%s: %v kept before it was shown", tt.words, in)
		}

		// The page itself holds all that the second step needs.
		keep := url.Values{}
		for name, value := range typedIn(text) {
			keep.Set(name, value)
		}
		if got := keep.Get("shown_kg"); got != tt.kg {
			t.Errorf("%s: the page would keep %q", tt.words, got)
		}
		if status, _, text = h.post(base+"/weigh_in", keep); status != http.StatusSeeOther {
			t.Fatalf("%s is not kept: %d %s", tt.words, status, problems(text))
		}
		in, _ := h.weights(base)
		if len(in) != 1 || in[0].Weight.String() != tt.kg || in[0].ReadIn != tt.in || in[0].Clothing != 200 {
			t.Errorf("%s is kept as %+v", tt.words, in)
		}
		if a = h.postJSON(base+"/weigh_in", keep); !a.Saved {
			t.Errorf("%s sent twice: %v", tt.words, a.Findings)
		}
	}
}

// What was shown is what is kept: another number after that is shown again.
func TestOtherPoundsAreShownAgain(t *testing.T) {
	h := home(t, 2, false)
	base := h.fresh()
	h.refused(base+"/weigh_in", "Keep 64.682 kg", lb("142.6", "shown_kg", "64.592")...)
	h.refused(base+"/weigh_in", "Keep 64.592 kg", lb("142.4", "shown_kg", "142.4")...)
	h.refused(base+"/weigh_in", "Keep 64.592 kg", lb("142.4", "shown_kg", "")...)
	if in, _ := h.weights(base); len(in) > 0 {
		t.Errorf("kept %v", in)
	}
}

// What cannot be read is refused with its reason, and stands in its field as typed.
func TestPoundsAndStoneAreRefused(t *testing.T) {
	h := home(t, 2, false)
	base := h.fresh()
	for _, tt := range []struct {
		typed []string
		words string
	}{
		{lb(""), "is still blank"},
		{lb("-142.4"), "needs a number without a sign"},
		{lb("142.45"), "at most one decimal, as a scale shows pounds"},
		{lb("142.456"), "at most 2 decimals"},
		{lb("1,424.0"), "plain digits"},
		{lb("1e2"), "plain digits"},
		{lb("142 lb"), "plain digits"},
		{lb("9999999999999999999"), "at most 12 digits"},
		{lb("999999999999"), "needs 20 to 300 kg"},
		{lb("44"), "44 lb is 19.958 kg. 19.958 is not accepted: needs 20 to 300 kg"},
		{lb("661.4"), "661.4 lb is 300.006 kg"},
		{lb("0"), "needs 20 to 300 kg"},
		{st("10", "14"), "needs less than 14 lb, which are a stone"},
		{st("10", "142.4"), "needs less than 14 lb"},
		{st("10", "-2"), "needs a number without a sign"},
		{st("-10", "2"), "needs a number without a sign"},
		{st("10.2", "0"), "needs whole stone; type what is over in pounds"},
		{st("10", ""), "is still blank: type 0 where the scale shows none"},
		{st("", "2.4"), "is still blank"},
		{st("ten", "2.4"), "plain digits"},
		{st("3", "0"), "3 st 0 lb is 19.051 kg"},
		{lb("142.4", "weight_kg", "64.6"), "holds a weight too, but the scale is said to show pounds. Type it in one unit"},
		{lb("142.4", "weight_st", "10"), "holds a weight too, but the scale is said to show pounds"},
		{st("10", "2.4", "weight_kg", "64.6"), "the scale is said to show stone and pounds"},
		{append([]string{"read_in", "kg", "weight_kg", "64.6", "weight_lb", "142.4"}, worn...), "the scale is said to show kilograms"},
		{append([]string{"read_in", "kg", "weight_lb", "142.4"}, worn...), "the scale is said to show kilograms"},
		{append([]string{"read_in", "kg", "weight_kg", "64.6", "weight_st", "10"}, worn...), "the scale is said to show kilograms"},
	} {
		for _, shown := range []string{"", "64.592", "300.006"} {
			form := formOf(append(tt.typed, "shown_kg", shown)...)
			status, _, text := h.post(base+"/weigh_in", form)
			if text = html.UnescapeString(text); status != http.StatusUnprocessableEntity || !strings.Contains(text, tt.words) {
				t.Errorf("%v: %d, want it back with %q\n%s", tt.typed, status, tt.words, problems(text))
				continue
			}
			fields := typedIn(text)
			for key := range form {
				if key != "id" && key != "shown_kg" && fields[key] != form.Get(key) {
					t.Errorf("%v: %s comes back as %q", tt.typed, key, fields[key])
				}
			}
			if strings.Contains(mainOf(text), ">Keep ") && !strings.Contains(tt.words, "kg") {
				t.Errorf("%v: offered to be kept", tt.typed)
			}
			if a := h.postJSON(base+"/weigh_in", form); a.Saved || len(a.Findings) == 0 {
				t.Errorf("%v by script: %+v", tt.typed, a)
			}
		}
	}
	if in, _ := h.weights(base); len(in) > 0 {
		t.Errorf("kept %v", in)
	}
}

// What the record asks about a weight is asked beside its kilograms, and answered
// in the unit in which the scale was read.
func TestPoundsAreTypedAgainInPounds(t *testing.T) {
	h := home(t, 2, false)
	base := h.fresh()
	far := lb("149.8") // 67.948 kg, a gain that is not usual
	status, _, text := h.post(base+"/weigh_in", formOf(far...))
	for _, words := range []string{"149.8 lb is 67.948 kg. 67.948 kg is not what you usually gain", `name="again.weight_lb"`, `class="figure">67.948`} {
		if status != http.StatusUnprocessableEntity || !strings.Contains(text, words) {
			t.Errorf("%d: the page does not say %q\n%s", status, words, problems(text))
		}
	}
	if strings.Count(text, ">Keep 67.948 kg") != 1 {
		t.Error("a weight that is asked about is offered to be kept above the question")
	}
	far = append(far, "shown_kg", "67.948")
	h.refused(base+"/weigh_in", "149.8 lb is 67.948 kg. 67.948 kg is not", far...)
	h.refused(base+"/weigh_in", "was typed as 149.8 lb and then as 148.9 lb", append(far, "again.weight_lb", "148.9")...)
	h.refused(base+"/weigh_in", "was typed as 149.8 lb and then as so lb", append(far, "again.weight_lb", "so")...)
	h.refused(base+"/weigh_in", "67.948 kg is not", append(far, "again.weight_kg", "67.948")...)
	h.saved(base+"/weigh_in", append(far, "again.weight_lb", "149,80")...)

	h.later(time.Minute)
	far = st("10", "9.8", "shown_kg", "67.948")
	h.refused(base+"/weigh_in", `name="again.weight_st"`, far...)
	h.refused(base+"/weigh_in", `name="again.weight_lb"`, far...)
	h.refused(base+"/weigh_in", "was typed as 10 st 9.8 lb and then as 10 st 8.9 lb", append(far, "again.weight_st", "10", "again.weight_lb", "8.9")...)
	h.saved(base+"/weigh_in", append(far, "again.weight_st", "10", "again.weight_lb", "9.8")...)
	if in, _ := h.weights(base); len(in) != 2 || in[0].Weight != 67_948 || in[0].ReadIn != "lb" || in[1].Weight != 67_948 || in[1].ReadIn != "st" {
		t.Errorf("kept %+v", in)
	}
}

// A number that looks like pounds or stone is asked about or refused, and the way
// to their fields stands beside the question; what else was typed goes along.
func TestWayToPoundsStandsByTheQuestion(t *testing.T) {
	h := home(t, 2, false)
	base := h.fresh()
	way := regexp.MustCompile(`href="([^"]*)">Does it show ([a-z ]+)\?<`)
	ways := func(path string, pairs ...string) map[string]string {
		t.Helper()
		status, _, text := h.post(path, formOf(append(pairs, "scale", "bathroom scale")...))
		if status != http.StatusUnprocessableEntity {
			t.Fatalf("%v: %d", pairs, status)
		}
		found := map[string]string{}
		for _, m := range way.FindAllStringSubmatch(html.UnescapeString(text), -1) {
			found[m[2]] = m[1]
		}
		return found
	}
	for _, tt := range []struct{ typed, want string }{
		{"142.4", "pounds"}, {"160.9", ""}, {"10.2", "stone and pounds"}, {"10.3", "stone and pounds"}, {"67.9", ""}, {"6.46", ""}, {"64600", ""},
	} {
		found := ways(base+"/weigh_in", "weight_kg", tt.typed, "read_in", "kg", "clothing_kg", "0.4", "clock", "19:20")
		if _, there := found[tt.want]; tt.want == "" && len(found) > 0 || tt.want != "" && !there {
			t.Errorf("%s kg: ways %v, want %q", tt.typed, found, tt.want)
		}
	}
	for kg := 61.0; kg <= 66; kg += 0.5 {
		typed := fmt.Sprintf("%.1f", kg/unit.KgPerPound)
		if found := ways(base+"/weigh_in", "weight_kg", typed, "read_in", "kg", "clothing_kg", "0"); found["pounds"] == "" {
			t.Errorf("%s kg: no way to pounds", typed)
		}
	}
	to := ways(base+"/weigh_in", "weight_kg", "142.4", "read_in", "kg", "clothing_kg", "0.4", "clock", "19:20", "next", base+"/plan")["pounds"]
	_, text := h.get(to)
	fields := typedIn(text)
	want := map[string]string{"read_in": "lb", "weight_lb": "", "clothing_kg": "0.4", "scale": "bathroom scale", "clock": "19:20", "next": base + "/plan"}
	for key, value := range want {
		if got, there := fields[key]; !there || got != value {
			t.Errorf("the form for pounds holds %s %q, want %q", key, got, value)
		}
	}
	// And back: kilograms typed as pounds.
	found := ways(base+"/weigh_in", lb("64.6")...)
	if len(found) != 1 || !strings.Contains(found["kilograms"], "in=kg") {
		t.Errorf("64.6 lb: ways %v", found)
	}
	h.refused(base+"/weigh_in", "looks like kilograms typed as pounds; was it 64.6 kg", lb("64.6")...)
	// After the session too.
	h.saved(base+"/weigh_in", slices.Concat(worn, []string{"weight_kg", "64.6", "read_in", "kg"})...)
	if found := ways(base+"/weigh_out", "weight_kg", "137.3", "read_in", "kg", "clothing_kg", "0"); found["pounds"] == "" {
		t.Errorf("137.3 kg after the session: ways %v", found)
	}
}

// Pounds are chosen on the form of each weight: what was chosen once, before or
// after, chooses nothing for the next (H-01, no setting makes lb the default).
func TestPoundsAreNeverTheDefault(t *testing.T) {
	h := home(t, 2, false)
	base := h.fresh()
	kilograms := func(when string) {
		t.Helper()
		for _, kind := range []string{"weigh_in", "weigh_out"} {
			for _, path := range []string{base + "/" + kind, base + "/" + kind + "?in=kg", base + "/" + kind + "?in=pounds", base + "/" + kind + "?read_in=lb"} {
				status, text := h.get(path)
				fields := typedIn(text)
				_, kg := fields["weight_kg"]
				_, pounds := fields["weight_lb"]
				_, stone := fields["weight_st"]
				if status != http.StatusOK || !kg || pounds || stone || fields["read_in"] != "kg" {
					t.Errorf("%s, %s: %v", when, path, fields)
				}
				for _, to := range []string{"?in=lb", "?in=st"} {
					if !strings.Contains(text, `href="`+base+"/"+kind+to+`"`) {
						t.Errorf("%s, %s: no way to %s", when, path, to)
					}
				}
			}
		}
	}
	kilograms("at first")
	h.saved(base+"/weigh_in", lb("142.4", "shown_kg", "64.592")...)
	kilograms("after pounds")
	h.saved(base+"/weigh_out", st("9", "11", "shown_kg", "62.142", "again.weight_st", "9", "again.weight_lb", "11")...)
	kilograms("after stone")
	for _, kind := range []string{"weigh_in", "weigh_out"} {
		for in, want := range map[string][]string{"lb": {"weight_lb"}, "st": {"weight_st", "weight_lb"}} {
			_, text := h.get(base + "/" + kind + "?in=" + in)
			fields := typedIn(text)
			for _, key := range want {
				if value, there := fields[key]; !there || value != "" {
					t.Errorf("%s in %s: %s is %q", kind, in, key, value)
				}
			}
			if _, kg := fields["weight_kg"]; kg || fields["read_in"] != in || fields["clothing_kg"] != "" {
				t.Errorf("%s in %s: %v", kind, in, fields)
			}
			if !strings.Contains(text, "Show the kilograms</button>") || !strings.Contains(text, `class="number"`) {
				t.Errorf("%s in %s: no button that shows the kilograms, or no number pad", kind, in)
			}
		}
	}
}

// The weight after the session holds how it was read, and may still be missing for
// a reason, on the form for pounds too.
func TestWeightAfterInPounds(t *testing.T) {
	h := home(t, 2, false)
	base := h.fresh()
	h.saved(base+"/weigh_in", slices.Concat(worn, []string{"weight_kg", "64.6", "read_in", "kg"})...)
	h.refused(base+"/weigh_out", "Keep 63.82 kg", lb("140.7")...)
	h.saved(base+"/weigh_out", lb("140.7", "shown_kg", "63.82")...)
	h.refused(base+"/weigh_out", "is still blank", lb("")...)
	h.refused(base+"/weigh_out", "is still blank", st("", "")...)
	h.saved(base+"/weigh_out", lb("", "blank", "not_done")...)
	h.refused(base+"/weigh_out", "Keep 63.82 kg", lb("140.7", "blank", "not_done")...)
	h.saved(base+"/weigh_out", lb("140.7", "blank", "not_done", "shown_kg", "63.82")...)
	h.saved(base+"/weigh_out", slices.Concat(worn, []string{"weight_kg", "63.8"})...)
	_, out := h.weights(base)
	want := []session.WeighOut{
		{Weight: 63_820, Clothing: 200, Scale: "bathroom scale", ReadIn: "lb"},
		{Clothing: 200, Scale: "bathroom scale"},
		{Weight: 63_820, Clothing: 200, Scale: "bathroom scale", ReadIn: "lb"},
		{Weight: 63_800, Clothing: 200, Scale: "bathroom scale"},
	}
	if !slices.Equal(out, want) {
		t.Errorf("kept %+v\nwant %+v", out, want)
	}
}

// A correction of a weight that was read in pounds is typed in kilograms.
func TestPoundsAreCorrectedInKilograms(t *testing.T) {
	h := home(t, 2, false)
	base := h.fresh()
	h.saved(base+"/weigh_in", lb("142.4", "shown_kg", "64.592")...)
	at := base + "/entry/" + h.latest(base, "weigh_in")
	_, text := h.get(at)
	fields := typedIn(text)
	_, pounds := fields["weight_lb"]
	if fields["weight_kg"] != "64.592" || pounds || fields["read_in"] != "lb" {
		t.Errorf("the form of the correction holds %v", fields)
	}
	h.saved(at, "weight_kg", "64.7", "clothing_kg", "0.2", "scale", "bathroom scale", "read_in", "lb", "reason", "read again")
	if in, _ := h.weights(base); len(in) != 1 || in[0].Weight != 64_700 {
		t.Errorf("corrected to %+v", in)
	}
}
