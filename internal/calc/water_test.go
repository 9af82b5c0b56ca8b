package calc

import (
	"encoding/json"
	"strings"
	"testing"
)

func TestWater(t *testing.T) {
	for _, tt := range []struct {
		name, in, want string
	}{
		{"boundaries of the three bands",
			`{"use":"standard","results":[
			  {"what":"viable_count","value":49,"unit":"CFU/mL"},{"what":"viable_count","value":50,"unit":"CFU/mL"},
			  {"what":"viable_count","value":99,"unit":"CFU/mL"},{"what":"viable_count","value":100,"unit":"CFU/mL"}]}`,
			`within action action over`},
		{"endotoxin in both units",
			`{"use":"standard","results":[
			  {"what":"endotoxin","value":0.124,"unit":"EU/mL"},{"what":"endotoxin","value":0.125,"unit":"IU/mL"},
			  {"what":"endotoxin","value":0.249,"unit":"EU/mL"},{"what":"endotoxin","value":0.25,"unit":"EU/mL"}]}`,
			`within action action over`},
		{"chemistry may stand on its limit",
			`{"use":"ultrapure","results":[
			  {"what":"total_chlorine","value":0.10,"unit":"ppm"},{"what":"total_chlorine","value":0.11,"unit":"mg/L"},
			  {"what":"mercury","value":0.2,"unit":"ppb"},{"what":"lead","value":5,"unit":"ug/L"}]}`,
			`within over within within`},
		{"censored",
			`{"use":"ultrapure","results":[
			  {"what":"viable_count","op":"<","value":1,"unit":"CFU/mL"},{"what":"endotoxin","op":"<","value":0.03,"unit":"EU/mL"},
			  {"what":"lead","op":">","value":0.005,"unit":"mg/L"},{"what":"lead","op":">","value":0.004,"unit":"mg/L"}]}`,
			`cannot_tell within over cannot_tell`},
		{"another edition",
			`{"use":"standard","edition":"proposal after ISO 23500-3:2019","results":[{"what":"sodium","value":60,"unit":"mg/L"}]}`,
			`over`},
		{"nitrate by its basis",
			`{"use":"standard","results":[{"what":"nitrate","value":5,"unit":"mg/L","basis":"N"},{"what":"nitrate","value":5,"unit":"mg/L","basis":"NO3"}]}`,
			`over within`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var out struct {
				Judged []struct{ What, Verdict, Unit, Edition string }
			}
			roomAnswer(t, "water", tt.in, &out)
			var got []string
			for _, j := range out.Judged {
				got = append(got, j.Verdict)
				if j.Edition == "" || j.Unit == "" {
					t.Errorf("%+v names neither edition nor unit", j)
				}
			}
			if s := strings.Join(got, " "); s != tt.want {
				t.Errorf("verdicts %s, want %s", s, tt.want)
			}
		})
	}
}

func TestWaterRefuses(t *testing.T) {
	for name, in := range map[string]string{
		"no basis":        `{"use":"standard","results":[{"what":"nitrate","value":5,"unit":"mg/L"}]}`,
		"wrong basis":     `{"use":"standard","results":[{"what":"lead","value":5,"unit":"ug/L","basis":"N"}]}`,
		"unit":            `{"use":"standard","results":[{"what":"lead","value":5,"unit":"mmol/L"}]}`,
		"unit of another": `{"use":"standard","results":[{"what":"lead","value":5,"unit":"CFU/mL"}]}`,
		"no unit":         `{"use":"standard","results":[{"what":"lead","value":5}]}`,
		"substance":       `{"use":"standard","results":[{"what":"Lead","value":5,"unit":"ug/L"}]}`,
		"use":             `{"use":"home","results":[]}`,
		"op":              `{"use":"standard","results":[{"what":"lead","op":"<=","value":5,"unit":"ug/L"}]}`,
		"text":            `{"use":"standard","results":[{"what":"lead","value":"<5","unit":"ug/L"}]}`,
		"negative":        `{"use":"standard","results":[{"what":"lead","value":-5,"unit":"ug/L"}]}`,
		"below nothing":   `{"use":"standard","results":[{"what":"lead","op":"<","value":0,"unit":"ug/L"}]}`,
		"edition":         `{"use":"standard","edition":"ISO 1","results":[]}`,
		"not in edition":  `{"use":"standard","edition":"ISO 23500-5:2019","results":[{"what":"lead","value":5,"unit":"ug/L"}]}`,
		"unknown key":     `{"use":"standard","results":[{"what":"lead","value":5,"unit":"ug/L","lab":"x"}]}`,
		"no results":      `{"use":"standard"}`,
	} {
		topic, _ := Find("water")
		a, err := topic.Answer(strings.NewReader(in))
		if _, ok := err.(Problems); !ok {
			t.Errorf("%s: %+v, %v; want it refused", name, a.Out, err)
		}
	}
}

// roomAnswer runs a topic and reads its JSON, as a caller of the command would.
func roomAnswer(t *testing.T, name, in string, out any) {
	t.Helper()
	topic, ok := Find(name)
	if !ok {
		t.Fatalf("no topic %s", name)
	}
	a, err := topic.Answer(strings.NewReader(in))
	if err != nil {
		t.Fatal(err)
	}
	b, err := a.JSON()
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, out); err != nil {
		t.Fatalf("%v in %s", err, b)
	}
}
