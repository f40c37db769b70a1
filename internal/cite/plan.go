package cite

// The keys of the sources of starter rules, products, seeding and inoculant returns.
const (
	BeanMinnesota    = "bean-umn"
	BeanSaskatchewan = "bean-sk"
	CellStandard     = "cells-1e5"
	CoarseSeedRow    = "sdsu-dry"
	FallToSpring     = "mb-fall"
	FertilizerPrice  = "price-forms"
	GainModel        = "gain-model"
	GrainRemoval     = "grain-removal"
	GRDCHistory      = "grdc-history"
	LiquidDensity    = "uan-density"
	NutrientSplit    = "nmsu-a133"
	ResidualModel    = "residual-model"
	RowLength        = "row-length"
	SeedExact        = "csidc"
	SeedSurvival     = "seed-survival"
	SeedTimesTen     = "sk-faq"
	SoyFirstYear     = "soy-nd"
	SoyHistory       = "soy-history"
)

// plan are the sources of the winter plan.
var plan = []Source{
	{BeanMinnesota, Published, "Kaiser et al., University of Minnesota", 2011,
		"Fertilizing dried edible beans",
		"0.05 x expected yield less nitrate 0-24 in"},
	{BeanSaskatchewan, Published, "Saskatchewan agriculture reports", 0,
		"Dry bean inoculation and fertilizer, 20180454",
		"80 lb/ac in all gave 614 lb/ac over none"},
	{CellStandard, Published, "Canada, Fertilizers Regulations", 2006,
		"Viable cells of rhizobia, s. 10.2, until 2013",
		"1e5 a seed of bean, pea or soybean; granular 1e11/ha"},
	{CoarseSeedRow, Published, "South Dakota State University", 0,
		"Fertilizer placed with seed in dry soil",
		"coarse soil: a further 20 % less dry, 40 % less moist"},
	{FallToSpring, Published, "Manitoba Agriculture", 2007,
		"Fertilizer recommendation guidelines based on soil tests",
		"late fall to spring gains 8 lb/ac"},
	{FertilizerPrice, Published, "Ontario agricultural representative (Sliworsky)", 0,
		"How to price fertilizer",
		"price of a tonne / (grade x 10)"},
	{GainModel, Ours, "", 0, "Return of an inoculant over none, our model",
		"the same soil and the same nitrogen with and without it"},
	{GrainRemoval, Memory, "fertilizer institute, western Canada", 0,
		"Nitrogen removed by grain and oilseed",
		""},
	{GRDCHistory, Published, "GRDC and SARDI", 2016, "Crop history key to legume inoculation",
		"likelihood of response: high, moderate, low"},
	{LiquidDensity, Published, "fertilizer physical data sheet", 0, "Density of fertilizers",
		"28-0-0 10.67 lb/US gal"},
	{NutrientSplit, Published, "New Mexico State University", 0, "Guide A-133, cost of nutrients",
		"take off one nutrient's value"},
	{ResidualModel, Ours, "", 0, "Nitrate that last year's crop left, our estimate",
		"anchors: 25 to 30 lb/ac after grain, 80 after a drought"},
	{RowLength, Derived, "", 0, "A constant rate for each length of row",
		"rate x spacing is constant"},
	{SeedExact, Published, "Agriculture Canada irrigation centre", 0, "Dry bean seeding rate",
		"kg/ha = plants/m2 x TKW / survival"},
	{SeedSurvival, Published, "Saskatchewan Pulse Growers", 0, "Calculating seeding rates",
		"survival = germination less 5 to 15 points"},
	{SeedTimesTen, Published, "Saskatchewan Agriculture", 2007, "Pulse crop seeding rates",
		"plants/ft2 x TKW x 10 / survival"},
	{SoyFirstYear, Published, "North Dakota State University", 2003,
		"Starter for first-year soybean",
		"soil and fertilizer N 50 lb/ac"},
	{SoyHistory, Published, "Manitoba Pulse & Soybean Growers", 0,
		"When to double inoculate soybean",
		"two crops, one within 4 years: single"},
}
