package calc

import (
	"errors"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"ebbline/unit"
)

func TestTopicsAreListedByName(t *testing.T) {
	list := Topics()
	if len(list) == 0 {
		t.Fatal("no topics")
	}
	if !slices.IsSortedFunc(list, func(a, b Topic) int { return strings.Compare(a.Name, b.Name) }) {
		t.Error("not in order")
	}
	for _, topic := range list {
		if found, ok := Find(topic.Name); !ok || found.Name != topic.Name {
			t.Errorf("%s is listed and not found", topic.Name)
		}
		if topic.Summary == "" || strings.Contains(topic.Summary, "\n") {
			t.Errorf("%s has no summary of one line", topic.Name)
		}
	}
	if _, ok := Find("Fluid"); ok {
		t.Error("a topic is found in capitals")
	}
}

// Every topic's example works, is explained, and names a source.
func TestExamplesWork(t *testing.T) {
	for _, topic := range Topics() {
		a, err := topic.Answer(strings.NewReader(topic.Example))
		if err != nil {
			t.Errorf("%s: %v", topic.Name, err)
			continue
		}
		if complaint := whole(topic, []byte(topic.Example)); complaint != "" {
			t.Errorf("%s gives %s", topic.Name, complaint)
		}
		if b, err := a.JSON(); err != nil {
			t.Errorf("%s: %v", topic.Name, err)
		} else if _, err := parseObject(b); err != nil {
			t.Errorf("%s: %v in %s", topic.Name, err, b) // a key twice
		}
		for _, c := range a.Cautions {
			if c.Code == "" || c.Text == "" {
				t.Errorf("%s: a caution without code or text: %+v", topic.Name, c)
			}
		}
		if len(a.Steps) == 0 || len(a.Sources) == 0 {
			t.Errorf("%s: %d steps, %d sources", topic.Name, len(a.Steps), len(a.Sources))
		}
		for _, s := range a.Steps {
			if s.Term == "" || s.Value+s.Formula == "" || strings.ContainsAny(s.Term+s.Value+s.Formula+s.Source, "\n\r") ||
				strings.Contains(s.Value, "NaN") || strings.Contains(s.Value, "Inf") {
				t.Errorf("%s: step %+v", topic.Name, s)
			}
		}
	}
}

// What no topic takes, whatever it computes.
func TestTopicsRefuse(t *testing.T) {
	for _, topic := range Topics() {
		for _, in := range []string{"", "{}", "null", "[]", "1", `{"cautions":[]}`, topic.Example + topic.Example,
			strings.Replace(topic.Example, "{", `{"no_such_key":1,`, 1)} {
			_, err := topic.Answer(strings.NewReader(in))
			var p Problems
			if !errors.As(err, &p) || len(p) == 0 {
				t.Errorf("%s of %.60q: %v, want sentences", topic.Name, in, err)
			}
		}
	}
}

func TestAnswerBoundsTheInput(t *testing.T) {
	topic := topicNamed(t, "fluid")
	_, err := topic.Answer(io.MultiReader(strings.NewReader(topic.Example), strings.NewReader(strings.Repeat(" ", maxInput))))
	if p := (Problems)(nil); !errors.As(err, &p) || !strings.Contains(p[0], "too long") {
		t.Errorf("five MiB: %v", err)
	}
	broken := errors.New("the pipe broke")
	_, err = topic.Answer(io.MultiReader(strings.NewReader(`{`), failing{broken}))
	if !errors.Is(err, broken) || errors.As(err, new(Problems)) {
		t.Errorf("a failed read: %v, want it as it is", err)
	}
}

type failing struct{ err error }

func (f failing) Read([]byte) (int, error) { return 0, f.err }

func TestAnswerJSON(t *testing.T) {
	for _, tt := range []struct {
		answer Answer
		want   string
	}{
		{Answer{Out: struct{}{}}, `{"cautions":[],"sources":[]}`},
		{Answer{Out: struct {
			A float64 `json:"a_kg"`
		}{1.5}, Sources: []string{"x"}}, `{"a_kg":1.5,"cautions":[],"sources":["x"]}`},
		{Answer{Out: struct {
			A *float64 `json:"a"`
		}{}, Cautions: []unit.Caution{{Code: "c", Text: "}"}}}, `{"a":null,"cautions":[{"code":"c","text":"}"}],"sources":[]}`},
	} {
		if got, err := tt.answer.JSON(); err != nil || string(got) != tt.want {
			t.Errorf("%s, %v; want %s", got, err, tt.want)
		}
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if got, err := (Answer{Out: map[string]float64{"a": v}}).JSON(); err == nil || got != nil {
			t.Errorf("%v was written as %s", v, got)
		}
	}
}
