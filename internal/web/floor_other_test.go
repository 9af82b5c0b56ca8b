//go:build !linux

package web

import "os"

// syncData makes a file's data durable.
func syncData(f *os.File) error { return f.Sync() }
