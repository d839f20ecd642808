//! Text as people send it and as the Bot API wants it.

/// The characters that HTML gives a meaning, escaped. Done once, when a call is made, and nowhere else.
pub fn escape(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            other => escaped.push(other),
        }
    }
    escaped
}

/// What a person can see of what was sent: no control characters, no marks that turn the writing round, no
/// characters without width. Line breaks stay; tabs become spaces.
pub fn visible(text: &str) -> String {
    text.chars()
        .filter_map(|c| match c {
            '\n' => Some('\n'),
            '\t' => Some(' '),
            '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{2069}' | '\u{FEFF}' => None,
            hidden if hidden.is_control() => None,
            shown => Some(shown),
        })
        .collect()
}

/// The length as the Bot API counts it: UTF-16 code units.
pub fn units(text: &str) -> usize {
    text.chars().map(char::len_utf16).sum()
}

/// The longest beginning of at most `most` UTF-16 units, and the rest.
pub fn cut(text: &str, most: usize) -> (&str, &str) {
    let mut used = 0;
    for (at, c) in text.char_indices() {
        used += c.len_utf16();
        if used > most {
            return text.split_at(at);
        }
    }
    (text, "")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn html_in_words_stays_words() {
        assert_eq!(escape("<b>5 < 6 & 7 > 6</b>"), "&lt;b&gt;5 &lt; 6 &amp; 7 &gt; 6&lt;/b&gt;");
    }

    #[test]
    fn hidden_and_turning_characters_go() {
        assert_eq!(visible("12\u{202E}m\u{0}\u{200B}\tx\ny\u{1b}[31m"), "12m x\ny[31m");
    }

    #[test]
    fn emoji_count_twice() {
        assert_eq!(units("a🏠é"), 4);
        assert_eq!(cut("🏠🏠🏠", 3), ("🏠", "🏠🏠"));
        assert_eq!(cut("abc", 3), ("abc", ""));
    }
}
