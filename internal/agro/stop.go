package agro

// StopOf gives what a day's walk needs of a field's report; nothing is worked out here.
func StopOf(field string, area *Quantity, r Report) Stop {
	visit := func(name string, w Window) Visit {
		return Visit{Visit: name, Date: w.Date, From: w.From, To: w.To}
	}
	stage := r.Stage
	s := Stop{Field: field, Basis: stage.Basis, Fail: r.Headline.Fail, Area: area}
	s.Visits = []Visit{visit(stage.Next.Visit, stage.Next.Due),
		visit(toDecide, stage.Decide), visit(toRecord, stage.Record)}
	s.Worth, s.WorthAcre = r.Value.DigField.Value, r.Value.Dig.Value
	return s
}
