//go:build nocodec

package wire

import "hilum/internal/agro"

// The generator of the codec needs the shapes before there is a codec: it builds with these.

func readRequest(*decoder, *Request)            {}
func readSettings(*decoder, *Settings)          {}
func readField(*decoder, *Field)                {}
func readSeason(*decoder, *Season)              {}
func readSoilTest(*decoder, *SoilTest)          {}
func readDig(*decoder, *Dig)                    {}
func readPass(*decoder, *Pass)                  {}
func readCorrection(*decoder, *Correction)      {}
func readInput(*decoder, *agro.Input)           {}
func writeReply(*encoder, *Reply)               {}
func writeAnswer(*encoder, *Answer)             {}
func writeInput(*encoder, *agro.Input)          {}
func writeReport(*encoder, *agro.Report)        {}
func writeSyncResponse(*encoder, *SyncResponse) {}
