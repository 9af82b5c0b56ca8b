package journal

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
)

//go:embed schema/*.sql
var schemaFiles embed.FS

// A step brings the file's form from its number less one to its number. A
// step that was ever released is never reworded: a new one is added.
type step struct {
	name string // "0001_journal.sql"
	text string
}

// released are the steps of this program, in order.
var released = stepsIn(schemaFiles)

func stepsIn(files embed.FS) []step {
	names, err := fs.Glob(files, "schema/*.sql") // sorted
	if err != nil {
		panic(err) // the pattern is a constant
	}
	var steps []step
	for i, name := range names {
		text, err := fs.ReadFile(files, name)
		if err != nil {
			panic(err) // it is in the program
		}
		if want := fmt.Sprintf("%04d_", i+1); path.Base(name)[:5] != want {
			panic("schema/" + path.Base(name) + ": the next step begins with " + want)
		}
		steps = append(steps, step{path.Base(name), string(text)})
	}
	return steps
}

// applicationID marks a SQLite file as a record of ours: "Ebbl".
const applicationID = 0x4562626c

// migrate takes the file from form to the last step, each step in one
// transaction together with its number, its checksum, and the file's form.
// Step 1 also draws the store's id. Forward only.
//
// A step that rebuilds a table which others refer to needs foreign keys off,
// which cannot be done inside a transaction; no table here refers to another.
func migrate(ctx context.Context, path string, steps []step, form int, random io.Reader) error {
	db, err := connect(path, writing)
	if err != nil {
		return err
	}
	for i := form; i < len(steps); i++ {
		if err := apply(ctx, db, i+1, steps[i], random); err != nil {
			return errors.Join(fmt.Errorf("making form %d (%s): %w", i+1, steps[i].name, err), db.Close())
		}
	}
	err = (&writer{db: db}).checkpoint("TRUNCATE")
	return errors.Join(err, db.Close())
}

// makeRecord makes a record that has taken all steps, under another name, and
// then puts it in its place: whenever that is interrupted, there is a whole
// record or none.
func makeRecord(ctx context.Context, path string, steps []step, random io.Reader) error {
	fresh := path + "-new"
	for _, left := range []string{fresh, fresh + "-wal", fresh + "-shm", fresh + "-journal"} {
		if err := removed(left); err != nil { // of a making that was interrupted
			return &FolderError{Path: path, Cause: err}
		}
	}
	if err := makeFile(fresh); err != nil {
		return &FolderError{Path: path, Cause: err}
	}
	if err := migrate(ctx, fresh, steps, 0, random); err != nil {
		return &StoppedError{Path: path, Cause: err}
	}
	if err := os.Rename(fresh, path); err != nil {
		return &FolderError{Path: path, Cause: err}
	}
	if err := syncFolder(filepath.Dir(path)); err != nil {
		return &FolderError{Path: path, Cause: err}
	}
	return nil
}

// makeFile makes an empty file that is its owner's alone; SQLite gives the
// files that it puts beside it the same rights.
func makeFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	return f.Close()
}

func apply(ctx context.Context, db *sql.DB, version int, s step, random io.Reader) error {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback() // does nothing after the commit
	if _, err := tx.ExecContext(ctx, s.text); err != nil {
		return err
	}
	if version == 1 {
		if err := foundStore(ctx, tx, random); err != nil {
			return err
		}
	}
	sum := sha256.Sum256([]byte(s.text))
	if _, err := tx.ExecContext(ctx, "INSERT INTO migration (version, name, sha256) VALUES (?, ?, ?)", version, s.name, sum[:]); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, fmt.Sprintf("PRAGMA user_version = %d", version)); err != nil {
		return err
	}
	rows, err := tx.QueryContext(ctx, "PRAGMA foreign_key_check")
	if err != nil {
		return err
	}
	loose := rows.Next()
	if err := rows.Close(); err != nil {
		return err
	}
	if loose {
		return errors.New("a row would refer to one that is not there")
	}
	return tx.Commit()
}

// foundStore writes what a new store begins with.
func foundStore(ctx context.Context, tx *sql.Tx, random io.Reader) error {
	var store [16]byte
	if _, err := io.ReadFull(random, store[:]); err != nil {
		return fmt.Errorf("drawing the store's id: %w", err)
	}
	start := Start(store)
	if _, err := tx.ExecContext(ctx, "INSERT INTO store (one, id, start) VALUES (1, ?, ?)", store[:], start[:]); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, "INSERT INTO head (one, seq, hash) VALUES (1, 0, ?)", start[:]); err != nil {
		return err
	}
	_, err := tx.ExecContext(ctx, fmt.Sprintf("PRAGMA application_id = %d", applicationID))
	return err
}

// schemaOf gives the tables as SQLite keeps their text, comments included.
func schemaOf(ctx context.Context, tx *sql.Tx) (string, error) {
	rows, err := tx.QueryContext(ctx, "SELECT type, name, tbl_name, coalesce(sql, '') FROM sqlite_schema ORDER BY name")
	if err != nil {
		return "", err
	}
	defer rows.Close()
	var all string
	for rows.Next() {
		var kind, name, table, text string
		if err := rows.Scan(&kind, &name, &table, &text); err != nil {
			return "", err
		}
		all += fmt.Sprintf("%s %s on %s: %s\n", kind, name, table, text)
	}
	return all, rows.Err()
}

// schemaAfter gives the same for a file that has just taken these steps.
func schemaAfter(ctx context.Context, steps []step) (string, error) {
	db, err := sql.Open("sqlite", "file::memory:?_dqs=0")
	if err != nil {
		return "", err
	}
	defer db.Close()
	db.SetMaxOpenConns(1) // each connection would have a memory of its own
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return "", err
	}
	defer tx.Rollback()
	for _, s := range steps {
		if _, err := tx.ExecContext(ctx, s.text); err != nil {
			return "", err
		}
	}
	return schemaOf(ctx, tx)
}
