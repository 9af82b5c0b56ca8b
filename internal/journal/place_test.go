package journal

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// Lines as proc(5) describes them; the places are invented.
const mounts = `22 27 0:20 / /proc rw,nosuid - proc proc rw
27 1 254:1 / / rw,relatime shared:1 - ext4 /dev/vda1 rw
40 27 0:35 / /home/ann/unit rw shared:9 - nfs4 host:/vol rw,vers=4.2
41 27 0:36 / /mnt/the\040share rw - cifs //host/share rw
42 41 254:2 / /mnt/the\040share/local rw - ext4 /dev/vdb rw
43 27 0:40 / /media/phone rw - fuse.sshfs phone: rw
44 27 0:41 / /media/stick rw - fuseblk /dev/sdb1 rw
45 27 0:42 / /data rw - ext4 /dev/vdc rw
46 27 0:43 / /data rw - 9p host rw
cut short
`

func TestMountedAs(t *testing.T) {
	for folder, want := range map[string]string{
		"/":                        "",
		"/home/ann":                "",
		"/home/ann/unit":           "nfs4",
		"/home/ann/unit/2026":      "nfs4",
		"/home/ann/units":          "",
		"/mnt/the share/x":         "cifs",
		"/mnt/the share/local/rec": "",
		"/media/phone":             "fuse.sshfs",
		"/media/stick/rec":         "", // a local disk with another system's format
		"/data/rec":                "9p",
	} {
		if got := networkType(mountedAs(mounts, folder)); got != want {
			t.Errorf("%s: %q, want %q", folder, got, want)
		}
	}
	if got := mountedAs("", "/home"); got != "" {
		t.Errorf("without mounts: %q", got)
	}
}

func TestCautionsAbout(t *testing.T) {
	codes := func(path string) (list []string) {
		for _, c := range CautionsAbout(path) {
			list = append(list, c.Code)
			if !strings.HasSuffix(c.Text, ".") {
				t.Errorf("%s: not a sentence: %q", c.Code, c.Text)
			}
		}
		return list
	}
	dir := t.TempDir()
	at := func(names ...string) string {
		folder := filepath.Join(append([]string{dir}, names...)...)
		if err := os.MkdirAll(folder, 0o700); err != nil {
			t.Fatal(err)
		}
		return filepath.Join(folder, "record.sqlite")
	}
	plain := at("plain")
	if got := codes(plain); len(got) != 0 {
		t.Errorf("a plain folder: %v", got)
	}
	for _, path := range []string{at("Dropbox", "health"), at("OneDrive - Home", "a", "b"), at("Nextcloud")} {
		if got := codes(path); len(got) != 1 || got[0] != "sync_folder" {
			t.Errorf("%s: %v, want sync_folder", path, got)
		}
	}
	if err := os.Mkdir(filepath.Join(filepath.Dir(at("shared", "rec")), "..", ".stfolder"), 0o700); err != nil {
		t.Fatal(err)
	}
	if got := codes(at("shared", "rec")); len(got) != 1 || got[0] != "sync_folder" {
		t.Errorf("below a marked folder: %v, want sync_folder", got)
	}

	j := opened(t, at("Dropbox"))
	if c := j.Cautions(); len(c) != 1 || c[0].Code != "sync_folder" {
		t.Errorf("opened there: %v", c)
	}
	if runtime.GOOS == "windows" {
		return // where second names are not looked up
	}
	write(t, plain, []byte("x"))
	if err := os.Link(plain, plain+"-2"); err != nil {
		t.Fatal(err)
	}
	if got := codes(plain); len(got) != 1 || got[0] != "linked_file" {
		t.Errorf("with a second name: %v, want linked_file", got)
	}
}
