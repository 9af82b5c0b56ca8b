package journal

import "syscall"

// networkKind names the network file system that a folder is on, or "".
func networkKind(folder string) string {
	var s syscall.Statfs_t
	if syscall.Statfs(folder, &s) != nil {
		return ""
	}
	var name []byte
	for _, c := range s.Fstypename {
		if c == 0 {
			break
		}
		name = append(name, byte(c))
	}
	return networkType(string(name))
}
