package nodule

// Nodes counts with the two scale-leaf nodes (Saskatchewan usage) what another convention counts
// without them (Manitoba usage): two more.
func Nodes(count int, trueNodes bool) int {
	if trueNodes {
		return count + scaleNodes
	}
	return count
}

// scaleNodes is how many scale-leaf nodes a pea or lentil has (published staging guides).
const scaleNodes = 2

// Limits of the kinds of dig, in days.
const (
	decisionFrom     = 21 // after emergence
	decisionFromCool = 28
	decisionTo       = 42 // after seeding: recovery ends at 6 weeks (published)
	lateFrom         = 57 // after emergence: 8 weeks, fixation declines after mid flower (ours)
)

// Moment is what is known of when a dig was made; negative days and nodes are unknown.
type Moment struct {
	Emerged int  // days since emergence
	Seeded  int  // days since seeding
	Nodes   int  // scale-leaf nodes counted
	Flower  int  // nodes at first flower of the crop
	Cool    bool // mean air below 10 C since emergence
}

// DecisionFrom gives the first day after emergence on which a dig can decide.
func DecisionFrom(cool bool) int {
	if cool {
		return decisionFromCool
	}
	return decisionFrom
}

// Kind gives the kind of dig. Without any date or node count it is early, which judges least.
func (m Moment) Kind() string {
	from := DecisionFrom(m.Cool)
	switch {
	case m.Emerged >= lateFrom:
		return Late
	case m.Nodes >= m.Flower:
		return Scored
	case m.Emerged < from:
		return Early
	case m.Seeded > decisionTo:
		return Scored
	}
	return Decision
}
