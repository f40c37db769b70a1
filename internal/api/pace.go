package api

import (
	"sync"
	"time"

	"golang.org/x/time/rate"

	"hilum/internal/fault"
)

// How fast one device may hand in (ours): far above a day's work, far below what an attacker
// with a phone of the account would like. Pulls are bounded by syncsAtOnce alone, since a first
// load by pages is many of them. A day of 40 photos must arrive at once, so twice a minute's rate
// may come in one go; more of them wait for their turn, and the phone with them.
const (
	pushesAMinute = 120
	pushesAtOnce  = 120
	photosAMinute = 30
	photosAtOnce  = 60
)

// forgetAbove is how many devices are remembered before those that have rested are let go.
const forgetAbove = 1024

// pace counts per device. It begins anew with the server: a restart gives everybody a full purse.
type pace struct {
	aMinute, atOnce int
	mu              sync.Mutex
	devices         map[string]*rate.Limiter
}

func newPace(aMinute, atOnce int) *pace {
	return &pace{aMinute: aMinute, atOnce: atOnce, devices: map[string]*rate.Limiter{}}
}

// take lets one thing of a device pass, or says how long it has to wait.
func (p *pace) take(device string, now time.Time) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	l := p.devices[device]
	if l == nil {
		p.forget(now)
		l = rate.NewLimiter(rate.Limit(float64(p.aMinute)/60), p.atOnce)
		p.devices[device] = l
	}
	turn := l.ReserveN(now, 1)
	wait := turn.DelayFrom(now)
	if wait <= 0 {
		return nil
	}
	turn.CancelAt(now)
	return waiting{fault.New(fault.TooMany, "pace",
		"this device sends more than %d a minute; nothing of this was stored, send it again in %s",
		p.aMinute, roundUp(wait)), wait}
}

func (p *pace) forget(now time.Time) {
	if len(p.devices) < forgetAbove {
		return
	}
	for device, l := range p.devices {
		if l.TokensAt(now) >= float64(p.atOnce) {
			delete(p.devices, device)
		}
	}
}

func roundUp(d time.Duration) time.Duration {
	return (d + time.Second - 1).Truncate(time.Second)
}
