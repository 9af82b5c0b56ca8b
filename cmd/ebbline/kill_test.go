package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"ebbline/internal/household"
	"ebbline/internal/simulate"
	"ebbline/record"
	"ebbline/session"
)

// The whole program is killed at random moments while three screens save: what
// was answered as saved is in the record, once and with its value, the chain
// verifies, and the program starts again on the same file. The journal's own
// test kills oftener and finer; this one goes from the browser's request to the
// next start.
func TestKillTheProgram(t *testing.T) {
	rounds := 40
	if testing.Short() {
		rounds = 6
	}
	path, life, desk := lived(t)
	if err := desk.Close(); err != nil {
		t.Fatal(err)
	}
	dice := rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 3))
	said := map[string]int64{} // id → mL, as answered
	unsaid := 0
	for round := range rounds {
		p := begin(t, "ebbline", "serve", "-file", path, "-addr", "127.0.0.1:0")
		var mu sync.Mutex
		var wg sync.WaitGroup
		first := make(chan bool, 1)
		for screen := range 3 {
			wg.Go(func() {
				client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
				for i := 0; ; i++ {
					id, ml := fmt.Sprintf("kill-%02d-%d-%04d", round, screen, i), int64(1+(i*7+screen)%50)
					res, err := client.PostForm(p.address+"p/"+life.Person+"/session/"+life.Open+"/event/drink", url.Values{"id": {id}, "volume_ml": {fmt.Sprint(ml)}})
					if err != nil {
						return // killed
					}
					res.Body.Close()
					if res.StatusCode != http.StatusSeeOther {
						t.Errorf("round %d: %s", round, res.Status)
						return
					}
					mu.Lock()
					said[id] = ml
					mu.Unlock()
					select {
					case first <- true:
					default:
					}
				}
			})
		}
		select {
		case <-first:
		case <-time.After(30 * time.Second):
			t.Fatalf("round %d: nothing was saved", round)
		}
		time.Sleep(time.Duration(dice.IntN(30_000)) * time.Microsecond)
		if err := p.cmd.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		_ = p.cmd.Wait() // killed, so it has an error
		wg.Wait()
	}
	if code, out, complaint := ran(t, "", "verify", "-file", path); code != exitDone {
		t.Fatalf("verify: %s%s", out, complaint)
	}
	desk, err := household.Open(context.Background(), path, household.Options{Now: time.Now, Zone: simulate.Zone()})
	if err != nil {
		t.Fatal(err)
	}
	defer desk.Close()
	desk.View(func(h *record.Household) {
		there := map[string]int64{}
		session.Each(h.Session(life.Open), func(b *session.Drink, e *session.Event) {
			if strings.HasPrefix(e.ID, "kill-") {
				if _, twice := there[e.ID]; twice {
					t.Errorf("%s is there twice", e.ID)
				}
				there[e.ID] = int64(b.Volume)
			}
		})
		for id, ml := range said {
			if got, ok := there[id]; !ok || got != ml {
				t.Errorf("%s was answered as saved with %d mL and is %d, %v", id, ml, got, ok)
			}
		}
		unsaid = len(there) - len(said)
	})
	t.Logf("%d kills, %d drinks answered as saved, none lost; %d more were there that had not been answered", rounds, len(said), unsaid)
	if len(said) < rounds {
		t.Errorf("%d drinks in %d kills are too few to say", len(said), rounds)
	}
}
