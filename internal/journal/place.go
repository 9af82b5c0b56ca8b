package journal

import (
	"os"
	"path/filepath"
	"strings"

	"ebbline/unit"
)

// CautionsAbout says what in a place may hurt a record kept there. SQLite
// needs locks and shared memory that folders on other machines seldom give,
// and a program that copies files elsewhere while they change may put an old
// part beside a new one (common practice; sqlite.org/howtocorrupt.html §2).
//
// The codes are network_folder, sync_folder and linked_file. Nothing said
// means nothing recognised, which is no promise.
func CautionsAbout(path string) []unit.Caution {
	var found []unit.Caution
	if kind := networkKind(filepath.Dir(path)); kind != "" {
		found = append(found, unit.Caution{Code: "network_folder", Text: "The record is in a folder on another machine (" + kind +
			"). Locks and syncs may not hold there, and the record can be damaged. Keep it on this machine's own disk, and make copies to the other."})
	}
	if by := syncMark(filepath.Dir(path)); by != "" {
		found = append(found, unit.Caution{Code: "sync_folder", Text: "The record is in a folder that is copied elsewhere while it changes (" + by +
			"). The copy, or the record itself, can be damaged. Keep it outside, and make backups into that folder."})
	}
	if namesOf(path) > 1 {
		found = append(found, unit.Caution{Code: "linked_file", Text: "The record's file has a second name somewhere (a hard link). Opened by both names at once it will be damaged. Remove the other name."})
	}
	return found
}

// syncNames begin the names of folders that synchronising programs make, in
// lower case (from memory).
var syncNames = []string{"dropbox", "onedrive", "google drive", "googledrive", "my drive", "icloud", "com~apple~clouddocs",
	"mobile documents", "nextcloud", "owncloud", "pcloud", "syncthing", "box sync", "megasync", "seafile"}

// syncMarks are files that such programs leave at the top of their folder
// (from memory).
var syncMarks = []string{".dropbox", ".dropbox.cache", ".stfolder", ".stignore", ".owncloudsync.log", ".nextcloudsync.log"}

// syncMark names what shows that a folder, or one above it, is synchronised;
// "" if nothing does.
func syncMark(folder string) string {
	for {
		base := strings.ToLower(filepath.Base(folder))
		for _, name := range syncNames {
			if strings.HasPrefix(base, name) {
				return filepath.Base(folder)
			}
		}
		for _, mark := range syncMarks {
			if _, err := os.Lstat(filepath.Join(folder, mark)); err == nil {
				return filepath.Join(folder, mark)
			}
		}
		up := filepath.Dir(folder)
		if up == folder {
			return ""
		}
		folder = up
	}
}

// networkTypes begin the names of file systems that live on another machine,
// as Linux and macOS call them (from memory).
var networkTypes = []string{"nfs", "cifs", "smb", "9p", "afs", "afpfs", "webdav", "davfs", "ceph", "glusterfs", "ncp", "vboxsf",
	"vmhgfs", "fuse.sshfs", "fuse.rclone", "fuse.davfs", "fuse.smbnetfs", "fuse.glusterfs", "fuse.ceph", "fuse.s3fs", "fuse.gvfsd-fuse", "virtiofs"}

// networkType gives back a file system's name if it is one of those.
func networkType(fs string) string {
	for _, name := range networkTypes {
		if strings.HasPrefix(strings.ToLower(fs), name) {
			return fs
		}
	}
	return ""
}

// mountedAs finds, in the text of /proc/self/mountinfo, the type of the file
// system that a folder is on: that of the longest mount point above it, and of
// the later one where two are alike.
func mountedAs(mountinfo, folder string) string {
	var longest, kind string
	for line := range strings.Lines(mountinfo) {
		before, after, ok := strings.Cut(line, " - ")
		if !ok {
			continue
		}
		fields, types := strings.Fields(before), strings.Fields(after)
		if len(fields) < 5 || len(types) < 1 {
			continue
		}
		point := unescape.Replace(fields[4])
		inside := folder == point || strings.HasPrefix(folder, strings.TrimSuffix(point, "/")+"/")
		if inside && len(point) >= len(longest) {
			longest, kind = point, types[0]
		}
	}
	return kind
}

// unescape undoes how mountinfo writes the bytes that would part its fields
// (proc(5)).
var unescape = strings.NewReplacer(`\040`, " ", `\011`, "\t", `\012`, "\n", `\134`, `\`)
