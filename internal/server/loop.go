package server

import (
	"context"
	"sync"

	"gloam/internal/server/desk"
)

// loopKey names a loop: a set-up of a plan, by file, and how wide its picture is and at what other hour, if so; width 0 is its
// readings.
type loopKey struct {
	file, setup, at string
	width           int
}

// loop works on one set-up of one plan for all who look at it, as long as anybody does. It works on the newest revision
// alone: when one comes, what runs is cancelled; but not twice before anything was shown, so that a hand that keeps moving sees
// drafts, however slow the machine.
type loop struct {
	key    loopKey
	board  *board
	users  int
	stop   context.CancelFunc
	work   worker
	turned chan struct{} // to another hour
}

// worker does a loop's work for one revision and posts what it finds; it calls shown after the first that is worth seeing. It
// is called by one at a time.
type worker interface {
	run(ctx context.Context, state desk.State, b *board, shown func())
}

// mostLoops bounds what pages left open can make the machine work on.
const mostLoops = 64

// join returns a loop, started when nobody was looking, and what to call when done with it; nil where there are too many.
func (s *Server) join(key loopKey, d *desk.Desk, hire func() worker) (*loop, func()) {
	s.mu.Lock()
	defer s.mu.Unlock()
	l := s.loops[key]
	if l == nil && len(s.loops) == mostLoops {
		return nil, func() {}
	}
	if l == nil {
		l = &loop{key: key, board: newBoard(), work: hire(), turned: make(chan struct{}, 1)}
		ctx, stop := context.WithCancel(s.end)
		l.stop = stop
		s.loops[key] = l
		go l.run(ctx, d)
	}
	l.users++
	return l, func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		if l.users--; l.users == 0 {
			l.stop()
			delete(s.loops, l.key)
		}
	}
}

// turn lets a loop that one at most looks at work on another hour, with all it has kept, if nobody does yet.
func (s *Server) turn(from, to loopKey) {
	s.mu.Lock()
	defer s.mu.Unlock()
	l := s.loops[from]
	if l == nil || l.users > 1 || s.loops[to] != nil {
		return
	}
	delete(s.loops, from)
	s.loops[to], l.key = l, to
	l.work.(*gallery).turn(to.at)
	select {
	case l.turned <- struct{}{}:
	default: // it has yet to look
	}
}

func (l *loop) run(ctx context.Context, d *desk.Desk) {
	starved := false
	for ctx.Err() == nil {
		state, changed := d.State()
		work, cancel := context.WithCancel(ctx)
		done, seen := make(chan struct{}), make(chan struct{})
		var once sync.Once
		shown := func() { once.Do(func() { close(seen) }) }
		go func() {
			defer close(done)
			defer shown() // what had nothing to show kept nobody waiting
			l.work.run(work, state, l.board, shown)
		}()
		select {
		case <-changed:
		case <-l.turned:
		case <-ctx.Done():
		}
		if starved {
			select {
			case <-seen:
			case <-ctx.Done():
			}
		}
		select {
		case <-seen:
			starved = false
		default:
			starved = true
		}
		cancel()
		<-done
	}
}
