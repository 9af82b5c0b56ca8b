package journal

import (
	"path/filepath"
	"strings"
	"syscall"
	"unsafe"
)

var driveType = syscall.NewLazyDLL("kernel32.dll").NewProc("GetDriveTypeW")

// networkKind says whether a folder is on a network drive or share, or "".
func networkKind(folder string) string {
	const remote = 4 // DRIVE_REMOTE
	volume := filepath.VolumeName(folder)
	if strings.HasPrefix(volume, `\\`) {
		return "network share"
	}
	root, err := syscall.UTF16PtrFromString(volume + `\`)
	if err != nil {
		return ""
	}
	if kind, _, _ := driveType.Call(uintptr(unsafe.Pointer(root))); kind == remote {
		return "network drive"
	}
	return ""
}
