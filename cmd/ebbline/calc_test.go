package main

import (
	"encoding/json"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"ebbline/internal/calc"
)

// TestEveryExampleRuns: each topic prints an input that it accepts itself, the
// same answer twice, and an explanation of it.
func TestEveryExampleRuns(t *testing.T) {
	if len(calc.Topics()) < 14 {
		t.Fatalf("only %d topics are registered", len(calc.Topics()))
	}
	for _, topic := range calc.Topics() {
		t.Run(topic.Name, func(t *testing.T) {
			_, example, _ := ran(t, "", "calc", topic.Name, "--example")
			code, out, complaint := ran(t, example, "calc", topic.Name)
			if code != exitDone || complaint != "" {
				t.Fatalf("its own example gives exit %d: %s", code, complaint)
			}
			if strings.Count(out, "\n") != 1 || !strings.HasSuffix(out, "\n") {
				t.Errorf("the answer is not one line: %q", out)
			}
			var answer struct {
				Cautions []struct{ Code, Text string }
				Sources  []string
			}
			if err := json.Unmarshal([]byte(out), &answer); err != nil {
				t.Fatal(err)
			}
			if answer.Cautions == nil || len(answer.Sources) == 0 {
				t.Errorf("the answer lacks cautions or sources: %s", out)
			}
			if _, again, _ := ran(t, example, "calc", topic.Name); again != out {
				t.Errorf("a second run answers otherwise:\n%s%s", out, again)
			}
			code, words, complaint := ran(t, "", "calc", topic.Name, "--example", "--explain")
			if code != exitDone || complaint != "" {
				t.Fatalf("--explain gives exit %d: %s", code, complaint)
			}
			for _, part := range []string{topic.Summary, "    = ", "Sources:"} {
				if !strings.Contains(words, part) {
					t.Errorf("the explanation lacks %q:\n%s", part, words)
				}
			}
			for _, c := range answer.Cautions {
				if !strings.Contains(words, c.Text) {
					t.Errorf("the explanation keeps back the caution %s", c.Code)
				}
			}
		})
	}
}

// TestCalcRefuses: bad input leaves standard output empty, and each sentence
// stands on its own line.
func TestCalcRefuses(t *testing.T) {
	for _, topic := range calc.Topics() {
		for _, in := range []string{
			"", " ", "null", "[]", "1", `"text"`, "{", "{}", `{"a":1}`, `{"a":1,"a":2}`, "{} {}", "\x00", "\xff\xfe",
			`{"line\nbreak": 1}`, "{\"\u2028\": 1}",
		} {
			for _, flags := range [][]string{nil, {"--explain"}} {
				code, out, complaint := ran(t, in, append([]string{"calc", topic.Name}, flags...)...)
				if code != exitRefused || out != "" || complaint == "" {
					t.Errorf("calc %s %v < %q: exit %d, %q, %q", topic.Name, flags, in, code, out, complaint)
				}
				for line := range strings.Lines(complaint) {
					if key, _, ok := strings.Cut(line, ": "); !ok || key == "" || !strings.HasSuffix(line, "\n") {
						t.Errorf("calc %s < %q: not a sentence with its key: %q", topic.Name, in, line)
					}
				}
			}
		}
	}
}

// TestCalcAnswersWholeOrNotAtAll damages each topic's example in many ways: what
// comes out is whole JSON without a complaint, or a complaint without an
// answer. (The topics themselves are fuzzed in internal/calc.)
func TestCalcAnswersWholeOrNotAtAll(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 2))
	marks := []string{`"`, "{", "}", "[", "]", ",", ":", "-", "0", "9", "e9", ".", "null", "true", "\n", "\x00", "\xff"}
	for _, topic := range calc.Topics() {
		answered, refused := 0, 0
		for range 300 {
			in := []byte(topic.Example)
			for range 1 + chance.IntN(3) {
				at := chance.IntN(len(in))
				end := min(len(in), at+chance.IntN(3))
				in = slices.Replace(in, at, end, []byte(marks[chance.IntN(len(marks))])...)
			}
			code, out, complaint := ran(t, string(in), "calc", topic.Name)
			switch {
			case code == exitDone && json.Valid([]byte(out)) && complaint == "":
				answered++
			case code == exitRefused && out == "" && complaint != "":
				refused++
			default:
				t.Errorf("calc %s < %q: exit %d, %q, %q", topic.Name, in, code, out, complaint)
			}
		}
		if refused < 100 {
			t.Errorf("%s refused only %d of 300 damaged inputs, and answered %d", topic.Name, refused, answered)
		}
	}
}
