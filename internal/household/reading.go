package household

import (
	"context"

	"ebbline/internal/journal"
)

// OpenToRead opens a household that must be there, beside a program that may
// be writing to it, and shows it as it is at this moment. Nothing is locked,
// made or changed. Such a desk records nothing: [Desk.Record] gives a
// [*NotSavedError] around [journal.ErrToRead].
func OpenToRead(ctx context.Context, path string, o Options) (*Desk, error) {
	j, err := journal.OpenToRead(ctx, path, journal.Options{Passphrase: o.Passphrase})
	if err != nil {
		return nil, err
	}
	return fold(ctx, j, o)
}
