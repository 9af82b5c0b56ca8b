package web

import (
	"fmt"
	"strings"
	"testing"

	"ebbline/record"
	"ebbline/session"
)

// Names of our tables are shown as words, what a person typed as it was typed.
func TestNamesOfTablesAreWords(t *testing.T) {
	for _, tt := range []struct {
		kind string
		body any
		want string
	}{
		{"step", &session.StepDone{Phase: "set_up", Step: "hands_clean", State: "done"}, "hands clean"},
		{"water_sample", &record.WaterSample{Sample: "s1", State: "planned", Point: "product", For: []string{"viable_count", "endotoxin"}}, "viable count"},
		{"note", &session.Note{Words: "file a_b is mine"}, "file a_b is mine"},
	} {
		kind, ok := record.Find(tt.kind)
		if !ok {
			t.Fatalf("no kind %s", tt.kind)
		}
		all := fmt.Sprint(valuesOf(kind, tt.body, nil))
		if !strings.Contains(all, tt.want) {
			t.Errorf("%s: %s does not say %q", tt.kind, all, tt.want)
		}
	}
}
