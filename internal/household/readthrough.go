package household

import (
	"context"
	"fmt"

	"ebbline/internal/journal"
	"ebbline/record"
)

// together is how many lines are taken apart in one go, and portions how many
// times that the reading may be ahead of the fold.
const (
	together = 256
	portions = 8
)

// A portion is some lines in a row and the entries that they hold.
type portion struct {
	lines   []journal.Line
	entries []record.Entry
	err     error         // of the line after the last entry
	ready   chan struct{} // closed when the entries are there
}

// readThrough gives f every entry of the record in order. Lines are read,
// entries taken apart and f called at the same time, on as many processors as
// there are: a start goes through ten years of them.
func readThrough(ctx context.Context, j *journal.Journal, f func(record.Entry) error) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop() // ends the reading when f has ended it
	queue := make(chan *portion, portions)
	go func() {
		defer close(queue)
		send := func(p *portion) bool {
			go p.takeApart()
			select {
			case queue <- p:
				return true
			case <-ctx.Done():
				return false
			}
		}
		p := newPortion()
		for line, err := range j.Lines(ctx, 0) {
			if err != nil {
				p.err = err
				break
			}
			if p.lines = append(p.lines, line); len(p.lines) == together {
				if !send(p) {
					return
				}
				p = newPortion()
			}
		}
		send(p)
	}()
	for p := range queue {
		<-p.ready
		for i, e := range p.entries {
			if err := f(e); err != nil {
				return fmt.Errorf("line %d of the record: %w", p.lines[i].Seq, err)
			}
		}
		if p.err != nil {
			return p.err
		}
	}
	return ctx.Err()
}

func newPortion() *portion {
	return &portion{lines: make([]journal.Line, 0, together), ready: make(chan struct{})}
}

// takeApart makes entries of the lines, up to the first that cannot be read.
func (p *portion) takeApart() {
	defer close(p.ready)
	p.entries = make([]record.Entry, 0, len(p.lines))
	for _, line := range p.lines {
		e, err := record.ReadStored(line.Body)
		if err != nil {
			p.err = fmt.Errorf("line %d of the record: %w", line.Seq, err)
			return
		}
		p.entries = append(p.entries, e)
	}
}
