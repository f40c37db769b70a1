package code

import "slices"

// Entry is a code with the names of its arguments, space separated, as every catalogue must use
// them.
type Entry struct {
	Code string
	Args string
}

// Register lists every message and step the engine can emit.
var Register = append([]Entry{
	{StarterNoNitrate12, ""}, {StarterNoNitrate6, ""}, {StarterAskLayer, "low high"},
	{StarterEnough, "nitrate trigger"}, {StarterCoarseOnly, "nitrate trigger"},
	{StarterGap, "nitrate trigger"}, {StarterCovered, "planned"},
	{PracticeTopUp, "nitrate trigger most"}, {PracticeEnough, "nitrate trigger most"},
	{PracticeBetween, "nitrate trigger most"},
	{LimitExternal, "most"}, {LimitMidRow, ""}, {LimitSeedRow, "most used"},
	{SeedRowNoDrill, "most"},

	{NitrogenBounded, "depth"}, {NitrogenAtLeast, "depth least"}, {NitrogenNoLayer, "depth"},
	{NitrogenNoTest, ""},
	{ExternalUnknown, ""}, {ExternalBounded, ""}, {ExternalPrevents, "external"},
	{ExternalDelays, "external"}, {ExternalLow, "external"},
	{SupplyNoYield, ""}, {SupplyNoOrganic, ""}, {SupplyEstimated, "nitrate"},
	{SupplyLowerBound, ""}, {LossNoSupply, ""}, {LossNoPrice, ""},

	{WalkSeen, "seen"}, {WalkHost, ""}, {WalkNoRecord, ""}, {WalkFlooded, ""},

	{OptionAssumedClass, ""}, {OptionAssumedHours, "hours"}, {OptionState, "state form"},
	{OptionLabelHours, "hours most form"},
	{AdviceAlways, ""}, {AdviceNoLiquid, "pH from"}, {AdviceNoPeat, "pH from"},
	{AdviceEnough, "option fail most"}, {AdviceTooLikely, "option fail most"},
	{AdviceLeast, "option fail most"},

	{DigNoneCounted, ""}, {DigTooEarly, ""}, {DigTooEarlyUntil, "date"},
	{DigEmergenceGuessed, ""}, {DigTimingUnknown, ""}, {DigLate, ""}, {DigNotYet, "plants"},
	{DigNotCut, "plants"}, {DigGreenOnSoilN, "plants"}, {DigPatchy, ""}, {DigNearEdge, ""},
	{DigMore, "spots"}, {DigUndecided, ""}, {DigNitrateUnknown, ""},
	{DigNitrateHides, "external"}, {DigPlanGuessed, "option"}, {DigSuspect, "cause"},
	{DigRootRot, ""},

	{MissingSoilTest, ""}, {MissingLayer12, ""}, {MissingYield, ""}, {MissingOrganic, ""},
	{MissingTexture, ""}, {MissingDrill, ""}, {MissingPH, "assumed"}, {MissingHistory, ""},
	{MissingYears, ""}, {MissingSeedbed, ""}, {MissingPrice, ""}, {MissingEmerged, ""},

	{CautionLabel, ""}, {CautionGear, ""}, {CautionNeverMix, ""}, {CautionBoots, ""},
	{CautionCanopy, "external"}, {CautionCanopyMoist, ""}, {CautionSeedRow, "planned most"},
	{CautionHighPH, "pH"}, {CautionLowPH, "pH"}, {CautionFreeLime, ""},

	{StepLayer, "top bottom found"}, {StepNitrate12, ""}, {StepPlannedN, ""},
	{StepUsableNitrate, "nitrate"}, {StepOrganicN, "organic"}, {StepFertilizerN, ""},
	{StepNeed, "yield uptake"}, {StepServing, ""}, {StepStarter, ""}, {StepSeedbedUse, ""},
	{StepTestedLimit, ""}, {StepDryHalf, ""}, {StepFloor, "pH"}, {StepLift, ""},
	{StepDecline, ""}, {StepWaterPH, "measured"}, {StepSoilCells, ""},
	{StepSurvival, "form seedbed hours class"}, {StepAdequate, ""}, {StepSupply, ""},
	{StepCounted, ""}, {StepEffective, ""}, {StepNitrateHides, "external"},
	{StepTiming, "days"},

	{StarterNoNitrate24, ""}, {StarterNever, ""}, {StarterMapOnly, "nitrate trigger"},
	{StarterDryOrFirst, "nitrate trigger"}, {StarterTo24May, "nitrate"},
	{StarterTo24Neither, "nitrate"}, {StarterTo24None, "nitrate"}, {BeanNone, ""},
	{BeanTotal, "total nitrate planned"}, {LimitApplied, "most"}, {StarterFirstYear, ""},
	{SeedRowWide, "from"}, {SeedRowNoP, ""}, {SeedRowOtherP, "most"},
	{NitrogenFallAdded, "added"}, {NitrogenFallAsIs, ""}, {ResidualTested, ""},
	{ResidualNoHarvest, ""}, {ResidualEstimate, ""}, {ProductNothing, ""},
	{ProductNotKnown, ""}, {ProductRounded, "dry liquid"}, {ProductNoPrice, ""},
	{ProductShared, ""}, {FieldNoArea, ""}, {SeedingNoWeight, ""},
	{SeedingNoGermination, ""}, {SeedingNoPrice, ""}, {SeedingLosses, "low high"},
	{SeedingCold, ""}, {GranularNoLabel, ""}, {GranularNoRow, ""}, {DoseNoCount, ""},
	{DoseEnough, "times standard"}, {DoseShort, "times standard"}, {LossBean, ""},
	{PaysReference, ""}, {PaysNoCost, ""}, {AdviceDouble, "share from"},
	{AdviceSingle, "share from"}, {MissingCosts, ""}, {MissingHarvested, ""},
	{CautionSeedRowP, "planned most"}, {CautionSeedRowUrea, ""}, {CautionFallTest, ""},
	{CautionChlorosis, ""}, {StepCoarse, ""}, {StepFallToSpring, ""},
	{StepGivenN, ""}, {StepRemovedN, "yield"},
	{StepGrade, ""}, {StepWeight, ""}, {StepStand, ""}, {StepKernels, ""}, {StepSurvives, ""},
	{StepPerFoot, "spacing"},
	{StepLabelRate, "spacing"}, {StepRowSpacing, ""}, {StepGuaranteed, ""},
	{StepGainShare, ""}, {StepOptionCost, ""},
}, slices.Concat(season, after, turn)...)

// Vocabulary lists the families of words that inputs and reports use as values; a catalogue holds
// family.word for each.
var Vocabulary = map[string][]string{
	"crop": {"pea", "lentil", "desiChickpea", "kabuliChickpea", "fabaBean", "dryBean",
		"soybean"},
	"decision":   {"none", "optional", "apply", "unknown"},
	"rule":       {"published", "practice"},
	"kind":       {"published", "derived", "practice", "memory", "ours"},
	"option":     options,
	"seedbed":    {"moist", "marginal", "dry", "hotDry"},
	"season":     {"dry", "normal", "moist"},
	"zone":       {"brown", "darkBrown", "black", "grey"},
	"texture":    {"coarse", "medium", "fine"},
	"placement":  {"seedRow", "sideBand", "pairedRow", "twinKnife", "midRow", "broadcast"},
	"product":    {"map", "ammoniumSulphate", "urea", "uan", "coatedUrea"},
	"state":      {"good", "expired", "frozen", "overheated"},
	"treatment":  {"0", "1", "2"},
	"nodulation": {"good", "poor"},
	"bring":      {"spade", "knife", "water", "brush", "tape", "bags"},
	"visit":      {"look", "decide", "again", "record", "none"},
	"suspicion": {"rootRot", "weevil", "waterlogging", "herbicide", "drought", "seedTreatment",
		"salinity", "compaction"},
	"vigour":     {"vigorous", "small", "pale", "yellow"},
	"nodules":    {"over5", "3to5", "under3", "none"},
	"inside":     {"pink", "white", "green", "brown", "notCut"},
	"position":   {"crownAndLateral", "mostlyCrown", "mostlyLateral", "none"},
	"when":       {"early", "decision", "scored", "late"},
	"class":      {"adequate", "borderline", "poor", "none", "tooEarly"},
	"enough":     {"adequate", "poor", "more", "undecided"},
	"band":       {"effective", "lessEffective", "poor"},
	"result":     {"adequate", "notYet", "poor"},
	"nodeCount":  {"withScale", "trueNodes"},
	"ppmRule":    {"2per6in", "0.3perInch", "bulkDensity"},
	"phBasis":    {"water", "CaCl2"},
	"credit":     {"lab", "byZone", "manitoba", "flat40", "byYield", "perTonne", "none"},
	"root":       {"none", "greenhouse", "thirtyPercent"},
	"rootRot":    {"none", "amber", "red", "unknown"},
	"degreeDays": {"meanThenFloor", "floorThenMean"},
	"basis":      {"measured", "climate", "daysPerNode"},
	"offer":      {"yes", "whatIf", "no", "outsideWindow", "unknown"},
	"rescueBy":   {"stage", "nitrogen"},
	"soyStage":   {"V3", "R1", "R2", "R3", "R4", "R5"},
	"soyCount":   {"tenAnySize", "sevenPink2mm"},
	"rescueRate": {"limited", "uptakeLessSoil"},
	"response":   {"high", "moderate", "low"},
	"inoculate":  {"single", "double"},
	"beanRule":   {"total70", "total80", "yieldBased", "none", "firstYear50"},
	// Units that are words: the others are symbols, the same in every language.
	"unit": {"bu", "bu/ac", "$/bu", "cells/g", "cells/ha", "cells/seed", "in", "ft",
		"log10 cells/g", "nodes", "pairs", "seeds/ft", "year", "years", "days", "digs", "spots",
		"plants", "plants/m2", "US gal/ac", "imp gal/ac", "$/field"},
}

// options are the keys of inoculant plans: the five compared, and what else a plan may combine.
var options = []string{"none", "liquid", "peat", "granular", "granularPeat", "peatLiquid",
	"granularLiquid", "granularPeatLiquid"}
