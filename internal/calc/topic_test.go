package calc

import (
	"encoding/json"
	"errors"
	"fmt"
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
		b, err := a.JSON()
		if err != nil {
			t.Errorf("%s: %v", topic.Name, err)
			continue
		}
		if err := wellFormed(b); err != nil {
			t.Errorf("%s: %v in %s", topic.Name, err, b)
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

// wellFormed wants one object with a list of cautions and a list of sources.
func wellFormed(b []byte) error {
	var out struct {
		Cautions *[]struct{ Code, Text *string }
		Sources  *[]string
	}
	if err := json.Unmarshal(b, &out); err != nil {
		return err
	}
	if out.Cautions == nil || out.Sources == nil {
		return errors.New("no list of cautions or of sources")
	}
	for _, c := range *out.Cautions {
		if c.Code == nil || c.Text == nil || *c.Code == "" || *c.Text == "" {
			return errors.New("a caution without code or text")
		}
	}
	if _, err := parseObject(b); err != nil { // no key twice
		return err
	}
	return nil
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

// FuzzFluidTopics changes the examples of the fluid room's topics at will:
// every input is either answered in full or refused in words.
func FuzzFluidTopics(f *testing.F) {
	for i, name := range fluidTopics {
		f.Add(i, []byte(topicNamed(f, name).Example))
		for _, number := range []string{"0", "-1", "1e308", "5e-324", "1e-300", "300", "20", "0.1", "72.00000000000001"} {
			m := exampleOf(f, name)
			for key, value := range m {
				if _, ok := value.(float64); ok {
					m[key] = json.RawMessage(number)
				}
			}
			in, err := json.Marshal(m)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(i, in)
		}
	}
	f.Fuzz(func(t *testing.T, which int, in []byte) {
		name := fluidTopics[((which%len(fluidTopics))+len(fluidTopics))%len(fluidTopics)]
		if err := answeredOrRefused(name, in); err != nil {
			t.Fatalf("%s of %q: %v", name, in, err)
		}
	})
}

// answeredOrRefused says what is wrong with how a topic treats an input.
func answeredOrRefused(name string, in []byte) error {
	topic, ok := Find(name)
	if !ok {
		return errors.New("no such topic")
	}
	a, err := topic.Answer(strings.NewReader(string(in)))
	if err != nil {
		var p Problems
		if !errors.As(err, &p) || len(p) == 0 {
			return fmt.Errorf("%w is not a refusal in words", err)
		}
		for _, s := range p {
			if key, what, ok := strings.Cut(s, ": "); !ok || key == "" || what == "" || strings.ContainsAny(s, "\n\r") {
				return fmt.Errorf("the sentence %q", s)
			}
		}
		if a.Out != nil {
			return errors.New("half an answer beside the refusal")
		}
		return nil
	}
	b, err := a.JSON()
	if err != nil {
		return err
	}
	for _, s := range a.Steps {
		if strings.Contains(s.Value, "NaN") || strings.Contains(s.Value, "Inf") {
			return fmt.Errorf("step %+v", s)
		}
	}
	return wellFormed(b)
}
