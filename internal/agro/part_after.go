package agro

// metersPerFoot is exact (international foot, 1959).
const metersPerFoot = 0.3048

// meters converts a checked distance.
func meters(q Quantity) float64 {
	if q.Unit == "ft" {
		return float64(q.Value * metersPerFoot)
	}
	return q.Value
}

// afterHarvest fills in what follows harvest and what knowing is worth.
func (f *field) afterHarvest(r *Report) {
	r.Balance = f.balance()
	r.Rotation = f.rotation()
	r.Strips = f.strips()
	r.Value = f.value()
}

// afterFigures gathers the figures of these parts.
func afterFigures(r *Report) []*Figure {
	b, s, v := &r.Balance, &r.Strips, &r.Value
	all := []*Figure{&b.Fixed, &b.Removed, &b.Net, &b.WithFertilizer, &r.Rotation.HostFreeYears,
		&s.Mean, &s.T, &s.P, &s.Flipped, &v.Dig, &v.DigField, &v.Test, &v.TestField, &v.Perfect}
	return append(append(all, ofNamed(b.NetByRoot)...), ofNamed(b.Credit)...)
}
