package calc

import (
	"bytes"
	"encoding/json"
	"errors"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// whole checks that an input is either refused with sentences or answered with
// one JSON object that has cautions and sources. It gives a complaint or "".
func whole(topic Topic, in []byte) string {
	a, err := topic.Answer(bytes.NewReader(in))
	if err != nil {
		var p Problems
		if !errors.As(err, &p) || len(p) == 0 {
			return "an error that is not the input's problem: " + err.Error()
		}
		for _, s := range p {
			if strings.TrimSpace(s) == "" || strings.ContainsAny(s, "\n\r") {
				return "a problem that is not one line: " + s
			}
		}
		return ""
	}
	out, err := a.JSON()
	if err != nil {
		return "an answer that cannot be written: " + err.Error()
	}
	var back struct {
		Cautions []struct{ Code, Text string }
		Sources  []string
	}
	if err := json.Unmarshal(out, &back); err != nil {
		return "an answer that is not JSON: " + err.Error()
	}
	if back.Cautions == nil || back.Sources == nil {
		return "an answer without the lists of cautions and sources"
	}
	return ""
}

// FuzzTopics gives every topic anything at all.
//
//fuzz:runs 30000
func FuzzTopics(f *testing.F) {
	all := Topics()
	for i, topic := range all {
		f.Add(uint8(i), []byte(topic.Example))
	}
	f.Fuzz(func(t *testing.T, i uint8, in []byte) {
		topic := all[int(i)%len(all)]
		if complaint := whole(topic, in); complaint != "" {
			t.Errorf("%s gives %s, to\n%s", topic.Name, complaint, in)
		}
	})
}

// TestTopicsTakeAnyNumber puts odd numbers into the places of the example's
// numbers: no topic may panic or give a NaN or an infinity.
func TestTopicsTakeAnyNumber(t *testing.T) {
	if len(Topics()) == 0 {
		t.Fatal("no topics")
	}
	for _, topic := range Topics() {
		t.Run(topic.Name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				var example any
				if err := json.Unmarshal([]byte(topic.Example), &example); err != nil {
					t.Fatal(err)
				}
				in, err := json.Marshal(disturb(t, example))
				if err != nil {
					t.Fatal(err)
				}
				if complaint := whole(topic, in); complaint != "" {
					t.Fatalf("%s, to\n%s", complaint, in)
				}
			})
		})
	}
}

// disturb replaces some of the numbers in v.
func disturb(t *rapid.T, v any) any {
	switch v := v.(type) {
	case map[string]any:
		for _, k := range slices.Sorted(maps.Keys(v)) {
			v[k] = disturb(t, v[k])
		}
		return v
	case []any:
		for i := range v {
			v[i] = disturb(t, v[i])
		}
		return v
	case float64:
		switch rapid.IntRange(0, 7).Draw(t, "way") {
		case 0:
			return v * rapid.Float64Range(0.5, 2).Draw(t, "factor")
		case 1:
			return rapid.Float64Range(-10, 1e4).Draw(t, "number")
		case 2:
			return rapid.SampledFrom([]float64{0, math.Copysign(0, -1), 5e-324, 1e-300, 1e-17, 1e-9, -1, 0.5, 1,
				1 - 1e-16, 1e9, 1e17, 1e300, math.MaxFloat64}).Draw(t, "odd number")
		}
		return v
	}
	return v
}
