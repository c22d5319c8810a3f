//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package server

import (
	"errors"
	"os"
	"syscall"
)

// lock takes a folder for this server until the file is closed or the program ends, however it ends. taken says that another
// has it. Where the file system knows no locks the folder is served without.
func lock(folder *os.File) (taken bool) {
	return errors.Is(syscall.Flock(int(folder.Fd()), syscall.LOCK_EX|syscall.LOCK_NB), syscall.EWOULDBLOCK)
}
