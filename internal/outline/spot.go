package outline

import (
	"cmp"
	"math"
	"slices"
)

// How far spots stay away from the edge of a field and from the edges of what is cut out of it.
const (
	// HeadlandM keeps off the headland as well (common practice): two rounds of a drill 18 m wide
	// are 36 m, and what is overlapped there tells nothing of the field.
	HeadlandM = 40.0
	// EdgeM is the distance that a grower guide draws (published: University of Adelaide and GRDC,
	// three spots 20 m in from the edge). It stands where the field is too narrow for HeadlandM.
	EdgeM = 20.0
)

// steps are the distances tried: a strip or a small plot takes what room it has.
var steps = [...]float64{HeadlandM, EdgeM, 10, 5, 2, 0}

// Fewest and Most bound how many spots may be asked for.
const (
	Fewest = 3
	Most   = 12
)

// The number of spots by size. Guides dig at 3 to 5 places whatever the size (published: Adelaide
// and GRDC 3; Manitoba 5); more on more ground is ours: 5 to a quarter section (64.7 ha), one more
// for each half of it, 10 at most.
const (
	usual     = 5
	usualMost = 10
	quarterM2 = 647_000.0
)

// Count gives the usual number of spots for an area.
func Count(areaM2 float64) int {
	more := math.Ceil((areaM2 - quarterM2*1.05) / (quarterM2 / 2))
	return usual + int(max(0, min(usualMost-usual, more)))
}

const (
	candidates = 2000 // places from which spots are chosen
	fewest     = 100  // of them must be left after the edge is taken off, or less is taken off
	rounds     = 40   // of the spreading; it settles after about 15
)

// Spots gives places to dig that are spread evenly over a field, in the order of a short walk that
// begins and ends at the outline's first position, which is taken for the way in. The same
// outline, seed and count give the same spots. edgeM is how far from the edge they lie at least.
// The count is bounded by Fewest and Most; the outline must have passed Check.
func Spots(polygons [][][][]float64, seed string, count int) (spots []Place, edgeM float64) {
	p := planeOf(polygons)
	fields := inMetres(polygons, p)
	draw := newDraw(seed)
	all := scatter(fields, draw)
	edges := allSides(fields)
	room := make([]float64, len(all))
	for i, at := range all {
		room[i] = nearest(edges, at)
	}
	count = max(Fewest, min(Most, count))
	var kept []point
	for _, edgeM = range steps {
		kept = kept[:0]
		for i, at := range all {
			if room[i] >= edgeM {
				kept = append(kept, at)
			}
		}
		if len(kept) >= fewest {
			break
		}
	}
	chosen := spread(kept, count, draw)
	for _, at := range tour(p.metres(polygons[0][0][0]), chosen) {
		spots = append(spots, p.degrees(at))
	}
	return spots, edgeM
}

// field is a polygon in metres: the sides of all its rings.
type field []side

func inMetres(polygons [][][][]float64, p plane) []field {
	var fields []field
	for _, rings := range polygons {
		var f field
		for _, ring := range rings {
			for i := 1; i < len(ring); i++ {
				f = append(f, side{p.metres(ring[i-1]), p.metres(ring[i])})
			}
		}
		fields = append(fields, f)
	}
	return fields
}

func allSides(fields []field) []side {
	var sides []side
	for _, f := range fields {
		sides = append(sides, f...)
	}
	return sides
}

// scatter gives places within the polygons, each standing for about the same area. It cuts each
// polygon into rows and goes along what of them lies inside, so that a sliver gets as many as a
// square of its size.
func scatter(fields []field, d *draw) []point {
	total := 0.0
	for _, f := range fields {
		total += f.size()
	}
	var all []point
	for _, f := range fields {
		n := int(math.Ceil(candidates * f.size() / total))
		if total == 0 {
			n = 1
		}
		all = append(all, f.scatter(n, d)...)
	}
	return all
}

// size is the area of the polygon, its holes taken off whichever way they wind: measured by rows.
func (f field) size() float64 {
	const rows = 64
	low, high := f.span()
	sum := 0.0
	for i := range rows {
		for _, s := range f.inside(low + (float64(i)+0.5)*(high-low)/rows) {
			sum += s.y - s.x
		}
	}
	return sum * (high - low) / rows
}

func (f field) span() (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, s := range f {
		low, high = min(low, s.a.y), max(high, s.a.y)
	}
	return low, high
}

// inside gives what of a row lies inside, each as a point from x to y, from west to east.
func (f field) inside(row float64) []point {
	var at []float64
	for _, s := range f {
		if (s.a.y > row) != (s.b.y > row) {
			at = append(at, s.a.x+(row-s.a.y)/(s.b.y-s.a.y)*(s.b.x-s.a.x))
		}
	}
	slices.Sort(at)
	var spans []point
	for i := 1; i < len(at); i += 2 {
		spans = append(spans, point{at[i-1], at[i]})
	}
	return spans
}

// scatter gives n places within the polygon, on as many rows as they stand in one.
func (f field) scatter(n int, d *draw) []point {
	low, high := f.span()
	rows := max(8, int(math.Sqrt(float64(n))*1.5))
	type part struct{ from, to, row float64 }
	var parts []part
	length, shift := 0.0, 0.25+d.share()/2
	for i := range rows {
		row := low + (float64(i)+shift)*(high-low)/float64(rows)
		for _, s := range f.inside(row) {
			parts = append(parts, part{s.x, s.y, row})
			length += s.y - s.x
		}
	}
	var all []point
	step := length / float64(n)
	next := step * (0.25 + d.share()/2)
	for _, s := range parts {
		for ; next < s.to-s.from; next += step {
			all = append(all, point{s.from + next, s.row})
			if step <= 0 {
				break
			}
		}
		next -= s.to - s.from
	}
	return all
}

// nearest gives how far the nearest side is, HeadlandM where it is farther than that.
func nearest(sides []side, at point) float64 {
	best, reach := HeadlandM*HeadlandM, HeadlandM
	for _, s := range sides {
		if far(s.a.x, s.b.x, at.x, reach) || far(s.a.y, s.b.y, at.y, reach) {
			continue
		}
		if d := away(s, at); d < best {
			best, reach = d, math.Sqrt(d)
		}
	}
	return reach
}

// far says whether a coordinate is more than reach beside the span of two others.
func far(a, b, at, reach float64) bool {
	return a-at > reach && b-at > reach || at-a > reach && at-b > reach
}

// away gives the square of the distance between a place and a side.
func away(s side, at point) float64 {
	wide, high := s.b.x-s.a.x, s.b.y-s.a.y
	along := 0.0
	if long := wide*wide + high*high; long > 0 {
		along = max(0, min(1, ((at.x-s.a.x)*wide+(at.y-s.a.y)*high)/long))
	}
	return apart(at, point{s.a.x + along*wide, s.a.y + along*high})
}

// apart gives the square of the distance between two places.
func apart(a, b point) float64 { return (a.x-b.x)*(a.x-b.x) + (a.y-b.y)*(a.y-b.y) }

// spread chooses places so that each stands for a part of the field about it, all parts about as
// large (Lloyd 1982, from the farthest apart on). Fewer come back where there are fewer places.
func spread(from []point, count int, d *draw) []point {
	if len(from) <= count {
		return from
	}
	middles := farthest(from, count, d)
	owner := make([]int, len(from))
	for range rounds {
		if !assign(from, middles, owner) {
			break
		}
		recentre(from, middles, owner)
	}
	chosen := make([]point, 0, count)
	for i, middle := range middles {
		best := -1
		for j, at := range from {
			if owner[j] == i && (best < 0 || apart(at, middle) < apart(from[best], middle)) {
				best = j
			}
		}
		if best >= 0 {
			chosen = append(chosen, from[best])
		}
	}
	return chosen
}

// farthest begins with a drawn place and takes the one farthest from all so far.
func farthest(from []point, count int, d *draw) []point {
	chosen := []point{from[int(d.share()*float64(len(from)))]}
	for len(chosen) < count {
		best, far := 0, -1.0
		for i, at := range from {
			if near := closest(chosen, at); near > far {
				best, far = i, near
			}
		}
		chosen = append(chosen, from[best])
	}
	return chosen
}

func closest(to []point, at point) float64 {
	best := math.Inf(1)
	for _, t := range to {
		best = min(best, apart(t, at))
	}
	return best
}

// assign gives each place to its nearest middle; false once nothing changes hands any more.
func assign(from, middles []point, owner []int) bool {
	changed := false
	for i, at := range from {
		mine := 0
		for j, middle := range middles {
			if apart(at, middle) < apart(at, middles[mine]) {
				mine = j
			}
		}
		changed = changed || owner[i] != mine
		owner[i] = mine
	}
	return changed
}

func recentre(from, middles []point, owner []int) {
	sums, counts := make([]point, len(middles)), make([]float64, len(middles))
	for i, at := range from {
		sums[owner[i]].x += at.x
		sums[owner[i]].y += at.y
		counts[owner[i]]++
	}
	for i, n := range counts {
		if n > 0 {
			middles[i] = point{sums[i].x / n, sums[i].y / n}
		}
	}
}

// tour puts places into the order of the shortest way from the start through all and back (Held
// and Karp 1962; Most keeps it small).
func tour(start point, places []point) []point {
	n := len(places)
	if n < 2 {
		return places
	}
	// best[set][last]: the shortest way from the start through a set of places, ending at last.
	best, before := make([][]float64, 1<<n), make([][]int, 1<<n)
	for set := range best {
		best[set], before[set] = make([]float64, n), make([]int, n)
		for last := range n {
			best[set][last] = math.Inf(1)
			rest := set &^ (1 << last)
			if set&(1<<last) == 0 {
				continue
			}
			if rest == 0 {
				best[set][last] = math.Sqrt(apart(start, places[last]))
			}
			for from := range n {
				way := best[rest][from] + math.Sqrt(apart(places[from], places[last]))
				if rest&(1<<from) != 0 && way < best[set][last] {
					best[set][last], before[set][last] = way, from
				}
			}
		}
	}
	return trace(start, places, best, before)
}

// trace goes back along the best way.
func trace(start point, places []point, best [][]float64, before [][]int) []point {
	set := len(best) - 1
	ends := make([]int, len(places))
	for i := range ends {
		ends[i] = i
	}
	home := func(last int) float64 { return best[set][last] + math.Sqrt(apart(places[last], start)) }
	last := slices.MinFunc(ends, func(a, b int) int { return cmp.Compare(home(a), home(b)) })
	var back []point
	for range places {
		back = append(back, places[last])
		last, set = before[set][last], set&^(1<<last)
	}
	slices.Reverse(back)
	return back
}

// draw gives numbers that look drawn and are the same for the same seed (splitmix64, Steele and
// others 2014, seeded by FNV-1a).
type draw struct{ state uint64 }

func newDraw(seed string) *draw {
	state := uint64(14695981039346656037)
	for i := range len(seed) {
		state = (state ^ uint64(seed[i])) * 1099511628211
	}
	return &draw{state}
}

// share gives a number from 0 up to but not including 1.
func (d *draw) share() float64 {
	d.state += 0x9e3779b97f4a7c15
	z := d.state
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return float64((z^z>>31)>>11) / (1 << 53)
}
