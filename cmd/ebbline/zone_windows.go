package main

import (
	"os"
	"syscall"
	"unsafe"
)

// zoneOfComputer translates the name under which Windows keeps the zone.
func zoneOfComputer() string {
	if tz := os.Getenv("TZ"); tz != "" {
		return tz
	}
	return windowsZones[zoneKeyName()]
}

func zoneKeyName() string {
	path, err := syscall.UTF16PtrFromString(`SYSTEM\CurrentControlSet\Control\TimeZoneInformation`)
	if err != nil {
		return ""
	}
	value, err := syscall.UTF16PtrFromString("TimeZoneKeyName")
	if err != nil {
		return ""
	}
	var key syscall.Handle
	if syscall.RegOpenKeyEx(syscall.HKEY_LOCAL_MACHINE, path, 0, syscall.KEY_READ, &key) != nil {
		return ""
	}
	defer syscall.RegCloseKey(key)
	var text [128]uint16
	size := uint32(unsafe.Sizeof(text))
	if syscall.RegQueryValueEx(key, value, nil, nil, (*byte)(unsafe.Pointer(&text[0])), &size) != nil {
		return ""
	}
	return syscall.UTF16ToString(text[:])
}
