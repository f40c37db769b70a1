package stress

// Spray is one pass over the field, in minutes of any clock that all passes share.
type Spray struct {
	Done  int // when it ended
	Hours float64
	Read  bool // whether anybody entered the label's hours
}

// minutes of an hour.
const minutes = 60

// KeepOut gives the minute until which nobody walks the field, ok false where no pass says so, and
// the places of the passes whose label nobody has read: until somebody does, the field is not
// walked at all. Part minutes count up.
func KeepOut(passes []Spray) (until int, ok bool, unread []int) {
	for i, p := range passes {
		if !p.Read {
			unread = append(unread, i)
			continue
		}
		whole := int(float64(p.Hours * minutes))
		if float64(whole) < float64(p.Hours*minutes) {
			whole++
		}
		if end := p.Done + whole; !ok || end > until {
			until, ok = end, true
		}
	}
	return until, ok, unread
}
