//! The first step of reading: one plain letter for each of the many ways a keyboard writes it.

/// A quarter, a half and their kind as single characters, with what they stand for.
const VULGAR: [(char, u32, u32); 19] = [
    ('½', 1, 2),
    ('⅓', 1, 3),
    ('⅔', 2, 3),
    ('¼', 1, 4),
    ('¾', 3, 4),
    ('⅕', 1, 5),
    ('⅖', 2, 5),
    ('⅗', 3, 5),
    ('⅘', 4, 5),
    ('⅙', 1, 6),
    ('⅚', 5, 6),
    ('⅐', 1, 7),
    ('⅛', 1, 8),
    ('⅜', 3, 8),
    ('⅝', 5, 8),
    ('⅞', 7, 8),
    ('⅑', 1, 9),
    ('⅒', 1, 10),
    ('↉', 0, 3),
];

/// The zeros of scripts whose ten digits stand in a row.
const ZEROS: [char; 12] = [
    '\u{0660}', '\u{06F0}', '\u{07C0}', '\u{0966}', '\u{09E6}', '\u{0A66}', '\u{0AE6}', '\u{0B66}',
    '\u{0BE6}', '\u{0E50}', '\u{0ED0}', '\u{1040}',
];

/// What a vulgar fraction stands for.
pub(super) fn vulgar_fraction(letter: char) -> Option<(u32, u32)> {
    VULGAR.iter().find(|(sign, _, _)| *sign == letter).map(|(_, over, under)| (*over, *under))
}

/// The text in plain small letters, ASCII digits and one sign for each kind of quote, dash and space.
///
/// Marks that nobody sees are dropped; pictures become spaces.
pub(super) fn plain(text: &str) -> Vec<char> {
    let mut letters = Vec::with_capacity(text.len());
    for letter in text.chars().filter(|letter| !is_unseen(*letter)) {
        let letter = half_width(letter);
        match plain_sign(letter) {
            Some(sign) => letters.push(sign),
            None => letters.extend(letter.to_lowercase()),
        }
    }
    part_hyphenated(&mut letters);
    without_quotes(letters)
}

/// "two-and-a-half" and `2.4m-ish` are words, and no ranges.
fn part_hyphenated(letters: &mut [char]) {
    let mut before = ' ';
    let mut rest = letters;
    while let [first, after @ ..] = rest {
        if *first == '-' && before.is_alphanumeric() && after.first().is_some_and(|next| next.is_alphabetic())
        {
            *first = ' ';
        }
        before = *first;
        rest = after;
    }
}

/// Control characters other than line ends, joiners, direction marks, variation selectors, keycaps.
fn is_unseen(letter: char) -> bool {
    match letter {
        '\n' | '\r' | '\t' => false,
        '\u{00AD}'
        | '\u{061C}'
        | '\u{180E}'
        | '\u{200B}'..='\u{200F}'
        | '\u{202A}'..='\u{202E}'
        | '\u{2060}'..='\u{206F}'
        | '\u{20E3}'
        | '\u{FE00}'..='\u{FE0F}'
        | '\u{FEFF}'
        | '\u{E0000}'..='\u{E007F}' => true,
        other => other.is_control(),
    }
}

/// Full-width forms (U+FF01 to U+FF5E) are the ASCII signs moved up by a fixed step.
fn half_width(letter: char) -> char {
    match u32::from(letter) {
        code @ 0xFF01..=0xFF5E => char::from_u32(code - 0xFEE0).unwrap_or(letter),
        _ => letter,
    }
}

/// The one sign that stands for all of its kind; `None` for a letter.
fn plain_sign(letter: char) -> Option<char> {
    let sign = match letter {
        '\n' | '\r' => ';',
        '’' | '‘' | '‚' | '‛' | '′' | '‵' | '`' | '´' | 'ʹ' | 'ʼ' | 'ˈ' | '\'' => '\'',
        '”' | '“' | '„' | '‟' | '″' | '‶' | '〃' | '˝' | 'ʺ' | '"' => '"',
        '×' | '✕' | '✖' | '⨯' | '╳' | '*' => 'x',
        '−' | '–' | '—' | '‐' | '‑' | '‒' | '―' | '➖' => '-',
        '➕' => '+',
        '⁄' | '∕' | '÷' => '/',
        'º' | '˚' | '°' | '⁰' | '∘' => '°',
        '∶' | '：' => ':',
        '٪' => '%',
        '٫' | '·' => '.', // The raised point is the older British decimal point.
        '٬' => ',',
        '≈' | '≃' | '∼' | '〜' => '~',
        '∠' => ' ',
        _ if letter.is_whitespace() => ' ',
        _ => return digit_of_another_script(letter),
    };
    Some(sign)
}

/// Arabic, Devanagari and their kind, as ASCII digits.
fn digit_of_another_script(letter: char) -> Option<char> {
    let code = u32::from(letter);
    ZEROS
        .iter()
        .filter_map(|zero| code.checked_sub(u32::from(*zero)))
        .find(|digit| *digit < 10)
        .and_then(|digit| char::from_digit(digit, 10))
}

/// Without the quotation marks round the whole: `"2.4m"` was quoted, not measured in inches.
fn without_quotes(letters: Vec<char>) -> Vec<char> {
    match letters.as_slice() {
        ['"', inner @ .., '"'] | ['\'', inner @ .., '\''] if !inner.is_empty() => inner.to_vec(),
        _ => letters,
    }
}
