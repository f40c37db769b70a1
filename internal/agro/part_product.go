package agro

import (
	"hilum/internal/agro/code"
	"hilum/internal/agro/product"
	"hilum/internal/cite"
	"hilum/internal/unit"
)

// products turns the chosen starter rate into what a drill carries.
func (f *field) products(s StarterPart) ProductPart {
	part := ProductPart{Lines: []ProductLine{}, Notes: []Message{}}
	rate := s.Published.Rate.Value
	if s.Chosen == "practice" {
		rate = s.Practice.Rate.Value
	}
	if rate == nil {
		part.Notes = append(part.Notes, tell(code.ProductNotKnown))
		return part
	}
	if *rate == 0 {
		part.Notes = append(part.Notes, tell(code.ProductNothing))
		return part
	}
	for _, form := range product.Forms {
		part.Lines = append(part.Lines, f.productLine(form, *rate))
	}
	part.Notes = append(part.Notes, tell(code.ProductRounded,
		code.Num("dry", product.DryStep, "lb/ac"),
		code.Num("liquid", product.LiquidStep, "US gal/ac")))
	return part
}

func (f *field) productLine(form product.Form, n float64) ProductLine {
	exact := form.Exact(n)
	set := form.Set(exact)
	line := ProductLine{Product: form.Key, Other: []Figure{}}
	amount := func(pounds, gallons float64) Figure {
		if form.Liquid {
			return known(gallons, "US gal/ac", cite.Derived, cite.LiquidDensity).
				step(code.StepWeight, pounds, "lb/ac")
		}
		return known(pounds, "lb/ac", cite.Derived).step(code.StepGrade, float64(form.N*100), "%")
	}
	line.Exact = amount(exact.Pounds, exact.USGallons)
	line.Set = amount(set.Pounds, set.USGallons)
	line.Other = append(line.Other, known(form.Nitrogen(set.Pounds), "lb/ac N", cite.Derived))
	if form.Liquid {
		line.Other = append(line.Other,
			known(set.Pounds, "lb/ac", cite.Derived, cite.LiquidDensity),
			known(set.ImpGallons, "imp gal/ac", cite.Derived, cite.LiquidDensity),
			known(set.Liters, "L/ac", cite.Derived, cite.LiquidDensity))
	}
	if form.With != "" {
		line.Other = append(line.Other,
			known(float64(set.Pounds*form.Share), "lb/ac "+form.With, cite.Derived))
	}
	line.Total = f.total(set.Pounds, "lb")
	f.productMoney(&line, form, set.Pounds)
	return line
}

// total multiplies by the field's area.
func (f *field) total(perAcre float64, unit string) Figure {
	if f.in.Acres == nil {
		return unknown(unit, cite.Derived, tell(code.FieldNoArea))
	}
	return known(float64(perAcre*acres(*f.in.Acres)), unit, cite.Derived)
}

// productMoney fills in what a line costs. A product that also carries another nutrient gets no
// cost for a pound of N, but the cost of that nutrient once the N is taken off.
func (f *field) productMoney(line *ProductLine, form product.Form, pounds float64) {
	perPound, ok := f.productPrice(form)
	from := []string{cite.FertilizerPrice}
	switch {
	case !ok:
		why := tell(code.ProductNoPrice)
		line.CostPerLbN = unknown("$/lb N", cite.Derived, why, from...)
		line.Cost = unknown("$/ac", cite.Derived, why, from...)
		return
	case form.With == "":
		line.CostPerLbN = known(product.PerNutrient(perPound, form.N, 0), "$/lb N", cite.Derived,
			from...)
	default:
		line.CostPerLbN = unknown("$/lb N", cite.Derived, tell(code.ProductShared),
			cite.NutrientSplit)
		if n, ok := f.nitrogenPrice(); ok {
			worth := float64(n * form.N)
			line.Other = append(line.Other, known(product.PerNutrient(perPound, form.Share, worth),
				"$/lb "+form.With, cite.Derived, cite.NutrientSplit))
		}
	}
	line.Cost = known(float64(perPound*pounds), "$/ac", cite.Derived, from...)
}

// productPrice gives $ for a pound of product.
func (f *field) productPrice(form product.Form) (perPound float64, ok bool) {
	for _, p := range f.in.Prices.Products {
		if p.Product == form.Key {
			return form.PerPound(p.Price.Value, p.Price.Unit)
		}
	}
	return 0, false
}

// nitrogenPrice gives $ for a pound of N: as entered, else that of urea.
func (f *field) nitrogenPrice() (perPound float64, ok bool) {
	if p := f.in.Plan.NitrogenPrice; p != nil {
		if p.Unit == "$/kg N" {
			return unit.PerPound(p.Value), true
		}
		return p.Value, true
	}
	urea, _ := product.Find("urea")
	price, ok := f.productPrice(urea)
	return product.PerNutrient(price, urea.N, 0), ok
}
