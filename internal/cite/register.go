package cite

import "slices"

// The keys of the register, one for each source.
const (
	AdequacyModel   = "adequacy-model"
	OrganicN        = "karamanos-om"
	BeanManitoba    = "bean-mb"
	ChickpeaStarter = "walley-1999"
	NdfaTable       = "ndfa-table"
	OntarioRemoval  = "ontario-2025"
	SeedRowP        = "seed-row-p"
	SoyPhosphate    = "soy-p-mb"
	SoyStarter      = "soy-starter-sk"
	StandGuides     = "stand-guides"
	WideRows        = "wide-rows-nd"
	BetaBinomial    = "binns-2000"
	ClusterRho      = "spot-correlation"
	DigTable        = "dig-table"
	NodulationGuide = "nodulation-guide"
	EvansPH         = "evans-ph"
	FabaFertility   = "faba-fertility"
	FallNitrate     = "fall-nitrate"
	PPMPerSixInches = "mb-fertilizer"
	GRDCAdequate    = "grdc-adequate"
	KuceyHynes      = "kucey-hynes-1989"
	LentilNitrogen  = "lentil-starter"
	McKenzie        = "mckenzie-2001"
	NodeGuide       = "node-guide"
	PeaFertility    = "pea-0-24"
	PeaScore        = "pea-score-2019"
	PHLadder        = "rice-2000"
	PPMPerInch      = "ppm-0.3"
	PracticeStart   = "starter-practice"
	RhizobiaModel   = "rhizobia-model"
	RotationAdvice  = "inoculate-always"
	SafeSeedRow     = "seed-row-n"
	ScorePoints     = "score-points"
	SeedbedUse      = "seedbed-utilization"
	SeedTreatment   = "seed-treatment"
	Singleton       = "singleton-1986"
	SupplyModel     = "supply-model"
	SurvivalModel   = "survival-model"
	UptakeTable     = "uptake-table"
	Wald            = "wald-1947"
	Wilson          = "wilson-1927"
	Zaychuk         = "zaychuk-2006"
	Aphanomyces     = "aphanomyces-break"
	BeckieBrandt    = "beckie-brandt-1997"
	BelowGround     = "below-ground-n"
	ChickpeaDisease = "chickpea-diseases"
	CreditFlat      = "credit-nd"
	CreditLater     = "credit-2007"
	CreditZones     = "credit-zones"
	FlipTest        = "fisher-1935"
	InfoWorth       = "raiffa-schlaifer-1961"
	OnFarmStrips    = "on-farm-strips"
	OwnLabel        = "label"
	OwnLab          = "soil-laboratory"
	ProteinN        = "protein-6.25"
	RootThirty      = "below-ground-30"
	Strydhorst      = "strydhorst-n-boost"
	Student         = "student-1908"
	Walley          = "walley-2007"
)

// register holds every source.
var register = slices.Concat(core, plan, season, walk)

var core = []Source{
	{AdequacyModel, Ours, "", 0, "Share of adequate plants and expected loss, our model",
		"half-point set so that 100 cells/g gives the published class limit of 70 %"},
	{BeanManitoba, Published, "Manitoba Pulse & Soybean Growers", 2019, "Dry bean crop nutrition",
		"35 lb/ac applied or about 70 in all; none: 86 to 93 % of yield"},
	{ChickpeaStarter, Published, "Walley, quoted in the farm press", 1999,
		"Starter nitrogen on chickpea", "paid only where nodulation was poor, very dry seedbed"},
	{NdfaTable, Published, "Liu et al. 2019; provincial pulse growers", 0,
		"Share of plant nitrogen from air", "pea 50 to 80, lentil 62 to 80, faba 76 to 90 %, ..."},
	{OntarioRemoval, Published, "Ontario field crop news", 2025, "Crop removal values",
		"dry bean 2.50 lb N/bu"},
	{SeedRowP, Published, "Saskatchewan guideline (Elmy); Alberta Pulse Growers; farm press 2008", 0,
		"P2O5 with pulse seed", "pea 15, lentil 15 to 30, chickpea 20 to 30, faba 22 to 30 lb/ac"},
	{SoyPhosphate, Published, "Manitoba Pulse & Soybean Growers", 2021,
		"P2O5 with soybean seed", "20 lb/ac in narrow rows, 10 in wide rows"},
	{SoyStarter, Published, "Saskatchewan Pulse Growers", 0,
		"Nitrogen management for soybean in Saskatchewan", "starter N not advised"},
	{StandGuides, Published, "Saskatchewan and Manitoba guides", 0, "Target plant stands",
		"pea 75 to 90, lentil 130 and more, chickpea 33 to 44, faba 45, bean 25 to 44 /m2"},
	{WideRows, Published, "North Dakota State University", 2002,
		"Fertilizer with bean and soybean seed", "none in wide rows; narrow 10 lb N, never urea"},
	{BetaBinomial, Published, "Binns, Nyrop and van der Werf", 2000,
		"Sampling and Monitoring in Crop Protection", "chapter 4, beta-binomial"},
	{DigTable, Ours, "", 0, "Adequate, not yet and poor plants by time of dig, our table",
		"from the published minimum counts and the score card"},
	{EvansPH, Published, "", 1988, "Soil pH in water and in calcium chloride",
		"Soil Science 145:29; pH(CaCl2) = 1.05 pH(water) - 0.9"},
	{FabaFertility, Published, "Saskatchewan Pulse Growers", 0,
		"Faba bean inoculation and fertility", "external nitrogen bands"},
	{FallNitrate, Published, "", 2023, "Regional fall nitrate after grain crops, ND and MN",
		"25 to 30 lb/ac in fall 2022, as much as 80 after the drought of 2021"},
	{GRDCAdequate, Published, "University of Adelaide and GRDC", 0,
		"Grower guide to assessing legume nodulation", "70 and 50 % of plants adequate"},
	{RotationAdvice, Published, "Saskatchewan Pulse Growers; Alberta Pulse Growers", 0,
		"Inoculation and fertility pages", "every pulse crop is inoculated"},
	{OrganicN, Published, "Karamanos, quoted in Canola Watch", 2016,
		"Estimated nitrogen release from organic matter", "14 lb/ac per % OM, 80 % available"},
	{KuceyHynes, Published, "Kucey and Hynes", 1989,
		"Populations of Rhizobium leguminosarum after bean or pea", "abstract"},
	{LentilNitrogen, Published, "", 0, "Starter N and P for lentil, south-central Saskatchewan",
		"9 lb N with 9 lb P2O5 gave top yield where nitrate was 20 lb/ac"},
	{PPMPerSixInches, Published, "Manitoba Agriculture", 2007,
		"Fertilizer recommendation guidelines based on soil tests", "ppm x 2 for 6 in"},
	{McKenzie, Published, "McKenzie et al.", 2001,
		"Response of pea to rhizobia inoculation and starter nitrogen in Alberta",
		"abstract: NO3-N below 20 kg/ha in 0-30 cm"},
	{NodeGuide, Published, "Saskatchewan Pulse Growers; Manitoba Pulse & Soybean Growers", 2022,
		"Pea description; staging field peas", "scale-leaf nodes count as 1 and 2, or not at all"},
	{NodulationGuide, Published, "Saskatchewan Pulse Growers (Risula, Barker)", 0,
		"Assessing nodulation and nitrogen fixation", "nodules from about 14 days after emergence"},
	{PeaFertility, Published, "Alberta Pulse Growers", 0, "Pea fertility requirements",
		"0-24 in: below 20 lb may help, above 40 none"},
	{PeaScore, Published, "Manitoba Pulse & Soybean Growers", 2019,
		"Assessing field pea nodulation", "bands 11-13, 7-10, 1-6"},
	{PPMPerInch, Memory, "Great Plains extension", 0, "0.3 lb/ac for each ppm and inch", ""},
	{RhizobiaModel, Ours, "", 0, "Rhizobia in the soil through the rotation, our model",
		"anchors: 10 to 100 times through three springs; pH 4.6 and 4.9 in calcium chloride"},
	{PHLadder, Published, "Rice et al.", 2000,
		"Inoculant formulations and soil pH, field pea", "abstract: pH 4.4, 5.4, 6.6 in water"},
	{ScorePoints, Memory, "believed Saskatchewan Agriculture", 0,
		"Nodulation and nitrogen fixation field assessment guide", "points of parts B and C"},
	{SafeSeedRow, Published, "Saskatchewan Pulse Growers (Schoenau)", 2020,
		"Pulses sensitive to seed-row fertilizer", "10 kg N/ha at 15 % seedbed utilization"},
	{SeedTreatment, Published, "Martyniuk et al.; Brazilian soybean trials", 0,
		"Seed treatments and rhizobia on seed", "no harm at 1-2 h, harm at 24 h; 62 and 95 % dead"},
	{SeedbedUse, Published, "Manitoba Agriculture (Heard)", 0,
		"Guidelines for safely applying fertilizer with seed", "opener spread / row spacing"},
	{Singleton, Published, "Singleton and Tavares", 1986,
		"Inoculation response of legumes and indigenous rhizobia", "AEM 51(5): 100 cells/g"},
	{ClusterRho, Ours, "", 0, "Correlation of plants in one spot, 0.10, our choice",
		"range 0.02 to 0.30"},
	{PracticeStart, Practice, "", 0, "Starter nitrogen by common practice", ""},
	{SupplyModel, Ours, "", 0, "Share of the crop's nitrogen that soil could supply, our model",
		"reproduces the shares implied by ten trials, 0.41 to 0.90"},
	{SurvivalModel, Ours, "", 0, "Survival of inoculant cells, our model",
		"fitted to the pH ladder of Rice et al. 2000 and the Peace River yields of 2004"},
	{UptakeTable, Published, "Saskatchewan Pulse Growers (fertilizer institute figures)", 0,
		"Safe rates for seed-placed fertilizer: uptake and removal", "middle of the printed range"},
	{Wald, Published, "Wald", 1947, "Sequential Analysis", "binomial test, intercepts and slope"},
	{Wilson, Published, "Wilson", 1927, "Probable inference", "score interval"},
	{Zaychuk, Published, "Zaychuk", 2006, "Pulse Crop Nodulation Assessment Guide",
		"parts A, B, C, total of 13"},
	{Aphanomyces, Published, "Root Rot Task Force; Saskatchewan Pulse Growers (Banniza)", 2020,
		"Aphanomyces in the rotation", "6 to 8 host-free years, at least 6 where confirmed"},
	{BeckieBrandt, Published, "Beckie and Brandt", 1997,
		"Nitrogen contribution of field pea in annual cropping systems",
		"Can. J. Plant Sci., doi 10.4141/P96-161: 15 kg N/ha for 1,000 kg of seed, moist black soil"},
	{BelowGround, Published, "Arcand et al.", 2013, "Nitrogen in pea roots at maturity",
		"greenhouse: 11.3 % of plant nitrogen below ground"},
	{ChickpeaDisease, Published, "Alberta Pulse Growers", 0, "Chickpea diseases",
		"3 years between, 2 after other pulses, 500 m from last year's chickpea"},
	{CreditFlat, Published, "North Dakota State University, Dickinson", 2023,
		"Nitrogen credit of legumes", "40 lb/ac after soybean, pea, lentil, edible bean"},
	{CreditLater, Published, "Farm press, on Przednowek and Entz", 2007, "Nitrogen credit",
		"pea: 10 lb/ac or less in Manitoba; 5 lb for 1,000 lb of seed"},
	{CreditZones, Published, "Farm press, on plots of Miller and the Saskatchewan manual", 2004,
		"Pulses' nitrogen benefit", "brown zone about 10, 0 to 20; black zone 25 lb/ac"},
	{FlipTest, Published, "Fisher", 1935, "The Design of Experiments", "chapter 3, signs flipped"},
	{InfoWorth, Published, "Raiffa and Schlaifer", 1961,
		"Applied Statistical Decision Theory", "value of sample and of perfect information"},
	{OnFarmStrips, Published, "Canola Council; Manitoba Pulse & Soybean Growers", 2017,
		"Check strips and on-farm trials", "4 replicates; paired t, P below 0.05"},
	{OwnLabel, Published, "The product's label", 0, "Re-crop date", "as entered"},
	{OwnLab, Published, "The soil laboratory", 0, "Nitrogen credit on the report", "as entered"},
	{ProteinN, Memory, "", 0, "Seed nitrogen is protein / 6.25", "reproduces Strydhorst's figures"},
	{RootThirty, Memory, "", 0, "30 % of plant nitrogen below ground", ""},
	{Strydhorst, Published, "Strydhorst, in the farm press", 0,
		"Measuring the nitrogen boost from pulses", "pea 50 bu at 22 % protein: 106 lb N"},
	{Student, Published, "Student", 1908, "The probable error of a mean", "paired differences"},
	{Walley, Published, "Walley et al.", 2007, "Nitrogen economy of pulse crop production",
		"Agron. J. 99:1710, abstract: chickpea and dry bean neutral or deficit"},
}
