package code

// The codes of a day's walk.
const (
	TurnRule    = "turn.rule"
	TurnLook    = "turn.look"
	TurnDecide  = "turn.decide"
	TurnAgain   = "turn.again"
	TurnRecord  = "turn.record"
	TurnBetween = "turn.between"
	TurnToday   = "turn.closesToday"
	TurnCloses  = "turn.closes"
	TurnPast    = "turn.past"
	TurnWide    = "turn.wide"
	TurnFail    = "turn.fail"
	TurnWorth   = "turn.worth"
	TurnFar     = "turn.far"
	TurnNone    = "turn.none"
	TurnUnknown = "turn.unknown"
	TurnPlanned = "turn.planned"
)

// turn lists the arguments of its codes.
var turn = []Entry{
	{TurnRule, ""}, {TurnLook, "date"}, {TurnDecide, "date"},
	{TurnAgain, "date"}, {TurnRecord, "date"}, {TurnBetween, "from to"}, {TurnToday, ""},
	{TurnCloses, "date"}, {TurnPast, "date"}, {TurnWide, ""}, {TurnFail, "chance"},
	{TurnWorth, "worth"}, {TurnFar, "far"}, {TurnNone, ""}, {TurnUnknown, ""},
	{TurnPlanned, "product date"},
}
