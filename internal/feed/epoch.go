package feed

// RestoreGap is how far the head jumps when a restored account begins a new epoch. What phones
// write after a restore may rest on change numbers that the lost days had given out. Numbers given
// from now on lie above all of those, so that nothing new passes for something a person had seen,
// and two values that met in the dark open a conflict. Ten million changes are more than an account
// makes in a lifetime, and JSON numbers stay exact for 900 million such jumps.
const RestoreGap = 10_000_000
