package balance

import (
	"hilum/internal/agro/crop"
	"hilum/internal/unit"
)

// The rules of credit that a crop's record may hold.
const (
	ByZone   = "byZone"
	Manitoba = "manitoba"
	Flat40   = "flat40"
	ByYield  = "byYield"
	PerTonne = "perTonne"
)

// Credits lists the rules in the order in which they are shown, the default first: what was
// measured in the farm's own soil zone is nearest to it.
var Credits = []string{ByZone, Manitoba, Flat40, ByYield, PerTonne}

// Why a rule gives no credit.
const (
	NotPublished = "notPublished"
	NoZone       = "noZone"
	NoYield      = "noYield"
)

// Credit gives what a rule credits after a crop, lb/ac, with the row it stands on. zone and yield
// may be "" and 0 for unknown; why then says what is missing, or that the rule was never published for
// this crop or zone.
func Credit(r crop.Record, rule, zone string, yield unit.BushelPerAcre) (n crop.Span,
	row crop.Credit, why string) {
	why = NotPublished
	for _, c := range r.Credits {
		switch {
		case c.Rule != rule:
		case c.Zone != "" && zone == "":
			why = NoZone
		case c.Zone != "" && c.Zone != zone:
		case c.PerBushel == 0:
			return c.Flat, c, ""
		case yield == 0:
			why = NoYield
		default:
			v := float64(c.PerBushel * float64(yield))
			return crop.Span{Low: v, Mid: v, High: v}, c, ""
		}
	}
	return crop.Span{}, crop.Credit{}, why
}
