package journal

import (
	"context"
	"errors"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// Each error says what happened and what to do now, in whole sentences.
func TestEveryErrorIsASentence(t *testing.T) {
	cause := errors.New("disk I/O error")
	path := filepath.Join("home", "record.sqlite")
	for _, tt := range []struct {
		err  error
		what string // a part of what happened
		now  string // a part of what to do
	}{
		{&InUseError{Path: path}, "open in another Ebbline", "close it"},
		{&InUseError{Path: path, Foreign: true}, "held by another program", "Close that program"},
		{&NewerError{Path: path, Form: 3, Known: 1}, "form 3", "Start the newer program"},
		{&OlderError{Path: path, Form: 1, Known: 2}, "older form (1;", "Start the pages"},
		{&NoRecordError{Path: path}, "There is no record", "Choose another file"},
		{&NotOursError{Path: path}, "another program", "Choose another file"},
		{&NotOursError{Path: path, Cause: cause}, "not an Ebbline record", "restore the newest backup"},
		{&BrokenError{Path: path, Seq: 17, ID: "a-1", What: "what it holds does not match its hash"}, `line 17 ("a-1"): what`, "restore the newest backup"},
		{&BrokenError{Path: path, What: "its tables cannot be read", Cause: cause}, "tables cannot be read (disk I/O error)", "write on paper"},
		{&UnreadableError{Path: path, Cause: cause}, "cannot be read now", "Write on paper"},
		{&LostError{Path: path, Have: 20, Had: 25}, "it has 20 lines, 25 had been saved", "without the last 5"},
		{&LostError{Path: path, Have: 20, Had: 18, Forked: true}, "differ at line 18", "Find the copy last used"},
		{&ConflictError{ID: "a", Seq: 4}, "line 4", "new id"},
		{&ConflictError{ID: "a"}, "stands twice", "an id of its own"},
		{&FolderError{Path: path, Cause: &fs.PathError{Op: "open", Path: path, Err: fs.ErrPermission}}, "folder home (permission denied)", "Choose a folder"},
		{&CopyError{To: path, Cause: fs.ErrExist}, "a copy replaces nothing", "Choose another name"},
		{&CopyError{To: path, Cause: cause}, "could not be made", "try again"},
		{&CopyError{To: path, Form: 1, Cause: fs.ErrExist}, "older form (1)", "start again"},
		{&StoppedError{Path: path, Cause: cause}, "NOT SAVED", "Write on paper"},
		{&StoppedError{Path: path, Cause: errProtected}, "write-protected", "take the protection off"},
		{&StoppedError{Path: path, Cause: &BrokenError{}}, "it is damaged", "restore the newest backup"},
		{&StoppedError{Path: path, Cause: &LostError{}}, "not the copy that was in use", "find the copy"},
	} {
		said := tt.err.Error()
		if !strings.Contains(said, tt.what) || !strings.Contains(said, tt.now) {
			t.Errorf("%T says %q, want %q and %q in it", tt.err, said, tt.what, tt.now)
		}
		if !strings.HasSuffix(said, ".") || strings.Contains(said, "..") || strings.Contains(said, "  ") {
			t.Errorf("%T is not in whole sentences: %q", tt.err, said)
		}
		if _, conflict := tt.err.(*ConflictError); !conflict && !strings.Contains(said, "home") {
			t.Errorf("%T does not say which file: %q", tt.err, said)
		}
	}
}

// What the system says of itself reaches the words.
func TestReasonsInWords(t *testing.T) {
	ctx := context.Background()
	j := opened(t, filepath.Join(t.TempDir(), "record.sqlite"))
	add(t, j, 0, 1)
	_, err := j.read.ExecContext(ctx, "DELETE FROM line")
	if what, _ := plainly(err); what != "the file is write-protected" {
		t.Errorf("writing through a reading connection: %q (%v)", what, err)
	}
	db, err := connect(filepath.Join(t.TempDir(), "none.sqlite"), reading)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if what, _ := plainly(db.Ping()); what != "the disk is full or write-protected" {
		t.Errorf("a file that is not there: %q (%v)", what, db.Ping())
	}
}
