package code

// The codes of what follows harvest and of what knowing is worth.
const (
	BalanceNoYield     = "balance.noYield"
	BalanceUnsure      = "balance.unsure"
	BalanceDigs        = "balance.digs"
	BalanceImpossible  = "balance.impossible"
	BalanceNeverAdd    = "balance.neverAdd"
	CreditNotPublished = "credit.notPublished"
	CreditNoZone       = "credit.noZone"
	CreditNoYield      = "credit.noYield"
	CreditNoLab        = "credit.noLab"
	CreditLab          = "credit.labFirst"
	CreditAskLab       = "credit.askLab"

	RotationNoHost     = "rotation.noHost"
	RotationGap        = "rotation.gap"
	RotationResistant  = "rotation.resistant"
	RotationShort      = "rotation.short"
	RotationRed        = "rotation.red"
	RotationPartial    = "rotation.partial"
	RotationNewGround  = "rotation.newGround"
	RotationTest       = "rotation.test"
	RotationSame       = "rotation.samePulse"
	RotationOther      = "rotation.otherPulse"
	RotationNear       = "rotation.near"
	RotationAskNear    = "rotation.askDistance"
	RotationReCrop     = "rotation.reCrop"
	RotationReCropOver = "rotation.reCropBroken"

	StripNone      = "strip.none"
	StripOnePair   = "strip.onePair"
	StripEqual     = "strip.equal"
	StripReal      = "strip.real"
	StripNotShown  = "strip.notShown"
	StripFewPairs  = "strip.fewPairs"
	StripMany      = "strip.many"
	StripFlipSplit = "strip.flipSplit"

	ValueNotOffered = "value.notOffered"
	ValueNoCost     = "value.noCost"
	ValueNoNPrice   = "value.noNitrogenPrice"
	ValueOutside    = "value.outside"
	ValueNoDigCost  = "value.noDigCost"
	ValueNoTestCost = "value.noTestCost"
	ValueTested     = "value.tested"
	ValueNoTrials   = "value.noTrials"
	ValueTreat      = "value.treatAnyway"
	ValueNothing    = "value.changesNothing"
	ValueStarter    = "value.starterOnly"

	StepUptaken     = "step.uptaken"
	StepNdfa        = "step.ndfa"
	StepRoots       = "step.roots"
	StepFixed       = "step.fixed"
	StepSeedTable   = "step.seedTable"
	StepSeedProtein = "step.seedProtein"
	StepRemoved     = "step.removed"
	StepPerBushel   = "step.perBushel"
	StepDeviation   = "step.deviation"
	StepStdError    = "step.standardError"
	StepFreedom     = "step.freedom"
	StepPassN       = "step.passN"
	StepPassCost    = "step.passCost"
	StepPassNow     = "step.passNow"
	StepDigSpots    = "step.digSpots"
	StepMoreSpots   = "step.moreSpots"
	StepTreat       = "step.treat"
	StepLowChance   = "step.lowChance"
	StepLowNet      = "step.lowNet"
	StepOtherNet    = "step.otherNet"
	StepRight       = "step.right"
	StepWholeField  = "step.wholeField"
)

// after lists the arguments of the codes above.
var after = []Entry{
	{BalanceNoYield, ""}, {BalanceUnsure, "low high"}, {BalanceDigs, "adequate"},
	{BalanceImpossible, "removed uptake"}, {BalanceNeverAdd, ""}, {CreditNotPublished, ""},
	{CreditNoZone, ""}, {CreditNoYield, ""}, {CreditNoLab, ""}, {CreditLab, ""},
	{CreditAskLab, ""},

	{RotationNoHost, "years"}, {RotationGap, "year"}, {RotationResistant, ""},
	{RotationShort, "free ideal"}, {RotationRed, "free least"}, {RotationPartial, "year"},
	{RotationNewGround, ""}, {RotationTest, ""}, {RotationSame, "years least"},
	{RotationOther, "years least"}, {RotationNear, "distance least"},
	{RotationAskNear, "least"}, {RotationReCrop, "product date"},
	{RotationReCropOver, "product date"},

	{StripNone, ""}, {StripOnePair, ""}, {StripEqual, ""}, {StripReal, "p"},
	{StripNotShown, "p"}, {StripFewPairs, "pairs least"}, {StripMany, "most"},
	{StripFlipSplit, ""},

	{ValueNotOffered, ""}, {ValueNoCost, ""}, {ValueNoNPrice, ""}, {ValueOutside, ""},
	{ValueNoDigCost, ""}, {ValueNoTestCost, ""}, {ValueTested, ""}, {ValueNoTrials, ""},
	{ValueTreat, "net"}, {ValueNothing, ""}, {ValueStarter, ""},

	{StepUptaken, "yield uptake"}, {StepNdfa, ""}, {StepRoots, ""}, {StepFixed, ""},
	{StepSeedTable, ""}, {StepSeedProtein, "protein"}, {StepRemoved, "yield"},
	{StepPerBushel, "yield"}, {StepDeviation, ""}, {StepStdError, ""}, {StepFreedom, ""},
	{StepPassN, ""}, {StepPassCost, ""}, {StepPassNow, ""}, {StepDigSpots, "spots plants"},
	{StepMoreSpots, "spots plants"}, {StepTreat, ""}, {StepLowChance, ""}, {StepLowNet, ""},
	{StepOtherNet, ""}, {StepRight, ""}, {StepWholeField, "area"},
}
