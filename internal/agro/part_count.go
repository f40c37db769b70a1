package agro

import (
	"hilum/internal/agro/code"
	"hilum/internal/agro/nodule"
	"hilum/internal/cite"
)

// countRule is the account's rule for crops that are judged by counting. Ten of any size is the
// default: it is the prairie one, and a person with a spade needs no ruler.
func (f *field) countRule() string {
	if f.in.Rules.SoybeanCount == nodule.SevenPink {
		return nodule.SevenPink
	}
	return nodule.TenAnySize
}

// otherCount is the rule that countRule is not.
func (f *field) otherCount() string {
	if f.countRule() == nodule.SevenPink {
		return nodule.TenAnySize
	}
	return nodule.SevenPink
}

func (f *field) judge(p nodule.Plant, u dug, rule string) string {
	if u.counting {
		return nodule.JudgeCount(p, u.when, u.moment.Emerged, rule)
	}
	return nodule.Judge(p, u.when, u.moment.Emerged)
}

// otherRule is the share of adequate plants by the rule not chosen; the rules part at full dig only.
func (f *field) otherRule(u dug) []NamedFigure {
	if !u.counting || u.when != nodule.Scored {
		return []NamedFigure{}
	}
	fig := f.shareOf(u.other)
	if counted, _ := nodule.Totals(u.other); counted == 0 {
		why := tell(code.DigOtherRule)
		fig.Unknown = &why
	}
	return []NamedFigure{{Rule: f.otherCount(), Figure: fig}}
}

// verdict gives the place of the last dig that can judge the field, -1 where none can: an early look
// cannot condemn, and eight weeks after emergence nodules are past their best.
func verdict(digs []DigPart) int {
	for i := len(digs) - 1; i >= 0; i-- {
		if digs[i].Class != "tooEarly" && digs[i].When != nodule.Late {
			return i
		}
	}
	return -1
}

// sourcesOfCount are where the counts come from.
var sourcesOfCount = []string{cite.SoyNodules, cite.SoyPink, cite.SoyEarly}
