//go:build unix

package journal

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func init() { children["readProtected"] = childReadProtected }

// A record in a write-protected folder can be read, and with it the lines in a
// write-ahead file, as long as SQLite's shared memory is there or can be made.
// Where it cannot, that is said; the record is not read without those lines.
func TestReadProtected(t *testing.T) { runUnprivileged(t, "readProtected") }

func childReadProtected(args []string) error {
	path := filepath.Join(args[0], "record.sqlite")
	for _, tt := range []struct {
		name   string
		beside []string // what a program that was killed left, beside the record
		rights os.FileMode
		lines  int64 // 0: it cannot be read
	}{
		{"alone", nil, 0o400, 10},
		{"alone, writable", nil, 0o600, 10},
		{"left behind, writable", []string{"-wal", "-shm"}, 0o600, 30},
		{"left behind", []string{"-wal", "-shm"}, 0o400, 30},
		{"without shared memory", []string{"-wal"}, 0o400, 0},
		{"without shared memory, writable", []string{"-wal"}, 0o600, 0},
	} {
		if err := leave(path, tt.beside, tt.rights); err != nil {
			return err
		}
		if err := os.Chmod(args[0], 0o500); err != nil {
			return err
		}
		j, err := OpenToRead(context.Background(), path, Options{})
		switch {
		case tt.lines > 0 && err != nil:
			return fmt.Errorf("%s: %w", tt.name, err)
		case tt.lines > 0:
			seq, _ := j.Head()
			n := int64(0)
			for _, err := range j.Lines(context.Background(), 0) {
				if err != nil {
					return fmt.Errorf("%s: %w", tt.name, err)
				}
				n++
			}
			if seq != tt.lines || n != tt.lines {
				return fmt.Errorf("%s: %d lines, and %d were read; want %d", tt.name, seq, n, tt.lines)
			}
			if err := j.Close(); err != nil {
				return fmt.Errorf("%s: %w", tt.name, err)
			}
		case !errors.As(err, new(*UnreadableError)) || !strings.Contains(err.Error(), "write-protected"):
			return fmt.Errorf("%s: %v, want an UnreadableError that says why", tt.name, err)
		}
		if err := os.Chmod(args[0], 0o700); err != nil {
			return err
		}
	}
	return nil
}

// leave makes a record of 10 lines, or has a program add 20 more and leave these
// files beside it as when it is killed.
func leave(path string, beside []string, rights os.FileMode) error {
	for _, name := range []string{"", "-wal", "-shm", "-lock"} {
		if err := removed(path + name); err != nil {
			return err
		}
	}
	if err := fillTo(path, 10, nil); err != nil {
		return err
	}
	left := map[string][]byte{}
	if beside != nil {
		err := fillTo(path, 30, func() error {
			for _, name := range append([]string{""}, beside...) {
				data, err := os.ReadFile(path + name)
				if err != nil {
					return err
				}
				left[name] = data
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	for name, data := range left {
		if err := os.WriteFile(path+name, data, 0o600); err != nil {
			return err
		}
	}
	for _, name := range append([]string{""}, beside...) {
		if err := os.Chmod(path+name, rights); err != nil {
			return err
		}
	}
	return nil
}

// fillTo adds samples up to so many lines, does something, and closes.
func fillTo(path string, lines int, do func() error) error {
	j, err := Open(context.Background(), path, Options{})
	if err != nil {
		return err
	}
	seq, _ := j.Head()
	for i := int(seq); i < lines; i++ {
		if _, err := j.Append(context.Background(), sample(i, 300)); err != nil {
			return errors.Join(err, j.Close())
		}
	}
	if do != nil {
		err = do()
	}
	return errors.Join(err, j.Close())
}
