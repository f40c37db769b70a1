package agro

import (
	"cmp"
	"slices"

	"hilum/internal/agro/code"
	"hilum/internal/agro/stress"
	"hilum/internal/cite"
	"hilum/internal/date"
)

// Round is a day's walk before it is put in order.
type Round struct {
	Now   string `json:"now"` // 2027-06-14T09:30 on the field's own clock, as the asking phone says
	Stops []Stop `json:"stops"`
}

// Stop is one field as its report has it.
type Stop struct {
	Field string `json:"field"`
	// Visits: the next one, as StagePart.Next has it, then those that follow where it was missed
	Visits []Visit `json:"visits"`
	Basis  string  `json:"basis,omitempty"` // as StagePart.Basis
	// Fail: chance of failure now
	Fail *float64 `json:"fail,omitempty"`
	// Worth: of a dig, "$/field" after its cost; absent = by WorthAcre and Area
	Worth     *float64  `json:"worth,omitempty"`
	WorthAcre *float64  `json:"worthAcre,omitempty"` // "$/ac"
	Area      *Quantity `json:"area,omitempty"`
	Metres    *float64  `json:"metres,omitempty"` // from where the phone is
	// Passes: all of the field, whichever crop year they belong to
	Passes []Pass `json:"passes,omitempty"`
}

// Visit is one of the dates of a crop; without dates nobody knows when.
type Visit struct {
	Visit string `json:"visit"` // "look", "decide", "again", "record", "none"
	Date  string `json:"date,omitempty"`
	From  string `json:"from,omitempty"`
	To    string `json:"to,omitempty"`
}

// Order is a day's walk in the order that pays.
type Order struct {
	Turns []Turn  `json:"turns"`
	Rule  Message `json:"rule"` // how the order is made
	Kind  string  `json:"kind"` // as Figure.Kind
}

// Turn is one field of it: whether it may be entered, how urgent it is, why, and what to bring.
type Turn struct {
	Field string `json:"field"`
	// Entry: "open"; "ask": a label is unread, or a pass is planned; "closed" until Until
	Entry  string    `json:"entry"`
	Until  string    `json:"until,omitempty"` // 2027-06-15T16:00
	Passes []Message `json:"passes"`          // why Entry is not open
	Visit  string    `json:"visit"`
	// Due: "closing", "open", "past", "coming", "unknown", "later", "none"
	Due   string    `json:"due"`
	Why   []Message `json:"why"`
	Bring []string  `json:"bring"` // codes below "bring."
}

// The bounds of the order are ours: they part what is urgent from what can wait, and are no finer
// than the dates behind them.
const (
	closingDays = 2 // a window that ends today, tomorrow or the day after
	comingDays  = 7 // a window that opens within the week
)

// steps part fields by what is at stake, each half the one before: our models tell apart no less.
var (
	worthSteps = []float64{800, 400, 200, 100, 50}                   // $/field
	failSteps  = []float64{1. / 2, 1. / 4, 1. / 8, 1. / 16, 1. / 32} // where nobody knows a worth
)

// ranked is a turn with what decides between two of them, first to last.
type ranked struct {
	Turn
	group, stake, metres float64
	opens, closes        string
	fail                 float64
}

// InOrder puts the fields of a round in the order that pays: first those that may be entered and
// whose window closes, then those whose window is open, then those that were missed; in each, the
// most at stake first, and of the like the nearest. A field under a re-entry time stands behind
// all that can be walked, by when it opens. Now must be a moment like 2027-06-14T09:30.
func InOrder(r Round) (Order, error) {
	order := Order{Turns: []Turn{}, Rule: tell(code.TurnRule), Kind: cite.Ours}
	now, ok := minuteOf(r.Now)
	c := check{}
	if !ok {
		c.fail("now", "date", "is no moment, accepted is one like 2027-06-14T09:30")
	}
	c.count("stops", len(r.Stops), 0, 5000, "stops")
	for i, s := range r.Stops {
		c.optional(at("stops", i, "area"), s.Area, fieldAreas...)
		for j, p := range s.Passes {
			c.date(at(at("stops", i, "passes"), j, "date"), p.Date, "1900-01-01", "2100-12-31")
		}
	}
	if c.err != nil {
		return order, c.err
	}
	all := make([]ranked, len(r.Stops))
	for i, s := range r.Stops {
		all[i] = s.turn(now)
	}
	slices.SortStableFunc(all, func(x, y ranked) int {
		return cmp.Or(cmp.Compare(x.group, y.group), cmp.Compare(x.opens, y.opens),
			cmp.Compare(x.stake, y.stake), cmp.Compare(x.metres, y.metres),
			cmp.Compare(x.closes, y.closes), cmp.Compare(y.fail, x.fail), cmp.Compare(x.Field, y.Field))
	})
	for _, t := range all {
		order.Turns = append(order.Turns, t.Turn)
	}
	return order, nil
}

func (s Stop) turn(now int) ranked {
	t := Turn{Field: s.Field, Why: []Message{}, Bring: []string{}, Passes: []Message{}}
	t.Entry, t.Until, t.Passes = entry(s.Passes, now)
	v, due := s.visit(date.Day(now / minutesOfDay))
	t.Visit, t.Due = v.Visit, due
	t.Why = s.why(v, due, date.Day(now/minutesOfDay))
	if due != dueNone {
		t.Bring = slices.Concat(bring["always"], bring[v.Visit])
	}
	return s.rank(t, v)
}

// What to bring: practice of the trade; a tape or hoop for the stand count of the deciding dig,
// bags because suspected root rot is sampled before any nitrogen is thought of.
var bring = map[string][]string{
	"always": {"spade", "knife", "water", "brush"},
	"look":   {"tape"},
	"decide": {"bags"},
	"again":  {"bags"},
}

// The words of Turn.Due.
const (
	dueClosing, dueOpen, duePast     = "closing", "open", "past"
	dueComing, dueUnknown, dueLater  = "coming", "unknown", "later"
	dueNone                          = "none"
	entryOpen, entryAsk, entryClosed = "open", "ask", "closed"
)

// dues in the order in which they are walked; "" is a field that is closed for now.
var dues = []string{dueClosing, dueOpen, duePast, "", dueComing, dueUnknown, dueLater, dueNone}

// visit gives the visit that a field waits for, and how urgent it is. A look that was missed leaves
// the deciding dig, and that the early flower.
func (s Stop) visit(today date.Day) (Visit, string) {
	if len(s.Visits) == 0 || s.Visits[0].Visit == toRest {
		return Visit{Visit: toRest}, dueNone
	}
	v := s.Visits[0]
	for _, later := range s.Visits[1:] {
		if v.To == "" || v.To >= today.String() {
			break
		}
		v = later
	}
	from, hasFrom := date.Parse(v.From)
	to, hasTo := date.Parse(v.To)
	switch {
	case !hasFrom || !hasTo:
		return v, dueUnknown
	case to < today:
		return v, duePast
	case from > today+comingDays:
		return v, dueLater
	case from > today:
		return v, dueComing
	case to <= today+closingDays:
		return v, dueClosing
	}
	return v, dueOpen
}

func (s Stop) rank(t Turn, v Visit) ranked {
	const far = 1e9
	r := ranked{Turn: t, group: float64(slices.Index(dues, t.Due)), stake: s.stake(), metres: far, closes: v.To}
	if t.Entry == entryClosed && r.group < float64(slices.Index(dues, "")) {
		r.group, r.opens = float64(slices.Index(dues, "")), t.Until
	}
	if s.Metres != nil {
		r.metres = *s.Metres
	}
	if s.Fail != nil {
		r.fail = *s.Fail
	}
	return r
}

// worth gives what a dig is worth on the whole field, where that is known.
func (s Stop) worth() (float64, bool) {
	if s.Worth != nil {
		return *s.Worth, true
	}
	if s.WorthAcre == nil || s.Area == nil {
		return 0, false
	}
	return float64(*s.WorthAcre * acres(*s.Area)), true
}

// stake gives the step of what is at stake, 0 the most.
func (s Stop) stake() float64 {
	value, steps := 0.0, worthSteps
	worth, known := s.worth()
	switch {
	case known:
		value = worth
	case s.Fail != nil:
		value, steps = *s.Fail, failSteps
	}
	n := 0
	for n < len(steps) && value < steps[n] {
		n++
	}
	return float64(n)
}

// entry says whether a field may be walked at a moment, by the labels of what was put on it. A pass
// whose hours nobody has read is asked about for as long as the longest hours that are taken.
func entry(passes []Pass, now int) (state, until string, why []Message) {
	state, why = entryOpen, []Message{}
	last := 0
	for _, p := range passes {
		on, _ := day(p.Date)
		s := sprayOf(p)
		end, _, _ := stress.KeepOut([]stress.Spray{s})
		m := dated(code.PassClear, "date", moment(end))
		switch {
		case on > now/minutesOfDay: // planned, or a phone whose clock is behind
			m = dated(code.TurnPlanned, "date", p.Date)
		case s.Read && end > now:
			state, last = entryClosed, max(last, end)
		case !s.Read && now < s.Done+mostHours*60:
			m = dated(code.PassUnread, "date", p.Date)
		default:
			continue
		}
		if state == entryOpen {
			state = entryAsk
		}
		m.Args["product"] = Arg{Text: p.Product}
		why = append(why, m)
	}
	if state == entryClosed {
		until = moment(last)
	}
	return state, until, why
}

// mostHours is the longest re-entry time that is taken.
const mostHours = 2000

// minuteOf reads a moment like 2027-06-14T09:30 as minutes since 1970.
func minuteOf(s string) (int, bool) {
	if len(s) != len("2027-06-14T09:30") || s[10] != 'T' {
		return 0, false
	}
	on, ok := day(s[:10])
	m, clock := clockTime(s[11:])
	return on*minutesOfDay + m, ok && clock
}

// why says what a person should know of a turn before setting out, what matters most first: a
// phone shows two of these and keeps the rest behind a tap.
func (s Stop) why(v Visit, due string, today date.Day) []Message {
	var out []Message
	add := func(when bool, m Message) {
		if when {
			out = append(out, m)
		}
	}
	if due == dueNone {
		return []Message{tell(code.TurnNone)}
	}
	if due == dueUnknown {
		return []Message{tell(code.TurnUnknown)}
	}
	between := dated(code.TurnBetween, "from", v.From)
	between.Args["to"] = Arg{Date: v.To}
	add(true, dated(turnCodes[v.Visit], "date", v.Date))
	add(due == dueClosing && v.To == today.String(), tell(code.TurnToday))
	add(due == dueClosing && v.To > today.String(), dated(code.TurnCloses, "date", v.To))
	add(due == duePast, dated(code.TurnPast, "date", v.To))
	if s.Fail != nil {
		add(true, tell(code.TurnFail, code.Num("chance", *s.Fail, "chance")))
	}
	add(true, between)
	add(s.Basis == byDays, tell(code.TurnWide))
	if worth, ok := s.worth(); ok && worth >= 1 {
		add(true, tell(code.TurnWorth, code.Num("worth", worth, "$")))
	}
	if s.Metres != nil {
		add(true, tell(code.TurnFar, code.Num("far", *s.Metres/metresPerMile, "mi")))
	}
	return out
}

const metresPerMile = 1609.344 // exact, of the international mile

var turnCodes = map[string]string{toLook: code.TurnLook, toDecide: code.TurnDecide,
	toDig: code.TurnAgain, toRecord: code.TurnRecord}
