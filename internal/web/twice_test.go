package web

import (
	"encoding/json"
	"io"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// drunkIn is what was drunk in a session, by the record.
func drunkIn(h *house, id string) (total unit.Volume) {
	h.desk.View(func(r *record.Household) {
		session.Each(r.Session(id), func(b *session.Drink, _ *session.Event) { total += b.Volume })
	})
	return total
}

// A tap that is sent three times – a finger that bounces, an answer that was
// lost, a screen that tries again – is one entry, and each sending is told that
// it is saved (H-44).
func TestTapSentThreeTimesIsOneEntry(t *testing.T) {
	h := home(t, 2, true)
	path := vida + "/session/" + h.life.Open + "/event/drink"
	before := drunkIn(h, h.life.Open)
	id := newID()
	for i := range 3 {
		status, _, text := h.post(path, formOf("id", id, "volume_ml", "150"))
		if status != http.StatusSeeOther {
			t.Errorf("sent for the %d. time: %d\n%s", i+1, status, problems(text))
		}
		h.later(time.Duration(i+2) * time.Second)
	}
	if got := drunkIn(h, h.life.Open) - before; got != 150 {
		t.Errorf("150 mL sent three times count as %s", got.Text())
	}
	// The same id with another amount is another entry under a name that is taken:
	// the page leads to where the one that is written can be corrected.
	correct := vida + "/session/" + h.life.Open + "/entry/" + id
	if status, _, text := h.post(path, formOf("id", id, "volume_ml", "200")); status != http.StatusUnprocessableEntity || !strings.Contains(text, "already") || !strings.Contains(text, `href="`+correct+`"`) {
		t.Errorf("the same id with another amount: %d\n%s", status, problems(text))
	}
	if status, text := h.get(correct); status != http.StatusOK || !strings.Contains(text, `name="corrects" value="`+id+`"`) {
		t.Errorf("where it is corrected: %d", status)
	}
	// Sent again an hour later it may be meant as another drink: it is not
	// called saved.
	h.later(time.Hour)
	if status, _, _ := h.post(path, formOf("id", id, "volume_ml", "150")); status != http.StatusUnprocessableEntity {
		t.Errorf("the same id an hour later: %d", status)
	}
	if got := drunkIn(h, h.life.Open) - before; got != 150 {
		t.Errorf("in the end %s were drunk, want 150 mL", got.Text())
	}
}

// What waited on a screen is placed by how long it waited. When the first
// answer was lost and it is sent again, the waiting has grown: it is the same
// entry still.
func TestOutboxSendsAgain(t *testing.T) {
	h := home(t, 2, true)
	path := vida + "/session/" + h.life.Open + "/event/drink"
	before := drunkIn(h, h.life.Open)
	id := newID()
	for _, waited := range []int{0, 9, 17} {
		h.later(time.Duration(waited) * time.Second)
		form := formOf("id", id, "volume_ml", "100")
		if waited > 5 {
			form.Set("sent", strconv.Itoa(waited))
		}
		answer := h.postJSON(path, form)
		if !answer.Saved {
			t.Errorf("sent after %d s: %+v", waited, answer)
		}
		h.later(-time.Duration(waited) * time.Second)
	}
	if got := drunkIn(h, h.life.Open) - before; got != 100 {
		t.Errorf("100 mL sent three times count as %s", got.Text())
	}
}

// A typed time is part of the entry: the same id at another typed time is
// another entry.
func TestTypedTimeIsPartOfTheEntry(t *testing.T) {
	h := home(t, 2, true)
	path := vida + "/session/" + h.life.Open + "/drink"
	id := newID()
	h.saved(path, "id", id, "volume_ml", "100", "clock", h.now.Add(-10*time.Minute).Format("15:04"))
	h.saved(path, "id", id, "volume_ml", "100", "clock", h.now.Add(-10*time.Minute).Format("15:04"))
	if status, _, _ := h.post(path, formOf("id", id, "volume_ml", "100", "clock", h.now.Add(-9*time.Minute).Format("15:04"))); status != http.StatusUnprocessableEntity {
		t.Errorf("another typed time under the same id: %d", status)
	}
}

// Three people write at once – a chair, a kitchen, a telephone – and every tap
// is there once (H-41).
func TestThreeWritersOverHTTP(t *testing.T) {
	h := home(t, 2, true)
	path := vida + "/session/" + h.life.Open + "/event/drink"
	before := drunkIn(h, h.life.Open)
	const each = 15
	var wg sync.WaitGroup
	for range 3 {
		wg.Go(func() {
			for range each {
				id := newID()
				var inner sync.WaitGroup
				for range 2 { // each tap bounces: two requests at the same moment
					inner.Go(func() {
						if status, _, text := h.post(path, formOf("id", id, "volume_ml", "10")); status != http.StatusSeeOther {
							t.Errorf("%d %s", status, problems(text))
						}
					})
				}
				inner.Wait()
				if status, _ := h.get(vida + "/session/" + h.life.Open); status != http.StatusOK {
					t.Errorf("the page while others write: %d", status)
				}
			}
		})
	}
	wg.Wait()
	if got := drunkIn(h, h.life.Open) - before; got != 3*each*10 {
		t.Errorf("%d taps of 10 mL, each sent twice, make %s", 3*each, got.Text())
	}
}

type answerJSON struct {
	Saved    bool
	ID       string
	Next     string
	Findings record.Findings
	Unsaved  string
}

// postJSON sends a form as the script does.
func (h *house) postJSON(path string, form map[string][]string) answerJSON {
	h.t.Helper()
	res := h.send(http.MethodPost, path, form, func(r *http.Request) { r.Header.Set("Accept", "application/json") })
	defer res.Body.Close()
	b, err := io.ReadAll(res.Body)
	if err != nil {
		h.t.Fatal(err)
	}
	var a answerJSON
	if err := json.Unmarshal(b, &a); err != nil {
		h.t.Fatalf("%s: %v\n%s", path, err, b)
	}
	return a
}
