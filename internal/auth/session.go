package auth

import "time"

// Life is how long a session lasts: unused, and in all.
type Life struct {
	Idle  time.Duration
	Whole time.Duration
}

// LifeOf gives the lifetimes of a role's sessions. A scout works for days where no server can be
// reached, so a season is the measure; whoever sees money and people signs in once a day, and after
// an hour away (NIST SP 800-63B-4, AAL1 and AAL2).
func LifeOf(role string) Life {
	const day = 24 * time.Hour
	if role == "scout" {
		return Life{Idle: 30 * day, Whole: 180 * day}
	}
	return Life{Idle: time.Hour, Whole: day}
}

// HandInLife is how long a device that was shut out may still hand in what it holds.
const HandInLife = 14 * 24 * time.Hour

// settleTime is how long a new refresh token is in use before the one before it ends. Browsers
// write cookies to disk up to half a minute late: a phone that dies in between comes back with the
// old one, and must not be taken for a thief.
const settleTime = time.Minute

// Shown is what is known of a session when a refresh token is shown for it.
type Shown struct {
	Generation int64         // of the token that was shown
	Arrived    int64         // the newest generation that is known to have arrived
	Age        time.Duration // of the token
	Proved     bool          // the device's key signed the nonce
	Ended      bool          // the session was ended, or has lasted too long
	ShutOut    bool          // the device or its person has no access any more
}

// Verdict is what becomes of a refresh.
type Verdict int

// The verdicts. The zero value refuses.
const (
	Refuse Verdict = iota // sign in again
	Renew                 // give an access token and the next refresh token
	Keep                  // give an access token; the refresh token stays as it is
	Reused                // a token that was replaced long ago: end the session
	HandIn                // no access, but what the device holds may still be handed in
)

// Judge decides about a refresh token. The last token that is known to have arrived may be shown
// again as often as its answer gets lost; once a successor of it has been used, it is over, and
// whoever shows it then has a copy.
func Judge(s Shown) Verdict {
	switch {
	case s.ShutOut && s.Proved:
		return HandIn
	case s.ShutOut || s.Ended:
		return Refuse
	case s.Generation < s.Arrived:
		return Reused
	case !s.Proved:
		return Refuse
	case s.Generation > s.Arrived && s.Age < settleTime:
		return Keep
	}
	return Renew
}
