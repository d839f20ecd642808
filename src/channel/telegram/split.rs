//! Long messages in parts that the Bot API takes.

use super::text::{cut, units};

/// The text in parts of at most `most` UTF-16 units each, parted at the ends of paragraphs; where a paragraph
/// alone is too long at the ends of lines, of sentences, between words, and at last anywhere.
///
/// Put together again the parts are the text, save white space where it was parted. Parts are never empty.
pub fn split(text: &str, most: usize) -> Vec<String> {
    let most = most.max(2);
    let mut parts = Vec::new();
    let mut rest = text.trim();
    while units(rest) > most {
        let (fits, _) = cut(rest, most);
        let at = last_good_end(fits).unwrap_or(fits.len());
        let (part, next) = rest.split_at(at);
        let part = part.trim_end();
        if !part.is_empty() {
            parts.push(part.to_owned());
        }
        rest = next.trim_start();
    }
    if !rest.is_empty() {
        parts.push(rest.to_owned());
    }
    parts
}

/// The byte after which to part, kindest way first. An end in the first quarter would make crumbs: not taken
/// unless there is no other.
fn last_good_end(fits: &str) -> Option<usize> {
    const ENDS: [&str; 6] = ["\n\n", "\n", ". ", "? ", "! ", " "];
    let late = fits.len() / 4;
    let ends: Vec<usize> =
        ENDS.iter().filter_map(|end| fits.rfind(end).map(|at| at + end.trim_end().len())).collect();
    ends.iter().copied().find(|at| *at > late).or_else(|| ends.into_iter().max()).filter(|at| *at > 0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_short_text_stays_whole() {
        assert_eq!(split("One.\n\nTwo.", 4096), ["One.\n\nTwo."]);
    }

    #[test]
    fn paragraphs_stay_together() {
        let text = format!("{}\n\n{}", "a".repeat(60), "b".repeat(60));
        assert_eq!(split(&text, 100), ["a".repeat(60), "b".repeat(60)]);
    }

    #[test]
    fn a_wall_of_text_is_parted_between_sentences() {
        assert_eq!(
            split("One two three. Four five six seven.", 20),
            ["One two three.", "Four five six seven."]
        );
    }

    #[test]
    fn nothing_makes_no_part() {
        assert!(split(" \n ", 10).is_empty());
    }

    proptest! {
        #[test]
        fn every_part_fits_and_no_word_is_lost(text in "[a-z🏠é .\n]{0,400}", most in 2usize..60) {
            let parts = split(&text, most);
            for part in &parts {
                prop_assert!(units(part) <= most, "{part:?}");
                prop_assert!(!part.trim().is_empty());
            }
            let seen = |s: &str| s.chars().filter(|c| !c.is_whitespace()).collect::<String>();
            prop_assert_eq!(seen(&parts.concat()), seen(&text));
        }
    }
}
