package golden

import (
	"encoding/json"
	"strconv"
	"strings"

	"hilum/internal/agro"
	"hilum/internal/agro/nodule"
	"hilum/internal/agro/soiln"
	"hilum/internal/agro/starter"
	"hilum/internal/unit"
)

// operation runs a function of the engine on a case's input.
type operation func(json.RawMessage) (map[string]any, error)

// operations by the case's op key.
var operations = map[string]operation{
	"field":      field,
	"convert":    with(convert),
	"product":    with(brought),
	"seedRow":    with(seedRow),
	"supply":     with(supply),
	"score":      with(score),
	"band":       with(band),
	"plant":      with(plant),
	"node":       with(node),
	"wilson":     with(wilson),
	"likelihood": with(likelihood),
	"enough":     with(enough),
	"reading":    with(reading),
	"soil":       with(soil),
	"walk":       with(walk),
	"survival":   with(survival),
	"adequate":   with(adequate),
	"outcome":    with(outcome),
	"belief":     with(belief),
}

// with decodes an operation's input strictly.
func with[T any](run func(T) map[string]any) operation {
	return func(raw json.RawMessage) (map[string]any, error) {
		var in T
		if err := strict(raw, &in); err != nil {
			return nil, err
		}
		return run(in), nil
	}
}

// field evaluates a whole input; results are named by the path of the report, such as
// "nitrogen.to12in.value" or "digs.0.class".
func field(raw json.RawMessage) (map[string]any, error) {
	var in agro.Input
	if err := strict(raw, &in); err != nil {
		return nil, err
	}
	report, err := agro.Evaluate(in)
	if err != nil {
		return map[string]any{"error": err.Error()}, nil
	}
	text, err := json.Marshal(report)
	if err != nil {
		return nil, err
	}
	var tree any
	if err := json.Unmarshal(text, &tree); err != nil {
		return nil, err
	}
	flat := map[string]any{}
	flatten(flat, "", tree)
	return flat, nil
}

func flatten(into map[string]any, path string, v any) {
	switch v := v.(type) {
	case map[string]any:
		for k, inner := range v {
			flatten(into, path+"."+k, inner)
		}
	case []any:
		into[strings.TrimPrefix(path+".length", ".")] = float64(len(v))
		for i, inner := range v {
			flatten(into, path+"."+strconv.Itoa(i), inner)
		}
	default:
		into[strings.TrimPrefix(path, ".")] = v
	}
}

type conversion struct {
	Value float64 `json:"value"`
	From  string  `json:"from"`
}

func convert(in conversion) map[string]any {
	switch in.From {
	case "lb/ac":
		return map[string]any{"kg/ha": float64(unit.LbPerAcre(in.Value).KgPerHa())}
	case "kg/ha":
		m := unit.KgPerHa(in.Value)
		return map[string]any{"lb/ac": float64(m.LbPerAcre()), "bu/ac": float64(m.BushelPerAcre())}
	case "ppm NO3":
		return map[string]any{"ppm NO3-N": float64(unit.PPM(in.Value).NitrateN())}
	case "ac":
		return map[string]any{"ha": unit.Hectares(in.Value)}
	case "cm":
		return map[string]any{"in": float64(unit.Centimeter(in.Value).Inch())}
	case "$/t":
		return map[string]any{"$/bu": unit.PerBushel(in.Value)}
	}
	return nil
}

type nutrient struct {
	Product string  `json:"product"`
	Rate    float64 `json:"rate"` // lb/ac of the nutrient that names the product's rate
}

func brought(in nutrient) map[string]any {
	return map[string]any{"n": float64(starter.Brought(in.Product, unit.LbPerAcre(in.Rate)))}
}

type drill struct {
	Spread float64 `json:"spread"` // in
	Row    float64 `json:"row"`    // in
	Tested float64 `json:"tested"` // lb N/ac
	Dry    bool    `json:"dry"`
}

func seedRow(in drill) map[string]any {
	use := starter.Utilization(unit.Inch(in.Spread), unit.Inch(in.Row))
	return map[string]any{"use": use,
		"limit": float64(starter.SeedRowLimit(unit.LbPerAcre(in.Tested), use, in.Dry))}
}

type supplyCase struct {
	To24    float64 `json:"to24"` // lb/ac
	Organic float64 `json:"organic"`
	Season  string  `json:"season"`
	NearRow float64 `json:"nearRow"` // fertilizer N in or near the row, lb/ac
	Uptake  float64 `json:"uptake"`  // lb/bu
	Yield   float64 `json:"yield"`   // bu/ac
}

func supply(in supplyCase) map[string]any {
	usable := float64(in.NearRow * soiln.Efficiency("seedRow"))
	s := soiln.NewSupply(unit.LbPerAcre(in.To24), in.Organic, in.Season, unit.LbPerAcre(usable),
		in.Uptake, unit.BushelPerAcre(in.Yield))
	return map[string]any{"share": s.Share(), "organic": float64(s.Organic)}
}

func score(in agro.Plant) map[string]any {
	p := nodule.Plant(in)
	total := nodule.Card.Total(p)
	return map[string]any{"a": float64(p.A()), "b": float64(nodule.Card.B(p)),
		"c": float64(nodule.Card.C(p)), "total": float64(total),
		"band":     nodule.Band(float64(total)),
		"nearEdge": nodule.NearEdge([]nodule.Plant{p})}
}

type mean struct {
	Mean float64 `json:"mean"`
}

func band(in mean) map[string]any { return map[string]any{"band": nodule.Band(in.Mean)} }

type judged struct {
	Plant agro.Plant `json:"plant"`
	When  string     `json:"when"`
	Days  int        `json:"days"`
}

func plant(in judged) map[string]any {
	return map[string]any{"result": nodule.Judge(nodule.Plant(in.Plant), in.When, in.Days)}
}

func node(in agro.Node) map[string]any {
	return map[string]any{
		"withScale": float64(nodule.Nodes(in.Count, in.Convention == "trueNodes"))}
}
