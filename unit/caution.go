package unit

// A Caution is what must be said beside a number wherever the number is
// shown: on the page, on paper, in an export.
type Caution struct {
	Code string `json:"code"` // stable, for machines: "rate_above_10"
	Text string `json:"text"` // for people, with its source where it has one
}
