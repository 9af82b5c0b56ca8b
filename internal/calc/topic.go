package calc

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"sort"

	"ebbline/unit"
)

// An Answer is what a topic computed.
type Answer struct {
	Out      any            // a struct whose JSON keys carry their units
	Cautions []unit.Caution // perhaps none
	Sources  []string
	Steps    []Step // for --explain, in the order of the reckoning
}

// A Step is one line of an explanation: a term with its value, how it comes
// about, and where that is from.
type Step struct {
	Term    string
	Value   string
	Formula string
	Source  string
}

// A Topic is one thing that can be computed.
type Topic struct {
	Name    string
	Summary string // one line for the list
	Example string // an input that works
	Run     func(in *Object) (Answer, error)
}

var topics = map[string]Topic{}

func register(t Topic) { topics[t.Name] = t }

// Topics lists what can be computed, by name.
func Topics() []Topic {
	var list []Topic
	for _, t := range topics {
		list = append(list, t)
	}
	sort.Slice(list, func(i, j int) bool { return list[i].Name < list[j].Name })
	return list
}

// Find returns a topic by name.
func Find(name string) (Topic, bool) {
	t, ok := topics[name]
	return t, ok
}

// maxInput bounds what is read, far above any honest input.
const maxInput = 4 << 20

// Answer reads one input and computes. An error of type [Problems] says why
// the input was refused; nothing was computed then.
func (t Topic) Answer(r io.Reader) (Answer, error) {
	raw, err := io.ReadAll(io.LimitReader(r, maxInput+1))
	if err != nil {
		return Answer{}, fmt.Errorf("read the input: %w", err)
	}
	if len(raw) > maxInput {
		return Answer{}, Problems{"input: is too long; accepted are up to 4 MiB"}
	}
	in, err := parseObject(raw)
	if err != nil {
		return Answer{}, err
	}
	return t.Run(in)
}

// JSON writes the answer as one object: the topic's own keys, then cautions
// and sources. A NaN or an infinity in it is an error, never written.
func (a Answer) JSON() ([]byte, error) {
	own, err := json.Marshal(a.Out)
	if err != nil {
		return nil, fmt.Errorf("the answer cannot be written: %w", err)
	}
	if a.Cautions == nil {
		a.Cautions = []unit.Caution{}
	}
	if a.Sources == nil {
		a.Sources = []string{}
	}
	rest, err := json.Marshal(struct {
		Cautions []unit.Caution `json:"cautions"`
		Sources  []string       `json:"sources"`
	}{a.Cautions, a.Sources})
	if err != nil {
		return nil, fmt.Errorf("the answer cannot be written: %w", err)
	}
	own = bytes.TrimSuffix(own, []byte("}"))
	if len(own) > 1 {
		own = append(own, ',')
	}
	return append(own, rest[1:]...), nil
}
