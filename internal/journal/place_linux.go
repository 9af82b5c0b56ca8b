package journal

import "os"

// networkKind names the network file system that a folder is on, or "".
func networkKind(folder string) string {
	mounts, err := os.ReadFile("/proc/self/mountinfo")
	if err != nil {
		return "" // without /proc nothing can be said
	}
	return networkType(mountedAs(string(mounts), folder))
}
