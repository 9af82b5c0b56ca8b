package journal

import (
	"bytes"
	"context"
	"crypto/sha256"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"

	sqlite3 "modernc.org/sqlite/lib"
)

// An examined file is one whose form, marks, tables and chain are in order.
type examined struct {
	form    int // 0: there is nothing yet, and a record may be made here
	store   [16]byte
	still   error       // why it can only be read as it lies; nil if it may be written
	lay     fs.FileInfo // as the file lay while it was read without SQLite's locks, if only to be read
	sealing *sealing    // how the bodies are sealed; nil if they are plain
	origin  *Origin     // nil if the lines were written here from the first on
	*proof
}

// examine looks at the file before anything may write to it. It opens it
// read-only, so that even a write-ahead file that does not belong to it is
// not worked in when the examination ends badly.
func examine(ctx context.Context, path string, steps []step, known mark) (*examined, error) {
	if empty, err := isEmpty(path); err != nil || empty {
		return nothing(known), err
	}
	// A full or write-protected disk is no reason to withhold what is on it.
	// Then the file is read as it lies, which needs nothing beside it; of a
	// protected file SQLite would make a protected file of shared memory, and
	// hold on to it when the protection is off.
	if !mayWrite(path) && !walHolds(path) {
		return examineStill(ctx, path, steps, known, errProtected)
	}
	x, err := examineBy(ctx, path, steps, known, reading)
	if e := (*UnreadableError)(nil); errors.As(err, &e) && noSharing(code(err)) && !walHolds(path) {
		return examineStill(ctx, path, steps, known, e.Cause)
	}
	return x, err
}

var errProtected = fmt.Errorf("the system does not let it be written: %w", fs.ErrPermission)

// examineStill examines a file that cannot be written now, for this reason.
func examineStill(ctx context.Context, path string, steps []step, known mark, why error) (*examined, error) {
	x, err := examineBy(ctx, path, steps, known, still)
	if err != nil {
		return nil, err
	}
	x.still = why
	return x, nil
}

// examineBy examines the file through one kind of access.
func examineBy(ctx context.Context, path string, steps []step, known mark, how access) (*examined, error) {
	db, err := connect(path, how)
	if err != nil {
		return nil, err
	}
	defer db.Close()
	tx, err := db.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return nil, stranger(ctx, path, err)
	}
	defer tx.Rollback()

	x := new(examined)
	if x.form, err = readForm(ctx, tx, path, steps); err != nil {
		return nil, err
	}
	if x.form == 0 {
		return nothing(known), emptyAlone(path)
	}
	if err := checkFrame(ctx, tx, path, steps[:x.form]); err != nil {
		return nil, err
	}
	if x.store, err = readStore(ctx, tx, path); err != nil {
		return nil, err
	}
	if x.form >= sealingForm {
		if x.sealing, err = readSealing(ctx, tx, path); err != nil {
			return nil, err
		}
		if x.origin, err = readOrigin(ctx, tx, path); err != nil {
			return nil, err
		}
	}
	if x.proof, err = prove(ctx, tx, path, x.store, known); err != nil {
		return nil, err
	}
	return x, nil
}

// sealingForm is the first form that can say how bodies are sealed.
const sealingForm = 2

// readStore reads the store's id, which the start of the chain vouches for.
func readStore(ctx context.Context, tx *sql.Tx, path string) (store [16]byte, err error) {
	var id, start []byte
	err = tx.QueryRowContext(ctx, "SELECT id, start FROM store WHERE one = 1").Scan(&id, &start)
	if err == nil && len(id) == len(store) {
		store = [16]byte(id)
		if want := Start(store); bytes.Equal(start, want[:]) {
			return store, nil
		}
	}
	return store, frame(ctx, path, "the store's id is altered or cannot be read", err)
}

// nothing is a place where no record is, nor any acknowledged line.
func nothing(known mark) *examined {
	return &examined{proof: &proof{past: known.seq == 0}}
}

// smallest is the length in bytes of the smallest page that SQLite writes. It
// takes some shorter files for empty ones.
const smallest = 512

// isEmpty says that there is no file, or one that was made and never written.
// SQLite throws a write-ahead file away when it finds one beside an empty
// file, so that pair is refused: it may hold the only lines there are.
func isEmpty(path string) (bool, error) {
	info, err := os.Stat(path)
	switch {
	case err == nil && !info.Mode().IsRegular():
		return false, &NotOursError{Path: path, Cause: errors.New("it is not a plain file")}
	case err == nil && info.Size() >= smallest:
		return false, nil
	case err == nil && info.Size() > 0:
		return false, &NotOursError{Path: path, Cause: fmt.Errorf("its length is %d bytes", info.Size())}
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return false, &FolderError{Path: path, Cause: err}
	}
	return true, emptyAlone(path)
}

// emptyAlone sees that no write-ahead file goes with an empty record.
func emptyAlone(path string) error {
	if walHolds(path) {
		return &BrokenError{Path: path, What: "it is gone or empty, but its write-ahead file (" + path + "-wal) is not"}
	}
	return nil
}

// walHolds says that there is something in the write-ahead file.
func walHolds(path string) bool {
	info, err := os.Stat(path + "-wal")
	return err == nil && info.Size() > 0
}

// readForm reads whose file this is and which form it has; 0 if it is a
// database without anything in it, as a crash while making it leaves behind.
func readForm(ctx context.Context, tx *sql.Tx, path string, steps []step) (int, error) {
	var application, form, tables, last int
	for query, into := range map[string]*int{
		"PRAGMA application_id":              &application,
		"PRAGMA user_version":                &form,
		"SELECT count(*) FROM sqlite_schema": &tables,
	} {
		if err := tx.QueryRowContext(ctx, query).Scan(into); err != nil {
			return 0, stranger(ctx, path, err)
		}
	}
	switch {
	case application == 0 && form == 0 && tables == 0:
		return 0, nil
	case application != applicationID:
		return 0, &NotOursError{Path: path}
	}
	if err := tx.QueryRowContext(ctx, "SELECT coalesce(max(version), 0) FROM migration").Scan(&last); err != nil {
		return 0, frame(ctx, path, "the list of its forms cannot be read", err)
	}
	switch {
	case form != last || form < 1:
		return 0, &BrokenError{Path: path, What: fmt.Sprintf("its first page says it has form %d, the list of its forms says %d", form, last)}
	case form > len(steps):
		return 0, &NewerError{Path: path, Form: form, Known: len(steps)}
	}
	return form, nil
}

// checkFrame compares the tables and the list of steps taken with what these
// steps make.
func checkFrame(ctx context.Context, tx *sql.Tx, path string, steps []step) error {
	rows, err := tx.QueryContext(ctx, "SELECT version, name, sha256 FROM migration ORDER BY version")
	if err != nil {
		return frame(ctx, path, "the list of its forms cannot be read", err)
	}
	defer rows.Close()
	for i, s := range steps {
		var version int
		var name string
		var sum []byte
		if !rows.Next() {
			return frame(ctx, path, fmt.Sprintf("form %d is missing in the list of its forms", i+1), rows.Err())
		}
		if err := rows.Scan(&version, &name, &sum); err != nil {
			return frame(ctx, path, "the list of its forms cannot be read", err)
		}
		if want := sha256.Sum256([]byte(s.text)); version != i+1 || name != s.name || !bytes.Equal(sum, want[:]) {
			return &BrokenError{Path: path, What: fmt.Sprintf("form %d was made by other steps than this program's", i+1)}
		}
	}
	if rows.Next() || rows.Err() != nil {
		return frame(ctx, path, "the list of its forms is too long", rows.Err())
	}
	have, err := schemaOf(ctx, tx)
	if err != nil {
		return frame(ctx, path, "its tables cannot be read", err)
	}
	want, err := schemaAfter(ctx, steps)
	if err != nil {
		return err
	}
	if have != want {
		return &BrokenError{Path: path, What: "its tables are not the ones this program makes"}
	}
	return nil
}

// stranger turns an error on the first page into what it means.
func stranger(ctx context.Context, path string, err error) error {
	if code(err)&0xff == sqlite3.SQLITE_NOTADB {
		return &NotOursError{Path: path, Cause: err}
	}
	return frame(ctx, path, "its first page cannot be read, or the file has been cut short", err)
}
