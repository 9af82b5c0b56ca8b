package journal

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

var kills = flag.Int("kills", 200, "how often TestKill kills a saving program")

// crashLine is the n-th line of a batch of so many: all follows from the id.
func crashLine(round, batch, n, of int) Line {
	id := fmt.Sprintf("%d/%d/%d/%d", round, batch, n, of)
	return Line{ID: id, Body: bytes.Repeat([]byte(id+" "), 1+(batch*37+n*11)%200)}
}

func batchSize(round, batch int) int { return 1 + (round+batch*7)%4 }

// childSave adds batch after batch and prints each once it is acknowledged,
// with copies of the record in between, until it is killed.
func childSave(args []string) error {
	ctx := context.Background()
	round, err := strconv.Atoi(args[1])
	if err != nil {
		return err
	}
	j, err := Open(ctx, args[0], Options{})
	if err != nil {
		return err
	}
	j.checkpointAfter = 40 // so that kills fall into checkpoints too
	for batch := 0; ; batch++ {
		var lines []Line
		for n := range batchSize(round, batch) {
			lines = append(lines, crashLine(round, batch, n, batchSize(round, batch)))
		}
		added, err := j.Append(ctx, lines...)
		if err != nil {
			return err
		}
		// One write to the system, so that what the parent reads was said.
		fmt.Printf("%d %d\n", batch, added[len(added)-1].Seq)
		if batch%25 == 24 {
			if err := j.Copy(ctx, fmt.Sprintf("%s-copy-%d-%d", args[0], round, batch)); err != nil {
				return err
			}
		}
	}
}

// A saving program is killed at random moments: while it makes the record, opens
// it after the kill before, adds, checkpoints or copies. Whatever it had
// acknowledged is there, in its place; a batch is whole or absent; the chain
// verifies; a copy under its final name is whole. This shows what a crash of
// the program does. It cannot show a missing sync: the system's memory survives.
func TestKill(t *testing.T) {
	const roundsPerRecord = 10
	if testing.Short() {
		*kills = min(*kills, 20)
	}
	dice := rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 1))
	var path string
	var said map[string]int64 // what was acknowledged in this record, with its number
	var acknowledged, extra, copies, silent int
	for round := range *kills {
		if round%roundsPerRecord == 0 {
			path = filepath.Join(t.TempDir(), "record.sqlite")
			said = map[string]int64{}
		}
		now := killOnce(t, dice, path, round)
		if len(now) == 0 {
			silent++
		}
		for id, seq := range now {
			said[id] = seq
		}
		acknowledged += len(now)

		j, err := Open(context.Background(), path, Options{})
		if err != nil {
			t.Fatalf("round %d: %v", round, err)
		}
		have := map[string]Line{}
		for _, l := range all(t, j) {
			have[l.ID] = l
		}
		for id, seq := range said {
			l, ok := have[id]
			var r, b, n, of int
			fmt.Sscanf(id, "%d/%d/%d/%d", &r, &b, &n, &of)
			if !ok {
				t.Errorf("round %d: line %d (%s) was acknowledged and is lost", round, seq, id)
			} else if l.Seq != seq || !bytes.Equal(l.Body, crashLine(r, b, n, of).Body) {
				t.Errorf("round %d: line %d (%s) was acknowledged and is another", round, seq, id)
			}
		}
		for id := range have {
			var r, b, n, of int
			fmt.Sscanf(id, "%d/%d/%d/%d", &r, &b, &n, &of)
			for n := range of {
				if _, ok := have[crashLine(r, b, n, of).ID]; !ok {
					t.Errorf("round %d: batch %d/%d is there in part", round, r, b)
				}
			}
		}
		extra += len(have) - len(said)
		for id, l := range have {
			said[id] = l.Seq // read by somebody by now, so it has to stay
		}
		closed(t, j)
		copies += wholeCopies(t, path)
		if t.Failed() {
			return
		}
	}
	t.Logf("%d kills, %d before the first acknowledgement: %d acknowledged lines, 0 lost; %d lines were there that had not been acknowledged; %d whole copies",
		*kills, silent, acknowledged, extra, copies)
	if acknowledged < *kills || silent > *kills/2 {
		t.Errorf("%d lines in %d kills are too few to say", acknowledged, *kills)
	}
}

// A program is killed while it brings a record to a newer form: the next start
// goes on from the last whole step, and every line is there.
func TestKillWhileReforming(t *testing.T) {
	ctx := context.Background()
	origin := filled(t, 2000, 300)
	dice := rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 2))
	seen := map[int]int{}
	for round := range max(10, *kills/8) {
		path := duplicate(t, origin)
		cmd := child(t, "reform", path)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(dice.IntN(1+round*5000)) * time.Microsecond) // from the start to well after the end
		if err := cmd.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		cmd.Wait() // killed, so it has an error
		x, err := examine(ctx, path, later, mark{})
		if err != nil {
			t.Fatal(err)
		}
		seen[x.form]++
		j, err := open(ctx, path, Options{Now: time.Now().Add(time.Hour)}, later)
		if err != nil {
			t.Fatalf("killed at form %d: %v", x.form, err)
		}
		if got := len(all(t, j)); got != 2000 {
			t.Errorf("killed at form %d: %d lines, want 2000", x.form, got)
		}
		closed(t, j)
	}
	t.Logf("killed at form: %v", seen)
	if seen[2]+seen[3] == 0 {
		t.Error("it was never killed before the newest form: nothing was tried")
	}
}

// childReform brings a record to the newest form, and stays.
func childReform(args []string) error {
	j, err := open(context.Background(), args[0], Options{}, later)
	if err != nil {
		return err
	}
	defer j.Close()
	time.Sleep(time.Minute)
	return nil
}

// killOnce lets a program save for a random while, and gives what it said.
func killOnce(t *testing.T, dice *rand.Rand, path string, round int) map[string]int64 {
	t.Helper()
	cmd := child(t, "save", path, strconv.Itoa(round))
	cmd.Stderr = nil // a copy that is cut short by the kill has nothing to say
	pipe, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	out := bufio.NewReader(pipe)
	first := ""
	if round%4 == 0 { // counted from the start: in the making or the opening
		time.Sleep(time.Duration(dice.IntN(25_000)) * time.Microsecond)
	} else { // counted from the first acknowledgement
		if first, err = out.ReadString('\n'); err != nil {
			t.Fatalf("round %d: it ended by itself: %v", round, cmd.Wait())
		}
		time.Sleep(time.Duration(dice.IntN(50_000)) * time.Microsecond)
	}
	if err := cmd.Process.Kill(); err != nil {
		t.Fatalf("round %d: it ended by itself: %v", round, err)
	}
	rest, err := io.ReadAll(out)
	if err != nil {
		t.Fatal(err)
	}
	cmd.Wait() // killed, so it has an error
	said := map[string]int64{}
	for line := range strings.Lines(first + string(rest)) {
		var batch int
		var last int64
		if n, err := fmt.Sscanf(line, "%d %d\n", &batch, &last); n != 2 || err != nil {
			t.Fatalf("round %d: it said %q", round, line)
		}
		of := batchSize(round, batch)
		for n := range of {
			said[crashLine(round, batch, n, of).ID] = last - int64(of-1-n)
		}
	}
	return said
}

// wholeCopies opens what copies there are, and takes them away.
func wholeCopies(t *testing.T, path string) (n int) {
	t.Helper()
	names, err := filepath.Glob(path + "-copy-*")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		if strings.HasSuffix(name, "-lock") {
			continue
		}
		if !strings.Contains(name, ".part") {
			j, err := Open(context.Background(), name, Options{})
			if err != nil {
				t.Errorf("%s: %v", filepath.Base(name), err)
				continue
			}
			closed(t, j)
			n++
		}
		if err := os.Remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
			t.Error(err)
		}
	}
	return n
}
