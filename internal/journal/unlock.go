package journal

import (
	"context"
	"database/sql"
)

// unlock asks for the passphrase of a sealed record and tries it. Nothing has
// been changed by then.
func (j *Journal) unlock(store [16]byte, s *sealing, opts Options) error {
	if s == nil {
		return nil
	}
	if opts.Shut {
		j.shut = true
		return nil
	}
	data, err := s.dataKey(j.path, store, opts.Passphrase)
	if err != nil {
		return err
	}
	j.bodies, err = under(&data)
	return err
}

// unlockFirst does so before the record is examined, which may make SQLite's
// files beside it: a wrong passphrase leaves nothing behind. What cannot be read
// at this glance is left to the examination.
func (j *Journal) unlockFirst(ctx context.Context, opts Options) error {
	store, s, err := glance(ctx, j.path, j.steps)
	if err != nil {
		return nil
	}
	return j.unlock(store, s, opts)
}

// unlockExamined sees that what was unlocked is what was then examined, and
// unlocks what could not be at a glance.
func (j *Journal) unlockExamined(x *examined, opts Options) error {
	switch {
	case j.bodies == nil && !j.shut:
		return j.unlock(x.store, x.sealing, opts)
	case x.sealing == nil:
		return &BrokenError{Path: j.path, What: "it was sealed a moment ago, and is not now"}
	}
	return nil
}

// glance reads of a record that nobody else may write to how it is sealed.
func glance(ctx context.Context, path string, steps []step) (store [16]byte, s *sealing, err error) {
	if empty, err := isEmpty(path); err != nil || empty {
		return store, nil, err
	}
	how := still
	if inCompany(path) {
		how = reading
	}
	db, err := connect(path, how)
	if err != nil {
		return store, nil, err
	}
	defer db.Close()
	tx, err := db.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return store, nil, err
	}
	defer tx.Rollback()
	if form, err := readForm(ctx, tx, path, steps); err != nil || form < sealingForm {
		return store, nil, err
	}
	if store, err = readStore(ctx, tx, path); err != nil {
		return store, nil, err
	}
	s, err = readSealing(ctx, tx, path)
	return store, s, err
}

// dataKey asks for the passphrase and gives the key of the bodies.
func (s *sealing) dataKey(path string, store [16]byte, ask func() ([]byte, error)) (data [32]byte, err error) {
	if ask == nil {
		return data, &SealedError{Path: path}
	}
	passphrase, err := ask()
	if err != nil {
		return data, err
	}
	defer clear(passphrase)
	data, ok, err := s.unwrap(store, passphrase)
	if err == nil && !ok {
		err = &PassphraseError{Path: path}
	}
	return data, err
}

// opener gives what opens the bodies: nil in a plain record, an error in one
// that is shut.
func (j *Journal) opener() (*bodies, error) {
	if j.shut {
		return nil, ErrShut
	}
	j.mu.RLock()
	defer j.mu.RUnlock()
	if j.closed {
		return nil, ErrClosed
	}
	return j.bodies, nil
}

// Sealed says whether the bodies are sealed, and what one try of the passphrase
// costs.
func (j *Journal) Sealed() (Cost, bool) {
	j.mu.RLock()
	defer j.mu.RUnlock()
	if j.sealing == nil {
		return Cost{}, false
	}
	return j.sealing.Cost, true
}

// Origin is the file from which the lines were written anew, and false where
// they were written here from the first on.
func (j *Journal) Origin() (Origin, bool) {
	j.mu.RLock()
	defer j.mu.RUnlock()
	if j.origin == nil {
		return Origin{}, false
	}
	return *j.origin, true
}
