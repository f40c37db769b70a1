package agro

import (
	"hilum/internal/agro/balance"
	"hilum/internal/agro/code"
	"hilum/internal/agro/crop"
	"hilum/internal/cite"
	"hilum/internal/unit"
)

// harvested is a crop taken off, on its way through the balance.
type harvested struct {
	balance.Crop
	ndfa    crop.Span
	root    string // the account's rule for roots
	removed Figure
	kind    string // of what stands on the share from air
}

// balance sets what the crop fixed against what left with its seed, and lists the credits.
func (f *field) balance() BalancePart {
	part := BalancePart{NetByRoot: []NamedFigure{}, Credit: []NamedFigure{},
		Messages: []Message{tell(code.BalanceNeverAdd)}}
	if h := f.in.Harvest; h == nil || h.Yield == nil {
		no := unknown("lb/ac", cite.Derived, tell(code.BalanceNoYield))
		part.Fixed, part.Removed, part.Net, part.WithFertilizer = no, no, no, no
	} else {
		f.sums(&part, f.harvest(*h, &part))
	}
	f.credits(&part)
	return part
}

// harvest gathers what the balance stands on. Uptake is taken at the yield really taken.
func (f *field) harvest(h Harvest, part *BalancePart) harvested {
	y := bushels(*h.Yield)
	out := harvested{Crop: balance.Crop{Yield: y, Uptake: f.crop.Uptake.Mid,
		Removal: f.crop.Removal.Mid}, ndfa: f.crop.Ndfa, root: f.in.Rules.Root, kind: cite.Derived}
	out.removed = Figure{Unit: "lb/ac", Kind: cite.Derived, Sources: f.crop.Sources}
	name, args := code.StepSeedTable, []code.Arg(nil)
	if h.Protein != nil {
		out.Removal = balance.SeedN(*h.Protein)
		out.removed.Kind = cite.Memory
		out.removed.Sources = []string{cite.ProteinN, cite.Strydhorst}
		name, args = code.StepSeedProtein, []code.Arg{code.Num("protein", *h.Protein, "%")}
	}
	total := float64(out.Removed())
	out.removed.Value = &total
	out.removed = out.removed.step(name, out.Removal, "lb/bu", args...).
		step(code.StepRemoved, total, "lb/ac", code.Num("yield", float64(y), "bu/ac"))
	if out.Impossible() {
		part.Messages = append(part.Messages, tell(code.BalanceImpossible,
			code.Num("removed", out.Removal, "lb/bu"), code.Num("uptake", out.Uptake, "lb/bu")))
	}
	f.fromAir(h, &out, part)
	return out
}

// fromAir sets the share from air: as measured, else the crop's own, less where digs found few
// nodules.
func (f *field) fromAir(h Harvest, out *harvested, part *BalancePart) {
	if h.Ndfa != nil {
		out.ndfa = crop.Span{Low: *h.Ndfa, Mid: *h.Ndfa, High: *h.Ndfa}
		return
	}
	if f.belief == nil {
		return
	}
	said := 0.0
	for _, s := range f.belief.said {
		said += s
	}
	if said > 0 {
		p := f.belief.now[0].Mean()
		out.ndfa, out.kind = balance.Scaled(f.crop.Ndfa, p), cite.Ours
		part.Messages = append(part.Messages,
			tell(code.BalanceDigs, code.Num("adequate", p, "share")))
	}
}

// sums fills in fixed, removed and net, with every rule for roots beside the chosen one. The range
// of Net goes over the share from air and over the rules for roots.
func (f *field) sums(part *BalancePart, h harvested) {
	if h.root == "" {
		h.root = balance.AboveGround
	}
	root := balance.RootFactor(h.root)
	part.Removed = h.removed
	part.Fixed = h.figure(h.root, float64(h.Fixed(h.ndfa.Mid, root))).
		between(float64(h.Fixed(h.ndfa.Low, root)), float64(h.Fixed(h.ndfa.High, root))).
		step(code.StepUptaken, float64(h.Uptaken()), "lb/ac",
			code.Num("yield", float64(h.Yield), "bu/ac"), code.Num("uptake", h.Uptake, "lb/bu")).
		step(code.StepNdfa, h.ndfa.Mid, "share").
		step(code.StepRoots, root, "")
	for _, rule := range balance.Roots {
		part.NetByRoot = append(part.NetByRoot, NamedFigure{rule, h.net(rule)})
	}
	net := h.net(h.root)
	low := *part.NetByRoot[0].Figure.Low
	high := *part.NetByRoot[len(balance.Roots)-1].Figure.High
	part.Net = net.between(low, high)
	part.WithFertilizer = h.figure(h.root, *net.Value+f.planned).
		between(low+f.planned, high+f.planned).
		step(code.StepPlannedN, f.planned, "lb/ac")
	if low < 0 && high > 0 {
		part.Messages = append(part.Messages, tell(code.BalanceUnsure,
			code.Num("low", low, "lb/ac"), code.Num("high", high, "lb/ac")))
	}
}

func (h harvested) net(rule string) Figure {
	root := balance.RootFactor(rule)
	return h.figure(rule, float64(h.Net(h.ndfa.Mid, root))).
		between(float64(h.Net(h.ndfa.Low, root)), float64(h.Net(h.ndfa.High, root))).
		step(code.StepFixed, float64(h.Fixed(h.ndfa.Mid, root)), "lb/ac").
		step(code.StepRemoved, *h.removed.Value, "lb/ac",
			code.Num("yield", float64(h.Yield), "bu/ac"))
}

// figure makes a figure that stands on the share from air and a rule for roots.
func (h harvested) figure(rule string, v float64) Figure {
	fig := known(v, "lb/ac", h.kind, cite.UptakeTable, cite.NdfaTable)
	if h.kind == cite.Ours {
		fig.Sources = append(fig.Sources, cite.AdequacyModel)
	}
	switch rule {
	case balance.Greenhouse:
		fig.Sources = append(fig.Sources, cite.BelowGround)
	case balance.ThirtyPercent:
		fig.Kind = cite.Memory
		fig.Sources = append(fig.Sources, cite.RootThirty)
	}
	return fig
}

// labCredit and noCredit are rules of an account that no crop's record holds.
const (
	labCredit = "lab"
	noCredit  = "none"
)

// credits lists what each rule credits to the next crop. What the laboratory already took off comes
// first, so that nothing is credited twice.
func (f *field) credits(part *BalancePart) {
	part.Chosen = f.in.Rules.Credit
	if part.Chosen == "" {
		part.Chosen = balance.ByZone
	}
	note := code.CreditAskLab
	lab := f.in.Harvest != nil && f.in.Harvest.LabCredit != nil
	if lab {
		part.Chosen, note = labCredit, code.CreditLab
	}
	part.Messages = append(part.Messages, tell(note))
	add := func(rule string, fig Figure) {
		part.Credit = append(part.Credit, NamedFigure{rule, fig})
	}
	switch {
	case lab:
		add(labCredit, known(float64(lbPerAcre(*f.in.Harvest.LabCredit)), "lb/ac", cite.Published,
			cite.OwnLab))
	case part.Chosen == labCredit:
		add(labCredit, unknown("lb/ac", cite.Published, tell(code.CreditNoLab), cite.OwnLab))
	case part.Chosen == noCredit:
		add(noCredit, known(0, "lb/ac", cite.Ours))
	}
	for _, rule := range balance.Credits {
		add(rule, f.credit(rule))
	}
}

func (f *field) credit(rule string) Figure {
	var yield unit.BushelPerAcre
	if h := f.in.Harvest; h != nil && h.Yield != nil {
		yield = bushels(*h.Yield)
	}
	n, row, why := balance.Credit(f.crop, rule, f.in.Ground.SoilZone, yield)
	switch why {
	case balance.NotPublished:
		return unknown("lb/ac", cite.Published, tell(code.CreditNotPublished))
	case balance.NoZone:
		return unknown("lb/ac", cite.Published, tell(code.CreditNoZone), cite.CreditZones)
	case balance.NoYield:
		return unknown("lb/ac", cite.Published, tell(code.CreditNoYield))
	}
	if row.PerBushel > 0 {
		row.Kind = cite.Derived
	}
	fig := known(n.Mid, "lb/ac", row.Kind, row.Source)
	if n.Low < n.High {
		fig = fig.between(n.Low, n.High)
	}
	if row.PerBushel > 0 {
		fig = fig.step(code.StepPerBushel, row.PerBushel, "lb/bu",
			code.Num("yield", float64(yield), "bu/ac"))
	}
	return fig
}
