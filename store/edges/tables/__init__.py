"""Tables of text that people bring: work of before, a day on paper."""
