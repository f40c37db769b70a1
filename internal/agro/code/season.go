package code

// The codes of the season: stage, rescue, what else turns a crop yellow, digs by count.
const (
	StageNoDates    = "stage.noDates"
	StageNoSeeded   = "stage.noSeeded"
	StageNoWeather  = "stage.noWeather"
	StageNoRate     = "stage.noRate"
	StageEnds       = "stage.ends"
	StageOtherCount = "stage.otherCount"
	StageSqueezed   = "stage.squeezed"
	StageCool       = "stage.cool"
	StageByStage    = "stage.byStage"
	StageRecheck    = "stage.recheck"
	StageNoRescue   = "stage.noRescue"

	RescueNo          = "rescue.notOffered"
	RescueNoDig       = "rescue.noDig"
	RescueTooEarly    = "rescue.tooEarly"
	RescueRootRot     = "rescue.rootRot"
	RescueNoSeeded    = "rescue.noSeeded"
	RescueNoDate      = "rescue.noDate"
	RescueNoStage     = "rescue.noStage"
	RescueBefore      = "rescue.beforeSeeding"
	RescueOutside     = "rescue.outside"
	RescueWhatIf      = "rescue.whatIf"
	RescueMiddle      = "rescue.middle"
	RescueEffective   = "rescue.effective"
	RescueCount       = "rescue.count"
	RescueFromModel   = "rescue.fromModel"
	RescueNoCost      = "rescue.noCost"
	RescueNoGain      = "rescue.noGain"
	RescueNotPaying   = "rescue.notPaying"
	RescueNoCap       = "rescue.noCap"
	RescueNoSoilN     = "rescue.noSoilNitrogen"
	RescueNoNitrogen  = "rescue.nothingToFill"
	RescueOpen        = "rescue.open"
	RescueRainAtR3    = "rescue.rainAtR3"
	RescueUAN         = "rescue.uan"
	RescueLate        = "rescue.late"
	RescueCheckStrip  = "rescue.checkStrip"
	RescueCredit      = "rescue.credit"
	RescueIfDry       = "rescue.ifDry"
	RescueBreakEven   = "rescue.breakEven"
	StressRootRot     = "stress.rootRot"
	StressWeevil      = "stress.weevil"
	StressWater       = "stress.water"
	StressHerbicide   = "stress.herbicide"
	StressDrought     = "stress.drought"
	StressWearing     = "stress.wearing"
	StressSalt        = "stress.salt"
	StressPacked      = "stress.packed"
	StressNitrate     = "stress.nitrate"
	StressMaybeDry    = "stress.maybeDry"
	StressAcid        = "stress.acid"
	StressTreatment   = "stress.treatment"
	StressWornOff     = "stress.wornOff"
	StressSulphur     = "stress.sulphur"
	StressPhosphorus  = "stress.phosphorus"
	HoldRootRot       = "hold.rootRot"
	HoldWater         = "hold.water"
	HoldHerbicide     = "hold.herbicide"
	HoldDrought       = "hold.drought"
	HoldWeevil        = "hold.weevil"
	HoldStack         = "hold.stack"
	PassClear         = "pass.clear"
	PassUnread        = "pass.unread"
	DigNotCounted     = "dig.notCounted"
	DigOtherRule      = "dig.otherRuleUnknown"
	DigJoint          = "dig.joint"
	StandNotCounted   = "stand.notCounted"
	NextEarlyGood     = "next.earlyGood"
	NextEarly         = "next.early"
	NextUnsure        = "next.unsure"
	NextDecided       = "next.decided"
	NextNoTime        = "next.noTime"
	NextScored        = "next.scored"
	NextNoDig         = "next.noDig"
	MissingSeeded     = "missing.seeded"
	MissingNPrice     = "missing.nitrogenPrice"
	MissingPassPrice  = "missing.passPrice"
	MissingLabelHours = "missing.labelHours"
	MissingStage      = "missing.stage"

	StepHeat        = "step.heat"
	StepNodeRate    = "step.nodeRate"
	StepLossShare   = "step.lossShare"
	StepPhi         = "step.phi"
	StepStageLimit  = "step.stageLimit"
	StepNLimit      = "step.nitrogenLimit"
	StepTaken       = "step.taken"
	StepCost        = "step.cost"
	StepJoint       = "step.joint"
	StepLimitedRate = "step.limitedRate"
	StepUptakeRate  = "step.uptakeRate"
	StepFlatRate    = "step.flatRate"
	StepTrialRate   = "step.trialRate"
	StepSoilN       = "step.soilNitrogen"
	StepRescueGain  = "step.rescueGain"
	StepLostYield   = "step.lostYield"
	StepStandPlants = "step.standPlants"
	StepStandGround = "step.standGround"
)

// season lists the arguments of the season's codes.
var season = []Entry{
	{StageNoDates, ""}, {StageNoSeeded, ""}, {StageNoWeather, ""}, {StageNoRate, ""},
	{StageEnds, "date"}, {StageOtherCount, "date count"}, {StageSqueezed, ""},
	{StageCool, "mean"}, {StageByStage, ""}, {StageRecheck, ""}, {StageNoRescue, ""},

	{RescueNo, ""}, {RescueNoDig, ""}, {RescueTooEarly, ""}, {RescueRootRot, ""},
	{RescueNoSeeded, ""}, {RescueNoDate, ""}, {RescueNoStage, ""}, {RescueBefore, ""},
	{RescueOutside, ""}, {RescueWhatIf, ""}, {RescueMiddle, "score"},
	{RescueEffective, "score"}, {RescueCount, ""}, {RescueFromModel, ""}, {RescueNoCost, ""},
	{RescueNoGain, ""}, {RescueNotPaying, ""}, {RescueNoCap, ""}, {RescueNoSoilN, ""},
	{RescueNoNitrogen, ""}, {RescueOpen, "lost rain"}, {RescueRainAtR3, ""}, {RescueUAN, ""},
	{RescueLate, ""}, {RescueCheckStrip, ""}, {RescueCredit, ""}, {RescueIfDry, ""},
	{RescueBreakEven, "price gain"},

	{StressRootRot, ""}, {StressWeevil, ""}, {StressWater, ""}, {StressHerbicide, ""},
	{StressDrought, ""}, {StressWearing, ""}, {StressSalt, ""}, {StressPacked, ""},
	{StressNitrate, "external"}, {StressMaybeDry, ""}, {StressAcid, ""},
	{StressTreatment, ""}, {StressWornOff, "days"}, {StressSulphur, ""},
	{StressPhosphorus, ""}, {HoldRootRot, ""}, {HoldWater, ""}, {HoldHerbicide, ""},
	{HoldDrought, ""}, {HoldWeevil, ""}, {HoldStack, "date"}, {PassClear, "product date"},
	{PassUnread, "product date"},

	{DigNotCounted, "plants"}, {DigOtherRule, ""}, {DigJoint, "digs"},
	{StandNotCounted, ""},
	{NextEarlyGood, ""}, {NextEarly, ""},
	{NextUnsure, ""},
	{NextDecided, ""}, {NextNoTime, ""}, {NextScored, ""}, {NextNoDig, ""},
	{MissingSeeded, ""}, {MissingNPrice, ""}, {MissingPassPrice, ""},
	{MissingLabelHours, ""}, {MissingStage, ""},

	{StepHeat, "method base"}, {StepNodeRate, ""}, {StepLossShare, ""}, {StepPhi, ""},
	{StepStageLimit, ""}, {StepNLimit, ""}, {StepTaken, "lost"}, {StepCost, ""},
	{StepJoint, "digs"}, {StepLimitedRate, ""}, {StepUptakeRate, "uptake"},
	{StepFlatRate, ""}, {StepTrialRate, ""}, {StepSoilN, ""}, {StepRescueGain, ""}, {StepLostYield, ""},
	{StepStandPlants, ""}, {StepStandGround, ""},
}
