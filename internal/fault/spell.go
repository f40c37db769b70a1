package fault

import "strconv"

// spell fills a message in as fmt.Sprintf does, for the verbs that faults use: %s, %d, %q, %v and
// %g without flags. The engine must not link fmt, which with its reflection is a good part of what
// the phone loads. A value of a type that it does not know is named, not shown.
func spell(message string, args []any) string {
	if len(args) == 0 {
		return message
	}
	out := make([]byte, 0, len(message)+32)
	for i := 0; i < len(message); i++ {
		if message[i] != '%' || i+1 == len(message) {
			out = append(out, message[i])
			continue
		}
		i++
		switch {
		case message[i] == '%':
			out = append(out, '%')
		case len(args) == 0:
			out = append(out, "(missing)"...)
		default:
			out = value(out, message[i], args[0])
			args = args[1:]
		}
	}
	return string(out)
}

func value(out []byte, verb byte, arg any) []byte {
	switch v := arg.(type) {
	case string:
		if verb == 'q' {
			return strconv.AppendQuote(out, v)
		}
		return append(out, v...)
	case int:
		return strconv.AppendInt(out, int64(v), 10)
	case int64:
		return strconv.AppendInt(out, v, 10)
	case float64:
		return strconv.AppendFloat(out, v, 'g', -1, 64)
	case error:
		return append(out, v.Error()...)
	case interface{ String() string }:
		return append(out, v.String()...)
	}
	return append(out, "(a value)"...)
}
