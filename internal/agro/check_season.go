package agro

// The spans of the season's quantities.
var (
	temperatures = []span{{"C", -60, 60}, {"F", -76, 140}}
	rescueRates  = []span{{"lb/ac", 0, 300}, {"kg/ha", 0, 336}}
	rains        = []span{{"in", 0, 20}, {"mm", 0, 508}}
	passPrices   = []span{{"$/ac", 0, 500}, {"$/ha", 0, 1236}}
)

// season checks weather, passes and the rescue pass thought of.
func (c *check) season(in Input) {
	c.word("rules.soybeanCount", in.Rules.SoybeanCount, true, "tenAnySize", "sevenPink2mm")
	c.word("rules.degreeDays", in.Rules.DegreeDays, true, "meanThenFloor", "floorThenMean")
	c.word("rules.rescueRate", in.Rules.RescueRate, true, "limited", "uptakeLessSoil")
	c.optional("prices.pass", in.Prices.Pass, passPrices...)
	first, last := year(in.CropYear)+"-01-01", year(in.CropYear)+"-12-31"
	c.weather("weather", in.Weather, 366, first, last)
	c.weather("climate", in.Climate, mostClimate, year(in.CropYear-oldestClimate)+"-01-01",
		year(in.CropYear-1)+"-12-31")
	c.passes(in.Passes, in.CropYear)
	if in.Rescue != nil {
		c.rescue(*in.Rescue, in)
	}
}

// mostClimate is how many days of earlier years are taken: 40 years.
const mostClimate = 40 * 366

// weather demands days in order, each once, with the least not over the most.
func (c *check) weather(field string, days []DayTemp, most int, from, to string) {
	c.count(field, len(days), 0, most, "days")
	for i, d := range days {
		if c.err != nil {
			return
		}
		c.date(at(field, i, "date"), d.Date, from, to)
		c.quantity(at(field, i, "max"), d.Max, temperatures...)
		c.quantity(at(field, i, "min"), d.Min, temperatures...)
		if c.err == nil && celsius(d.Min) > celsius(d.Max) {
			c.fail(at(field, i, "min"), "order", "is over the day's highest, accepted is up to "+
				number(d.Max.Value)+" "+d.Max.Unit)
		}
		if i > 0 && c.err == nil && d.Date <= days[i-1].Date {
			c.fail(at(field, i, "date"), "order", "is not after the day before it, accepted is "+
				"oldest first and each day once")
		}
	}
}

func (c *check) passes(passes []Pass, cropYear int) {
	c.count("passes", len(passes), 0, 60, "passes")
	for i, p := range passes {
		c.text(at("passes", i, "product"), p.Product)
		c.date(at("passes", i, "date"), p.Date, year(cropYear-1)+"-08-01",
			year(cropYear)+"-12-31")
		if _, ok := clockTime(p.Time); p.Time != "" && !ok {
			c.fail(at("passes", i, "time"), "time", "is no time of day, accepted is 00:00 to 23:59")
		}
		if p.ReEntryHours != nil {
			c.within(at("passes", i, "reEntryHours"), *p.ReEntryHours, 0, mostHours, "h")
		}
		if p.ReCrop != "" {
			c.date(at("passes", i, "reCrop"), p.ReCrop, p.Date, year(cropYear+10)+"-12-31")
		}
	}
}

func (c *check) rescue(r Rescue, in Input) {
	c.optional("rescue.rate", r.Rate, rescueRates...)
	c.optional("rescue.rain", r.Rain, rains...)
	c.word("rescue.product", r.Product, true, "urea", "uan")
	c.word("rescue.stage", r.Stage, true, "V3", "R1", "R2", "R3", "R4", "R5")
	if r.On != "" {
		from := year(in.CropYear) + "-01-01"
		c.date("rescue.on", r.On, max(from, in.Plan.Seeded), year(in.CropYear)+"-12-31")
	}
}
