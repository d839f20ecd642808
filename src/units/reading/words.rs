//! What words and signs mean, one at a time and in the phrases they come in.
//!
//! A new way of saying something is a line in one of the tables below.

use std::collections::HashMap;
use std::sync::LazyLock;

use super::exact::Exact;
use super::letters::one_slip_apart;
use super::tokens::{Numeral, Piece, Token};
use crate::units::Doubt;

/// A unit as written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Unit {
    Mm,
    Cm,
    M,
    Yd,
    Ft,
    In,
    Deg,
    Percent,
}

/// What stands between two figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Link {
    /// "by", "x": two at once.
    By,
    /// "and", "&".
    And,
    /// A comma or the end of a line.
    Comma,
    /// "to", or a dash: a range.
    To,
    /// "or": one of two.
    Or,
    /// "plus".
    Plus,
    /// "minus" between figures.
    Less,
    /// "times", "lots of": a product.
    Times,
    /// "in" between two numbers, "on" and "per": a slope.
    In,
    /// "over" and ":": a slope.
    Over,
    /// `/` beside a decimal: a slope, or one of two.
    Slash,
    /// "give or take": what follows is how far it may be off.
    GiveOrTake,
}

/// Number words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Cardinal {
    /// 0 to 9.
    Digit(u32),
    /// 10 to 19.
    Teen(u32),
    /// 20, 30 … 90.
    Tens(u32),
    Hundred,
    Thousand,
    Point,
    /// A half is 2, an eighth 8.
    Part(u32),
}

/// What one word, sign or phrase means.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Sense {
    Number(Numeral),
    Cardinal(Cardinal),
    /// ½ as one sign.
    Vulgar(Exact),
    /// Digits that make no number.
    Broken,
    Unit(Unit),
    /// `'`: feet, or minutes after degrees.
    FootMark,
    /// `"`: inches.
    InchMark,
    /// "in": inches, or "1 in 4".
    In,
    Slash,
    Dash,
    Link(Link),
    /// "a", "an", "one whole".
    A,
    Of,
    Doubt(Doubt),
    /// "and a bit".
    Bit,
    /// "at least", "up to".
    OneSided,
    Between,
    /// "pitch", "pitched".
    Pitch,
    Correction,
    No,
    Not,
    Rise,
    Run,
    /// "squared", kilograms, pounds: not a length or an angle at all.
    Foreign,
    /// Letters stuck to a number that are no unit.
    Stuck,
    /// A thing that is counted: "2 sheds".
    Counted,
    /// "wide", "long", `w`: which way it was measured.
    Side,
    /// "below zero".
    Negative,
    /// A word that means nothing here.
    Other,
}

/// A sense and whether it touches the one before.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Lexeme {
    pub(super) sense: Sense,
    pub(super) glued: bool,
}

/// Phrases of several words, under what they mean, parted by `|`. Of those that fit, the longest counts.
const PHRASES: &[(Sense, &str)] = &[
    (
        Sense::OneSided,
        "no more than | not more than | no less than | at least | at most | up to | more than | \
         less than",
    ),
    (Sense::Cardinal(Cardinal::Digit(0)), "no overhang"),
    (Sense::Other, "no idea | no problem | in total | in all | in length | in width | in the | in my"),
    (
        Sense::Doubt(Doubt::About),
        "not sure | not certain | not exactly | not far off | more or less | near enough | \
         or something | or so | or thereabouts | or near | i think | i reckon | i guess | \
         i believe | close to | in the region of | something like | sort of | kind of",
    ),
    (
        Sense::Doubt(Doubt::JustUnder),
        "not quite | just under | just below | just short of | just shy of | just less than | \
         bit under | bit less | bit below | bit short of | bit shy of | little under | \
         little less | touch under | shade under | slightly under | slightly less | shy of | \
         coming up to | getting on for",
    ),
    (
        Sense::Correction,
        "no wait | no sorry | i mean | i meant | i should say | should be | scratch that | \
         scrap that | strike that | forget that | make that | make it | hang on | hold on | \
         my mistake | my bad | or rather | call it | so say",
    ),
    (Sense::Not, "instead of | rather than"),
    (
        Sense::Bit,
        "and a bit | and bit | n a bit | and a little bit | and a wee bit | and a tiny bit | \
         and a little | and a touch | and some | and something | and change | plus a bit",
    ),
    (Sense::Link(Link::GiveOrTake), "give or take | plus or minus"),
    (
        Sense::Doubt(Doubt::JustOver),
        "just over | just above | just past | just more than | bit over | bit more | bit above | \
         little over | little more | touch over | shade over | slightly over | slightly more",
    ),
    (Sense::Unit(Unit::Percent), "per cent"),
    (Sense::Link(Link::In), "to the | in every | for every"),
    (Sense::Link(Link::Times), "lots of | lengths of | layers of | multiplied by"),
    (Sense::Link(Link::Plus), "added to | and another"),
    (Sense::Link(Link::Less), "take away"),
    (Sense::Unit(Unit::Mm), "in mm | in millimetres"),
    (Sense::Unit(Unit::Cm), "in cm"),
    (Sense::Unit(Unit::M), "in m | in metres"),
    (Sense::Unit(Unit::Ft), "in feet"),
    (Sense::Unit(Unit::In), "in inches"),
    (Sense::Unit(Unit::Deg), "in degrees"),
    (Sense::Between, "in between"),
];

/// What each token or phrase means.
pub(super) fn senses(tokens: &[Token]) -> Vec<Lexeme> {
    let mut found: Vec<Lexeme> = Vec::with_capacity(tokens.len());
    let mut rest = tokens;
    while let [first, after @ ..] = rest {
        let before = found.last().map(|lexeme| lexeme.sense);
        let (sense, left) = match &first.piece {
            Piece::Number(numeral) => (Sense::Number(*numeral), after),
            Piece::Vulgar(value) => (Sense::Vulgar(*value), after),
            Piece::Broken => (Sense::Broken, after),
            Piece::Sign(sign) => {
                rest = after;
                // The second hyphen of "4-in-12".
                let hyphen =
                    *sign == '-' && found.last().is_some_and(|last| last.sense == Sense::In && !last.glued);
                let sense = if hyphen { None } else { sign_sense(*sign, first.glued, before, after) };
                if let Some(sense) = sense {
                    found.push(Lexeme { sense, glued: first.glued });
                }
                continue;
            }
            Piece::Word(word) => match phrase(word, after) {
                Some((sense, length)) => (sense, rest.get(length..).unwrap_or(&[])),
                None => (word_sense(word, first.glued, before, after), after),
            },
        };
        found.push(Lexeme { sense, glued: first.glued });
        rest = left;
    }
    found
}

/// Phrases under their first word, each with the words after it.
type Phrases = HashMap<&'static str, Vec<(Sense, Vec<&'static str>)>>;

static BY_FIRST_WORD: LazyLock<Phrases> = LazyLock::new(|| {
    let mut phrases = Phrases::new();
    for (sense, texts) in PHRASES {
        for text in texts.split(" | ") {
            let mut words = text.split(' ');
            let first = words.next().unwrap_or_default();
            phrases.entry(first).or_default().push((*sense, words.collect()));
        }
    }
    phrases
});

/// The longest phrase that starts with this word, and how many tokens it takes.
fn phrase(first: &str, after: &[Token]) -> Option<(Sense, usize)> {
    let fits = |words: &[&str]| {
        after.len() >= words.len() && after.iter().zip(words).all(|(token, word)| is_word(token, word))
    };
    let fitting = BY_FIRST_WORD.get(first)?.iter().filter(|(_, words)| fits(words));
    fitting.map(|(sense, words)| (*sense, words.len() + 1)).max_by_key(|(_, length)| *length)
}

fn is_word(token: &Token, wanted: &str) -> bool {
    matches!(&token.piece, Piece::Word(word) if word == wanted)
}

fn sign_sense(sign: char, glued: bool, before: Option<Sense>, after: &[Token]) -> Option<Sense> {
    let number_follows = matches!(after, [Token { piece: Piece::Number(_) | Piece::Vulgar(_), .. }, ..]);
    let sense = match sign {
        '\'' => Sense::FootMark,
        '"' => Sense::InchMark,
        '°' => Sense::Unit(Unit::Deg),
        '%' => Sense::Unit(Unit::Percent),
        '/' => Sense::Slash,
        ':' if number_follows && matches!(before, Some(Sense::Number(_))) => Sense::Link(Link::Over),
        '+' => Sense::Link(Link::Plus),
        ',' | ';' => Sense::Link(Link::Comma),
        '×' => Sense::Link(Link::By),
        '&' => Sense::Link(Link::And),
        '~' | '>' if number_follows && is_figure(before) => Sense::Dash,
        '~' => Sense::Doubt(Doubt::About),
        '±' => Sense::Link(Link::GiveOrTake),
        '<' | '>' => Sense::OneSided,
        '²' | '³' | '$' | '€' | '£' => Sense::Foreign,
        '-' => return dash_sense(glued, before, after),
        '=' | '(' => Sense::Link(Link::Or),
        _ => return None,
    };
    Some(sense)
}

/// A dash is a range between figures, a minus in front of one, and nothing beside words.
fn dash_sense(glued: bool, before: Option<Sense>, after: &[Token]) -> Option<Sense> {
    let number_follows = match after {
        [Token { piece: Piece::Number(_) | Piece::Vulgar(_), glued: touches }, ..] => Some(*touches),
        _ => None,
    };
    match (is_figure(before), number_follows) {
        (true, Some(_)) => Some(Sense::Dash),
        (true, None) if !glued => Some(Sense::Link(Link::Comma)),
        (false, Some(true)) if !glued => Some(Sense::Negative),
        (_, Some(_) | None) => None,
    }
}

/// Whether a figure may end with this.
fn is_figure(before: Option<Sense>) -> bool {
    matches!(
        before,
        Some(
            Sense::Number(_)
                | Sense::Vulgar(_)
                | Sense::Cardinal(_)
                | Sense::Unit(_)
                | Sense::FootMark
                | Sense::InchMark
                | Sense::In
        )
    )
}

/// One word by itself.
fn word_sense(word: &str, glued: bool, before: Option<Sense>, after: &[Token]) -> Sense {
    if let Some(sense) = homophone(word, before, after) {
        return sense;
    }
    if let Some(unit) = unit(word) {
        return Sense::Unit(unit);
    }
    // The letter stands in for the sign: `18o`.
    if word == "o" && glued && matches!(before, Some(Sense::Number(_))) {
        return Sense::Unit(Unit::Deg);
    }
    if let Some(cardinal) = cardinal(word) {
        return Sense::Cardinal(cardinal);
    }
    match listed(word) {
        // "c. 2.4 m" is circa, "600 c/c" is not.
        None if word == "c" && !glued && !is_figure(before) => Sense::Doubt(Doubt::About),
        Some(sense) => sense,
        None if matches!(before, Some(Sense::Number(_))) => match near_unit(word) {
            Some(unit) => Sense::Unit(unit),
            None if glued => Sense::Stuck,
            None => Sense::Other,
        },
        None => Sense::Other,
    }
}

/// What a word means by what stands around it: what dictation makes of "two", "four", "eight" and "one",
/// "an" for "and", "maybe" for "or".
fn homophone(word: &str, before: Option<Sense>, after: &[Token]) -> Option<Sense> {
    let next = match after.first().map(|token| &token.piece) {
        Some(Piece::Word(next)) => Some(next.as_str()),
        _ => None,
    };
    let unit_next = next.is_some_and(|next| unit(next).is_some() || matches!(next, "point" | "hundred"));
    let after_figure =
        matches!(before, Some(Sense::Number(_) | Sense::Unit(_) | Sense::Cardinal(_) | Sense::FootMark));
    let after_number_word = matches!(before, Some(Sense::Cardinal(_) | Sense::Unit(_)));
    let spoke_before = is_figure(before) || before == Some(Sense::Link(Link::Comma));
    let after_link = matches!(before, Some(Sense::In | Sense::Link(Link::In | Link::Over | Link::By)))
        || matches!(before, Some(Sense::Cardinal(Cardinal::Point)));
    let next_piece = after.first().map(|token| &token.piece);
    match word {
        "an" | "nd" if next == Some("a") && is_figure(before) => return Some(Sense::Link(Link::And)),
        "maybe" | "perhaps" | "possibly" if matches!(next_piece, Some(Piece::Number(_))) && spoke_before => {
            return Some(Sense::Link(Link::Or));
        }
        _ => {}
    }
    let after_tens = matches!(before, Some(Sense::Cardinal(Cardinal::Tens(_))));
    let digit = match word {
        // "Twenty to degrees".
        "to" | "too" | "tew" if unit_next && after_tens => 2,
        "oh" | "o" if after_number_word || next == Some("point") => 0,
        "ate" => 8,
        "won" => 1,
        "to" | "too" | "tew" if (unit_next && !after_figure) || after_link => 2,
        "for" | "fore" if (unit_next && !after_figure) || after_link => 4,
        "for" | "fore" if after.is_empty() && matches!(before, Some(Sense::Unit(_))) => 4,
        "free" | "tree" if unit_next => 3,
        _ => return None,
    };
    Some(Sense::Cardinal(Cardinal::Digit(digit)))
}

/// A unit by any of its names.
pub(super) fn unit(word: &str) -> Option<Unit> {
    let unit = match word {
        "mm" | "mms" | "mil" | "mill" | "mils" | "mills" | "milli" | "millis" | "millimetre"
        | "millimetres" | "millimeter" | "millimeters" | "milimeter" | "milimeters" | "milimetre"
        | "milimetres" => Unit::Mm,
        "cm" | "cms" | "cent" | "centi" | "centis" | "centimetre" | "centimetres" | "centimeter"
        | "centimeters" => Unit::Cm,
        "m" | "ms" | "mt" | "mts" | "mtr" | "mtrs" | "metr" | "metrs" | "metre" | "metres" | "meter"
        | "meters" => Unit::M,
        "yd" | "yds" | "yard" | "yards" => Unit::Yd,
        "ft" | "fts" | "foot" | "feet" | "foots" | "feets" | "fet" => Unit::Ft,
        "ins" | "inch" | "inches" | "inchs" | "inchies" | "inche" => Unit::In,
        "deg" | "degs" | "degree" | "degrees" | "degress" | "degreese" => Unit::Deg,
        "percent" | "pct" | "pc" | "percents" => Unit::Percent,
        _ => return None,
    };
    Some(unit)
}

/// A unit's full name with a slip of the thumb in it: one letter too many, missing, wrong or swapped.
fn near_unit(word: &str) -> Option<Unit> {
    const NAMES: [(&str, Unit); 9] = [
        ("millimetres", Unit::Mm),
        ("millimeters", Unit::Mm),
        ("centimetres", Unit::Cm),
        ("centimeters", Unit::Cm),
        ("metres", Unit::M),
        ("meters", Unit::M),
        ("inches", Unit::In),
        ("degrees", Unit::Deg),
        ("percent", Unit::Percent),
    ];
    let letters: Vec<char> = word.chars().take(14).collect();
    let slip = |name: &str| one_slip_apart(&letters, &name.chars().collect::<Vec<char>>());
    let near = |name: &str| slip(name) || slip(name.trim_end_matches('s'));
    (letters.len() >= 4).then(|| NAMES.iter().find(|(name, _)| near(name)).map(|(_, unit)| *unit)).flatten()
}

/// A number word.
pub(super) fn cardinal(word: &str) -> Option<Cardinal> {
    use Cardinal::{Digit, Hundred, Part, Point, Teen, Tens, Thousand};
    let cardinal = match word {
        "zero" | "nought" | "naught" | "nil" | "none" | "nothing" => Digit(0),
        "one" => Digit(1),
        "two" | "couple" => Digit(2),
        "three" => Digit(3),
        "four" => Digit(4),
        "five" => Digit(5),
        "six" => Digit(6),
        "seven" => Digit(7),
        "eight" => Digit(8),
        "nine" => Digit(9),
        "ten" => Teen(10),
        "eleven" => Teen(11),
        "twelve" => Teen(12),
        "thirteen" => Teen(13),
        "fourteen" => Teen(14),
        "fifteen" => Teen(15),
        "sixteen" => Teen(16),
        "seventeen" => Teen(17),
        "eighteen" => Teen(18),
        "nineteen" => Teen(19),
        "twenty" => Tens(20),
        "thirty" => Tens(30),
        "forty" | "fourty" => Tens(40),
        "fifty" => Tens(50),
        "sixty" => Tens(60),
        "seventy" => Tens(70),
        "eighty" => Tens(80),
        "ninety" => Tens(90),
        "hundred" | "hundreds" => Hundred,
        "thousand" => Thousand,
        // "Two comma four", as it is said where a comma parts decimals.
        "point" | "dot" | "comma" | "koma" | "komma" | "coma" => Point,
        "half" | "halves" | "arf" => Part(2),
        "third" | "thirds" => Part(3),
        "quarter" | "quarters" => Part(4),
        "fifth" | "fifths" => Part(5),
        "eighth" | "eighths" | "eights" => Part(8),
        "tenth" | "tenths" => Part(10),
        "sixteenth" | "sixteenths" => Part(16),
        _ => return None,
    };
    Some(cardinal)
}

/// Every other word that means something.
fn listed(word: &str) -> Option<Sense> {
    let sense = match word {
        "in" | "inn" => Sense::In,
        "a" | "an" => Sense::A,
        "of" | "th" | "ths" | "rds" => Sense::Of,
        "w" | "l" | "h" | "wide" | "long" | "deep" | "high" | "tall" | "width" | "length" | "height" => {
            Sense::Side
        }
        "x" | "by" => Sense::Link(Link::By),
        "and" | "n" => Sense::Link(Link::And),
        "to" | "till" | "until" => Sense::Link(Link::To),
        "or" => Sense::Link(Link::Or),
        "plus" => Sense::Link(Link::Plus),
        "minus" | "less" => Sense::Link(Link::Less),
        "times" | "twice" | "double" => Sense::Link(Link::Times),
        "over" => Sense::Link(Link::Over),
        "per" | "on" | "upon" => Sense::Link(Link::In),
        "between" => Sense::Between,
        "pitch" | "pitched" => Sense::Pitch,
        "about" | "around" | "roughly" | "rough" | "approx" | "approximately" | "aprox" | "circa" | "ca"
        | "ish" | "maybe" | "probably" | "perhaps" | "thereabouts" | "ballpark" | "estimate"
        | "estimated" | "guess" | "reckon" => Sense::Doubt(Doubt::About),
        "nearly" | "almost" | "under" => Sense::Doubt(Doubt::JustUnder),
        "phone" | "phones" | "app" | "apps" | "mobile" | "inclinometer" | "clinometer" => {
            Sense::Doubt(Doubt::ByPhone)
        }
        "odd" => Sense::Bit,
        "wait" | "sorry" | "edit" | "typo" | "oops" | "whoops" | "correction" | "actually" | "rather" => {
            Sense::Correction
        }
        "no" | "nope" | "nah" => Sense::No,
        "not" | "isnt" => Sense::Not,
        "rise" | "rises" | "rising" | "up" | "climbs" => Sense::Rise,
        "run" | "runs" | "along" | "across" | "going" => Sense::Run,
        "kg" | "kilo" | "kilos" | "kilograms" | "tonne" | "tonnes" | "lb" | "lbs" | "pounds" | "quid"
        | "litres" | "litre" | "sq" | "square" | "squared" | "cubed" | "sqm" | "sqft" | "msq" | "hour"
        | "hours" | "minute" | "minutes" | "day" | "days" | "week" | "weeks" | "year" | "years" | "mph"
        | "km" | "kilometres" | "kilometers" | "mile" | "miles" | "paces" | "steps" | "strides" | "hands"
        | "radians" | "radian" | "rads" | "rad" | "bricks" => Sense::Foreign,
        "shed" | "sheds" | "sheet" | "sheets" | "roof" | "roofs" | "slope" | "slopes" | "board"
        | "boards" | "rafter" | "rafters" | "purlin" | "purlins" | "side" | "sides" | "bay" | "bays" => {
            Sense::Counted
        }
        _ => return None,
    };
    Some(sense)
}
