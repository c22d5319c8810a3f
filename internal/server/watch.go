package server

import (
	"path/filepath"
	"sync"
	"time"

	"github.com/fsnotify/fsnotify"
)

// settle is how long a file must be left alone before what changed is read: whoever writes it may not be done.
const settle = 60 * time.Millisecond

// watcher tells when a file changes. Folders are watched and not files, since a save puts a new file in the old one's
// place.
type watcher struct {
	notify *fsnotify.Watcher

	mu    sync.Mutex
	files map[string]*time.Timer
}

func newWatcher() (*watcher, error) {
	n, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, err
	}
	w := &watcher{notify: n, files: map[string]*time.Timer{}}
	go w.run()
	return w, nil
}

func (w *watcher) close() { w.notify.Close() }

// add calls look each time the file may have changed. Where the folder can't be watched, the next edit looks.
func (w *watcher) add(file string, look func()) {
	w.mu.Lock()
	defer w.mu.Unlock()
	timer := time.AfterFunc(time.Hour, look)
	timer.Stop()
	w.files[file] = timer
	w.notify.Add(filepath.Dir(file))
}

func (w *watcher) run() {
	for {
		select {
		case e, ok := <-w.notify.Events:
			if !ok {
				return
			}
			w.mu.Lock()
			if timer, known := w.files[e.Name]; known && !e.Has(fsnotify.Chmod) {
				timer.Reset(settle)
			}
			w.mu.Unlock()
		case _, ok := <-w.notify.Errors:
			if !ok {
				return
			}
		}
	}
}
