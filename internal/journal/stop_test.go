package journal

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"testing"
	"time"
)

// untilStopped adds lines until the journal takes no more, and gives the number
// of the last one acknowledged, the one that was refused, and whether the
// journal had stopped before: after the last one rather than in the refused one.
func untilStopped(ctx context.Context, j *Journal, first int) (last int64, refused Line, before bool, err error) {
	last, _ = j.Head()
	for i := first; i < first+5000; i++ {
		began, l := time.Now(), sample(i, 2000)
		before = j.Stopped() != nil
		added, err := j.Append(ctx, l)
		if err == nil && !before {
			last = added[0].Seq
			continue
		}
		switch seq, _ := j.Head(); {
		case time.Since(began) > 2*time.Second:
			err = fmt.Errorf("it took %v to say that nothing was saved", time.Since(began))
		case !errors.As(err, new(*StoppedError)):
			err = fmt.Errorf("refused with %v, want a StoppedError", err)
		case seq != last:
			err = fmt.Errorf("the head is %d after a refusal, want %d", seq, last)
		default:
			err = nil
		}
		return last, l, before, err
	}
	return last, Line{}, false, errors.New("the disk never filled up")
}

// stillReadable sees that a stopped journal takes nothing, and gives all that
// was acknowledged.
func stillReadable(ctx context.Context, j *Journal, last int64) error {
	if _, err := j.Append(ctx, sample(90_000, 10)); !errors.As(err, new(*StoppedError)) {
		return fmt.Errorf("stopped, and Append gave %v", err)
	}
	n := int64(0)
	for _, err := range j.Lines(ctx, 0) {
		if err != nil {
			return fmt.Errorf("stopped, and reading line %d gave %v", n+1, err)
		}
		n++
	}
	if n < last {
		return fmt.Errorf("stopped with %d lines, %d were acknowledged", n, last)
	}
	if err := j.Verify(ctx); err != nil {
		return fmt.Errorf("stopped, and Verify gave %v", err)
	}
	return nil
}

// recovered reopens when there is room, and sends the refused line again.
func recovered(ctx context.Context, j *Journal, last int64, refused Line) error {
	if err := j.Reopen(ctx); err != nil {
		return fmt.Errorf("with room again, Reopen gave %v", err)
	}
	for range 2 { // the second time it is there already
		if _, err := j.Append(ctx, refused); err != nil {
			return fmt.Errorf("with room again, Append gave %v", err)
		}
	}
	found := false
	n := int64(0)
	for l, err := range j.Lines(ctx, 0) {
		if err != nil {
			return err
		}
		n++
		found = found || l.ID == refused.ID
	}
	if n != last+1 || !found {
		return fmt.Errorf("%d lines after the recovery, want %d; the refused line is there: %v", n, last+1, found)
	}
	return j.Verify(ctx)
}

// SQLite says that the disk is full when the file may not grow.
func TestFullByPages(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "record.sqlite")
	j := opened(t, path)
	j.checkpointAfter = 20
	add(t, j, 0, 5)
	if _, err := j.write.db.Exec("PRAGMA max_page_count = 60"); err != nil {
		t.Fatal(err)
	}
	last, refused, _, err := untilStopped(ctx, j, 5)
	if err != nil {
		t.Fatal(err)
	}
	what, now := plainly(j.Stopped())
	if what != "the disk is full" || now != "make room on the disk" {
		t.Errorf("in words: %q, %q", what, now)
	}
	if err := stillReadable(ctx, j, last); err != nil {
		t.Error(err)
	}
	if err := recovered(ctx, j, last, refused); err != nil { // a new connection has no such bound
		t.Error(err)
	}
	closed(t, j)
	if seq, _ := opened(t, path).Head(); seq != last+1 {
		t.Errorf("reopened with %d lines, want %d", seq, last+1)
	}
}

func TestReopenOfASoundJournal(t *testing.T) {
	ctx := context.Background()
	j := opened(t, filepath.Join(t.TempDir(), "record.sqlite"))
	add(t, j, 0, 5)
	for i := range 3 {
		if err := j.Reopen(ctx); err != nil || j.Stopped() != nil {
			t.Fatalf("Reopen: %v, %v", err, j.Stopped())
		}
		add(t, j, 5+i, 6+i)
	}
	if seq, _ := j.Head(); seq != 8 {
		t.Errorf("%d lines, want 8", seq)
	}
}

// A journal that was reopened in vain still reads, and recovers later.
func TestReopenInVain(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "record.sqlite")
	j := opened(t, path)
	add(t, j, 0, 5)
	alter(t, path, "UPDATE line SET hash = zeroblob(32) WHERE seq = 2")
	for range 2 {
		err := j.Reopen(ctx)
		if broken := (*BrokenError)(nil); !errors.As(err, &broken) || broken.Seq != 2 {
			t.Fatalf("Reopen: %v, want line 2", err)
		}
	}
	for l, err := range j.Lines(ctx, 2) {
		if err == nil && l.Seq == 3 {
			t.Error("line 3 was given, though line 2's hash is altered")
		}
		break
	}
	good := Link(Link(Start(j.Store()), 1, sample(0, 0).ID, sample(0, 300).Body), 2, sample(1, 0).ID, sample(1, 300).Body)
	alter(t, path, "UPDATE line SET hash = x'"+hexOf(good)+"' WHERE seq = 2")
	if err := j.Reopen(ctx); err != nil {
		t.Fatalf("put right: %v", err)
	}
	add(t, j, 5, 6)
}
