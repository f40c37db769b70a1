package wire

import "math/bits"

// digest is SHA-256 (FIPS 180-4, section 6.2) in hex. The standard library's would bring its
// self-tests and a random source into the phone's engine, 35 kB; a test holds both together.
func digest(data []byte) string {
	size := uint64(len(data)) * 8
	state := firstState
	for ; len(data) >= 64; data = data[64:] {
		mix(&state, data[:64])
	}
	tail := append(make([]byte, 0, 128), data...)
	tail = append(tail, 0x80)
	for len(tail)%64 != 56 {
		tail = append(tail, 0)
	}
	for shift := 56; shift >= 0; shift -= 8 {
		tail = append(tail, byte(size>>shift))
	}
	for ; len(tail) > 0; tail = tail[64:] {
		mix(&state, tail[:64])
	}
	out := make([]byte, 0, 64)
	for _, word := range state {
		for shift := 28; shift >= 0; shift -= 4 {
			out = append(out, hexDigits[word>>shift&15])
		}
	}
	return string(out)
}

// mix takes one block of 64 bytes into the state.
func mix(state *[8]uint32, block []byte) {
	var w [64]uint32
	for t := range 16 {
		b := block[4*t:]
		w[t] = uint32(b[0])<<24 | uint32(b[1])<<16 | uint32(b[2])<<8 | uint32(b[3])
	}
	for t := 16; t < 64; t++ {
		x, y := w[t-15], w[t-2]
		w[t] = w[t-16] + w[t-7] + (turn(x, 7) ^ turn(x, 18) ^ x>>3) +
			(turn(y, 17) ^ turn(y, 19) ^ y>>10)
	}
	a, b, c, d, e, f, g, h := state[0], state[1], state[2], state[3], state[4], state[5],
		state[6], state[7]
	for t, k := range roundWords {
		first := h + (turn(e, 6) ^ turn(e, 11) ^ turn(e, 25)) + (e&f ^ ^e&g) + k + w[t]
		second := (turn(a, 2) ^ turn(a, 13) ^ turn(a, 22)) + (a&b ^ a&c ^ b&c)
		a, b, c, d, e, f, g, h = first+second, a, b, c, d+first, e, f, g
	}
	for i, v := range [8]uint32{a, b, c, d, e, f, g, h} {
		state[i] += v
	}
}

func turn(x uint32, by int) uint32 { return bits.RotateLeft32(x, -by) }

// firstState: the first 32 bits of the fractions of the square roots of the first 8 primes.
var firstState = [8]uint32{
	0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19,
}

// roundWords: the same of the cube roots of the first 64 primes.
var roundWords = [64]uint32{
	0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
	0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
	0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
	0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
	0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
	0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
	0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
	0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2,
}
