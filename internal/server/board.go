package server

import (
	"cmp"
	"slices"
	"sync"
)

// board shows the latest of each kind of event to whoever looks. What is stale is never shown: a newer event takes the
// place of an older one of its kind, and nobody waits for anybody.
type board struct {
	mu     sync.Mutex
	count  int
	events map[string]posted
	news   chan struct{} // closed when something is posted
}

type posted struct {
	number int
	event  any
}

func newBoard() *board { return &board{events: map[string]posted{}, news: make(chan struct{})} }

func (b *board) post(kind string, event any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.count++
	b.events[kind] = posted{b.count, event}
	close(b.news)
	b.news = make(chan struct{})
}

// since returns what was posted after a number and still holds, oldest first; the number to ask with next; and a channel
// that is closed at the next news.
func (b *board) since(number int) ([]any, int, <-chan struct{}) {
	b.mu.Lock()
	defer b.mu.Unlock()
	var fresh []posted
	for _, p := range b.events {
		if p.number > number {
			fresh = append(fresh, p)
		}
	}
	slices.SortFunc(fresh, func(a, b posted) int { return cmp.Compare(a.number, b.number) })
	events := make([]any, len(fresh))
	for i, p := range fresh {
		events[i] = p.event
	}
	return events, b.count, b.news
}

// get returns the latest event of a kind, and a channel that is closed at the next news of any.
func (b *board) get(kind string) (any, <-chan struct{}) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.events[kind].event, b.news
}
