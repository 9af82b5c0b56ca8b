package calc

import (
	"fmt"
	"strings"
	"testing"
)

type stockOut struct {
	Items []struct {
		Item         string
		SessionsLeft int `json:"sessions_left"`
		RunsOut      any `json:"runs_out"`
		Wasted       float64
		OrderBy      any `json:"order_by"`
		OrderPacks   int `json:"order_packs"`
	}
	Scarcest string
	Cautions []struct{ Code, Text string }
}

// Twelve sessions, Monday, Wednesday and Friday from 2 March 2026.
const marchPlan = `"today":"2026-03-01","session_dates":["2026-03-02","2026-03-04","2026-03-06","2026-03-09","2026-03-11","2026-03-13",
	"2026-03-16","2026-03-18","2026-03-20","2026-03-23","2026-03-25","2026-03-27"],
	"delivery_dates":["2026-03-10","2026-03-24"],"order_lead_days":5`

func TestStock(t *testing.T) {
	var out stockOut
	roomAnswer(t, "stock", `{"items":[
		{"item":"dialyser","on_hand":[{"count":10,"expires":"2027-03-31"}],"per_session":1,"pack":6},
		{"item":"needle","on_hand":[{"count":12,"expires":"2026-03-10"},{"count":60}],"per_session":2,"pack":50},
		{"item":"soap","on_hand":[{"count":1},{"count":0.4}],"per_session":0.2}],`+marchPlan+`}`, &out)
	for i, want := range []string{
		// Dialysers: ten sessions; on the 13th four are left, under six on the
		// 11th (five sessions gone), so for the delivery of the 10th, and up to
		// the 24th: sessions 11 to 23 (6), six for the reserve, six left.
		"dialyser 10 2026-03-25 0 2026-03-05 1",
		// Needles: 8 used of the first lot by the 9th, 4 expire; 60 serve eight
		// more and leave 44, never under twelve.
		"needle 12 <nil> 4 <nil> 0",
		// Soap: 1.4 in fifths is seven sessions, the reserve is 1.2: under on
		// the 4th; the first delivery that can still be ordered is the 10th.
		"soap 7 2026-03-18 0 2026-03-05 2",
	} {
		it := out.Items[i]
		got := fmt.Sprint(it.Item, " ", it.SessionsLeft, " ", it.RunsOut, " ", it.Wasted, " ", it.OrderBy, " ", it.OrderPacks)
		if got != want {
			t.Errorf("%s; want %s", got, want)
		}
	}
	if out.Scarcest != "soap" {
		t.Errorf("scarcest %s, want soap", out.Scarcest)
	}
	if len(out.Cautions) != 1 || out.Cautions[0].Code != "reserve_short_first" {
		t.Errorf("cautions %+v", out.Cautions)
	}
}

func TestStockReserveZeroAndExpired(t *testing.T) {
	var out stockOut
	roomAnswer(t, "stock", `{"items":[{"item":"strip","on_hand":[{"count":5,"expires":"2026-02-28"},{"count":12,"expires":"2026-03-27"}],"per_session":1}],
		"reserve_sessions":0,`+marchPlan+`}`, &out)
	it := out.Items[0]
	if it.SessionsLeft != 12 || it.RunsOut != nil || it.Wasted != 5 || it.OrderBy != nil || it.OrderPacks != 0 {
		t.Errorf("%+v", it)
	}
	if len(out.Cautions) != 1 || out.Cautions[0].Code != "expired_on_shelf" {
		t.Errorf("cautions %+v", out.Cautions)
	}
}

func TestStockRefuses(t *testing.T) {
	for name, in := range map[string]string{
		"no items":           `{"items":[],` + marchPlan + `}`,
		"twice":              `{"items":[{"item":"a","on_hand":[],"per_session":1},{"item":"a","on_hand":[],"per_session":1}],` + marchPlan + `}`,
		"no use":             `{"items":[{"item":"a","on_hand":[],"per_session":0}],` + marchPlan + `}`,
		"negative count":     `{"items":[{"item":"a","on_hand":[{"count":-1}],"per_session":1}],` + marchPlan + `}`,
		"two-digit year":     `{"items":[{"item":"a","on_hand":[{"count":1,"expires":"03/04/27"}],"per_session":1}],` + marchPlan + `}`,
		"no such day":        `{"items":[{"item":"a","on_hand":[{"count":1,"expires":"2027-02-29"}],"per_session":1}],` + marchPlan + `}`,
		"pack of none":       `{"items":[{"item":"a","on_hand":[],"per_session":1,"pack":0}],` + marchPlan + `}`,
		"half a lead day":    strings.Replace(`{"items":[{"item":"a","on_hand":[],"per_session":1}],`+marchPlan+`}`, `"order_lead_days":5`, `"order_lead_days":5.5`, 1),
		"no lead":            strings.Replace(`{"items":[{"item":"a","on_hand":[],"per_session":1}],`+marchPlan+`}`, `,"order_lead_days":5`, ``, 1),
		"session gone by":    `{"items":[{"item":"a","on_hand":[],"per_session":1}],"today":"2026-03-03","session_dates":["2026-03-02"],"delivery_dates":[],"order_lead_days":5}`,
		"no session":         `{"items":[{"item":"a","on_hand":[],"per_session":1}],"today":"2026-03-03","session_dates":[],"delivery_dates":[],"order_lead_days":5}`,
		"unknown key in lot": `{"items":[{"item":"a","on_hand":[{"count":1,"lot":"x"}],"per_session":1}],` + marchPlan + `}`,
	} {
		topic, _ := Find("stock")
		a, err := topic.Answer(strings.NewReader(in))
		if _, ok := err.(Problems); !ok {
			t.Errorf("%s: %+v, %v; want it refused", name, a.Out, err)
		}
	}
}

func TestStockExample(t *testing.T) {
	topic, _ := Find("stock")
	a, err := topic.Answer(strings.NewReader(topic.Example))
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Steps) == 0 || len(a.Sources) == 0 {
		t.Error("the example explains nothing")
	}
}
