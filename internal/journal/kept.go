package journal

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// Kept lists the files beside a record that hold it as it was once: before its
// sealing was changed, and before it was brought to a newer form. Whether they
// are sealed is not looked at.
func Kept(path string) (resealed, reformed []string, err error) {
	if path, err = resolve(path); err != nil {
		return nil, nil, err
	}
	// The folder is read and not globbed: a name may hold what a pattern means.
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		return nil, nil, &FolderError{Path: path, Cause: err}
	}
	base := filepath.Base(path)
	for _, entry := range entries {
		name := entry.Name()
		whole := filepath.Join(filepath.Dir(path), name)
		rest, ok := strings.CutPrefix(name, base+"-")
		switch {
		case !ok || slices.ContainsFunc([]string{"-lock", "-wal", "-shm", "-journal"}, func(end string) bool { return strings.HasSuffix(rest, end) }):
		case strings.HasPrefix(rest, "before-"):
			resealed = append(resealed, whole)
		case strings.HasPrefix(rest, "form"):
			reformed = append(reformed, whole)
		}
	}
	return resealed, reformed, nil
}

// Discard removes what [Reseal] kept, once the record in use has been opened by
// its passphrase and read to its end. Only what this record says it was written
// from ([Origin]) is removed, and parts of copies that were never finished; what
// else stands there is given back as left.
func Discard(ctx context.Context, path string, opts Options) (gone, left []string, err error) {
	opts.Shut = false
	j, err := OpenToRead(ctx, path, opts)
	if err != nil {
		return nil, nil, err
	}
	defer func() { err = errors.Join(err, j.Close()) }()
	for _, err := range j.Lines(ctx, 0) {
		if err != nil {
			return nil, nil, err
		}
	}
	kept, _, err := Kept(path)
	if err != nil {
		return nil, nil, err
	}
	for _, name := range kept {
		if !strings.HasSuffix(name, ".part") && !j.comesFrom(ctx, name) {
			left = append(left, name)
			continue
		}
		if err := errors.Join(clearAway(name), removed(sidePath(name))); err != nil {
			return gone, left, fmt.Errorf("%s cannot be removed: %w", name, bare(err))
		}
		gone = append(gone, name)
	}
	return gone, left, syncFolder(filepath.Dir(j.path))
}

// comesFrom says that this record was written anew from the file of that name,
// and that the file has not gone on since.
func (j *Journal) comesFrom(ctx context.Context, name string) bool {
	from, ok := j.Origin()
	if !ok {
		return false
	}
	was, err := OpenToRead(ctx, name, Options{Shut: true})
	if err != nil {
		return false
	}
	defer was.Close()
	seq, hash := was.Head()
	return was.Store() == from.Store && seq == from.Seq && hash == from.Hash
}
