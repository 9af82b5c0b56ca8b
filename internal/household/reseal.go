package household

import (
	"context"
	"errors"
	"reflect"

	"ebbline/internal/journal"
)

// Reseal writes the household's record anew, sealed under a passphrase or, when
// that is nil, plain; see [journal.Reseal]. Before the new file takes the
// record's place, both are folded and must show the same household.
func Reseal(ctx context.Context, path string, o Options, passphrase []byte) (journal.Resealed, error) {
	opts := journal.Options{Now: o.Now(), Passphrase: o.Passphrase}
	return journal.Reseal(ctx, path, opts, passphrase, func(before, after *journal.Journal) error {
		return alike(ctx, before, after, o)
	})
}

// alike reports whether two journals fold to the same state.
func alike(ctx context.Context, before, after *journal.Journal, o Options) error {
	a, b := &Desk{journal: before, now: o.Now, zone: o.Zone}, &Desk{journal: after, now: o.Now, zone: o.Zone}
	if err := a.refold(ctx); err != nil {
		return err
	}
	if err := b.refold(ctx); err != nil {
		return err
	}
	if !reflect.DeepEqual(a.state, b.state) {
		return errors.New("the new file does not show the same household")
	}
	return nil
}
