//! What words and signs mean, one at a time and in the phrases they come in.
//!
//! A new way of saying something is a line in one of the tables below.

use super::exact::Exact;
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
    /// "in" between two numbers, and "per": a slope.
    In,
    /// "over", ":" or "on": a slope.
    Over,
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

/// Phrases of several words; of two that fit, the one listed first counts.
const PHRASES: &[(&[&str], Sense)] = &[
    (&["no", "more", "than"], Sense::OneSided),
    (&["not", "more", "than"], Sense::OneSided),
    (&["no", "less", "than"], Sense::OneSided),
    (&["no", "overhang"], Sense::Cardinal(Cardinal::Digit(0))),
    (&["no", "idea"], Sense::Other),
    (&["no", "problem"], Sense::Other),
    (&["not", "sure"], Sense::Doubt(Doubt::About)),
    (&["not", "certain"], Sense::Doubt(Doubt::About)),
    (&["not", "exactly"], Sense::Doubt(Doubt::About)),
    (&["not", "quite"], Sense::Doubt(Doubt::JustUnder)),
    (&["not", "far", "off"], Sense::Doubt(Doubt::About)),
    (&["no", "wait"], Sense::Correction),
    (&["no", "sorry"], Sense::Correction),
    (&["i", "mean"], Sense::Correction),
    (&["i", "meant"], Sense::Correction),
    (&["i", "should", "say"], Sense::Correction),
    (&["should", "be"], Sense::Correction),
    (&["scratch", "that"], Sense::Correction),
    (&["scrap", "that"], Sense::Correction),
    (&["strike", "that"], Sense::Correction),
    (&["forget", "that"], Sense::Correction),
    (&["make", "that"], Sense::Correction),
    (&["make", "it"], Sense::Correction),
    (&["hang", "on"], Sense::Correction),
    (&["hold", "on"], Sense::Correction),
    (&["my", "mistake"], Sense::Correction),
    (&["my", "bad"], Sense::Correction),
    (&["or", "rather"], Sense::Correction),
    (&["instead", "of"], Sense::Not),
    (&["rather", "than"], Sense::Not),
    (&["and", "a", "bit"], Sense::Bit),
    (&["and", "bit"], Sense::Bit),
    (&["n", "a", "bit"], Sense::Bit),
    (&["and", "a", "little"], Sense::Bit),
    (&["and", "a", "touch"], Sense::Bit),
    (&["and", "some"], Sense::Bit),
    (&["and", "something"], Sense::Bit),
    (&["and", "change"], Sense::Bit),
    (&["plus", "a", "bit"], Sense::Bit),
    (&["give", "or", "take"], Sense::Link(Link::GiveOrTake)),
    (&["plus", "or", "minus"], Sense::Link(Link::GiveOrTake)),
    (&["more", "or", "less"], Sense::Doubt(Doubt::About)),
    (&["near", "enough"], Sense::Doubt(Doubt::About)),
    (&["or", "so"], Sense::Doubt(Doubt::About)),
    (&["or", "thereabouts"], Sense::Doubt(Doubt::About)),
    (&["or", "near"], Sense::Doubt(Doubt::About)),
    (&["i", "think"], Sense::Doubt(Doubt::About)),
    (&["i", "reckon"], Sense::Doubt(Doubt::About)),
    (&["i", "guess"], Sense::Doubt(Doubt::About)),
    (&["i", "believe"], Sense::Doubt(Doubt::About)),
    (&["close", "to"], Sense::Doubt(Doubt::About)),
    (&["in", "the", "region", "of"], Sense::Doubt(Doubt::About)),
    (&["something", "like"], Sense::Doubt(Doubt::About)),
    (&["sort", "of"], Sense::Doubt(Doubt::About)),
    (&["kind", "of"], Sense::Doubt(Doubt::About)),
    (&["just", "under"], Sense::Doubt(Doubt::JustUnder)),
    (&["just", "below"], Sense::Doubt(Doubt::JustUnder)),
    (&["just", "short", "of"], Sense::Doubt(Doubt::JustUnder)),
    (&["just", "shy", "of"], Sense::Doubt(Doubt::JustUnder)),
    (&["just", "less", "than"], Sense::Doubt(Doubt::JustUnder)),
    (&["bit", "under"], Sense::Doubt(Doubt::JustUnder)),
    (&["bit", "less"], Sense::Doubt(Doubt::JustUnder)),
    (&["bit", "below"], Sense::Doubt(Doubt::JustUnder)),
    (&["bit", "short", "of"], Sense::Doubt(Doubt::JustUnder)),
    (&["bit", "shy", "of"], Sense::Doubt(Doubt::JustUnder)),
    (&["little", "under"], Sense::Doubt(Doubt::JustUnder)),
    (&["little", "less"], Sense::Doubt(Doubt::JustUnder)),
    (&["touch", "under"], Sense::Doubt(Doubt::JustUnder)),
    (&["shade", "under"], Sense::Doubt(Doubt::JustUnder)),
    (&["slightly", "under"], Sense::Doubt(Doubt::JustUnder)),
    (&["slightly", "less"], Sense::Doubt(Doubt::JustUnder)),
    (&["shy", "of"], Sense::Doubt(Doubt::JustUnder)),
    (&["coming", "up", "to"], Sense::Doubt(Doubt::JustUnder)),
    (&["getting", "on", "for"], Sense::Doubt(Doubt::JustUnder)),
    (&["just", "over"], Sense::Doubt(Doubt::JustOver)),
    (&["just", "above"], Sense::Doubt(Doubt::JustOver)),
    (&["just", "past"], Sense::Doubt(Doubt::JustOver)),
    (&["just", "more", "than"], Sense::Doubt(Doubt::JustOver)),
    (&["bit", "over"], Sense::Doubt(Doubt::JustOver)),
    (&["bit", "more"], Sense::Doubt(Doubt::JustOver)),
    (&["bit", "above"], Sense::Doubt(Doubt::JustOver)),
    (&["little", "over"], Sense::Doubt(Doubt::JustOver)),
    (&["little", "more"], Sense::Doubt(Doubt::JustOver)),
    (&["touch", "over"], Sense::Doubt(Doubt::JustOver)),
    (&["shade", "over"], Sense::Doubt(Doubt::JustOver)),
    (&["slightly", "over"], Sense::Doubt(Doubt::JustOver)),
    (&["slightly", "more"], Sense::Doubt(Doubt::JustOver)),
    (&["at", "least"], Sense::OneSided),
    (&["at", "most"], Sense::OneSided),
    (&["up", "to"], Sense::OneSided),
    (&["more", "than"], Sense::OneSided),
    (&["less", "than"], Sense::OneSided),
    (&["per", "cent"], Sense::Unit(Unit::Percent)),
    (&["to", "the"], Sense::Link(Link::In)),
    (&["in", "every"], Sense::Link(Link::In)),
    (&["for", "every"], Sense::Link(Link::In)),
    (&["lots", "of"], Sense::Link(Link::Times)),
    (&["lengths", "of"], Sense::Link(Link::Times)),
    (&["layers", "of"], Sense::Link(Link::Times)),
    (&["multiplied", "by"], Sense::Link(Link::Times)),
    (&["added", "to"], Sense::Link(Link::Plus)),
    (&["and", "another"], Sense::Link(Link::Plus)),
    (&["take", "away"], Sense::Link(Link::Less)),
    (&["square", "metre"], Sense::Foreign),
    (&["square", "metres"], Sense::Foreign),
    (&["square", "meters"], Sense::Foreign),
    (&["square", "feet"], Sense::Foreign),
    (&["square", "foot"], Sense::Foreign),
    (&["sq", "m"], Sense::Foreign),
    (&["sq", "ft"], Sense::Foreign),
    (&["m", "sq"], Sense::Foreign),
    (&["in", "mm"], Sense::Unit(Unit::Mm)),
    (&["in", "millimetres"], Sense::Unit(Unit::Mm)),
    (&["in", "cm"], Sense::Unit(Unit::Cm)),
    (&["in", "m"], Sense::Unit(Unit::M)),
    (&["in", "metres"], Sense::Unit(Unit::M)),
    (&["in", "feet"], Sense::Unit(Unit::Ft)),
    (&["in", "inches"], Sense::Unit(Unit::In)),
    (&["in", "degrees"], Sense::Unit(Unit::Deg)),
    (&["in", "total"], Sense::Other),
    (&["in", "all"], Sense::Other),
    (&["in", "length"], Sense::Other),
    (&["in", "width"], Sense::Other),
    (&["in", "the"], Sense::Other),
    (&["in", "my"], Sense::Other),
    (&["in", "between"], Sense::Between),
];

/// Each token's meaning. `meant` holds what the words around say about the few that sound like numbers.
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
            Piece::Word(word) => match phrase(rest) {
                Some((sense, length)) => (sense, rest.get(length..).unwrap_or(&[])),
                None => (word_sense(word, first.glued, before, after), after),
            },
        };
        found.push(Lexeme { sense, glued: first.glued });
        rest = left;
    }
    found
}

/// The phrase that starts here, and how many tokens it takes.
fn phrase(tokens: &[Token]) -> Option<(Sense, usize)> {
    PHRASES.iter().find(|(words, _)| starts_with(tokens, words)).map(|(words, sense)| (*sense, words.len()))
}

fn starts_with(tokens: &[Token], words: &[&str]) -> bool {
    tokens.len() >= words.len() && tokens.iter().zip(words).all(|(token, word)| is_word(token, word))
}

fn is_word(token: &Token, wanted: &str) -> bool {
    matches!(&token.piece, Piece::Word(word) if word == wanted)
}

fn sign_sense(sign: char, glued: bool, before: Option<Sense>, after: &[Token]) -> Option<Sense> {
    let number_follows = matches!(after.first().map(|t| &t.piece), Some(Piece::Number(_) | Piece::Vulgar(_)));
    let sense = match sign {
        '\'' => Sense::FootMark,
        '"' => Sense::InchMark,
        '°' => Sense::Unit(Unit::Deg),
        '%' => Sense::Unit(Unit::Percent),
        '/' => Sense::Slash,
        ':' if number_follows && matches!(before, Some(Sense::Number(_))) => Sense::Link(Link::Over),
        '+' => Sense::Link(Link::Plus),
        ',' | ';' => Sense::Link(Link::Comma),
        '&' => Sense::Link(Link::And),
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
    let after_figure = matches!(
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
    );
    match (after_figure, number_follows) {
        (true, Some(_)) => Some(Sense::Dash),
        (true, None) if !glued => Some(Sense::Link(Link::Comma)),
        (false, Some(true)) if !glued => Some(Sense::Negative),
        (_, Some(_) | None) => None,
    }
}

/// One word by itself.
fn word_sense(word: &str, glued: bool, before: Option<Sense>, after: &[Token]) -> Sense {
    if let Some(sense) = homophone(word, before, after) {
        return sense;
    }
    if let Some(unit) = unit(word) {
        return Sense::Unit(unit);
    }
    if let Some(cardinal) = cardinal(word) {
        return Sense::Cardinal(cardinal);
    }
    match listed(word) {
        Some(sense) => sense,
        None if matches!(before, Some(Sense::Number(_))) => match near_unit(word) {
            Some(unit) => Sense::Unit(unit),
            None if glued => Sense::Stuck,
            None => Sense::Other,
        },
        None => Sense::Other,
    }
}

/// What dictation makes of "two", "four", "eight" and "one" where only a number makes sense.
fn homophone(word: &str, before: Option<Sense>, after: &[Token]) -> Option<Sense> {
    let next = match after.first().map(|token| &token.piece) {
        Some(Piece::Word(next)) => Some(next.as_str()),
        _ => None,
    };
    let unit_next = next.is_some_and(|next| unit(next).is_some() || matches!(next, "point" | "hundred"));
    let after_figure =
        matches!(before, Some(Sense::Number(_) | Sense::Unit(_) | Sense::Cardinal(_) | Sense::FootMark));
    let after_link = matches!(before, Some(Sense::In | Sense::Link(Link::In | Link::Over | Link::By)))
        || matches!(before, Some(Sense::Cardinal(Cardinal::Point)));
    let digit = match word {
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
fn unit(word: &str) -> Option<Unit> {
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
        "percent" | "pct" | "percents" => Unit::Percent,
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
    let near = |name: &str| {
        let slips = one_slip_apart(&letters, &name.chars().collect::<Vec<char>>());
        let singular = name.trim_end_matches('s');
        slips || one_slip_apart(&letters, &singular.chars().collect::<Vec<char>>())
    };
    (letters.len() >= 4).then(|| NAMES.iter().find(|(name, _)| near(name)).map(|(_, unit)| *unit)).flatten()
}

/// Whether one insertion, deletion, change or swap of neighbours makes one word the other.
fn one_slip_apart(one: &[char], other: &[char]) -> bool {
    let shared_start = one.iter().zip(other).take_while(|(a, b)| a == b).count();
    let rest = |word: &[char]| word.get(shared_start..).unwrap_or(&[]).to_vec();
    match (rest(one).as_slice(), rest(other).as_slice()) {
        ([], []) => true,
        ([a, b, tail @ ..], [c, d, other_tail @ ..]) if a == d && b == c && tail == other_tail => true,
        ([_, tail @ ..], [_, other_tail @ ..]) if tail == other_tail => true,
        ([_, tail @ ..], whole) | (whole, [_, tail @ ..]) if tail == whole => true,
        _ => false,
    }
}

/// A number word.
fn cardinal(word: &str) -> Option<Cardinal> {
    use Cardinal::{Digit, Hundred, Part, Point, Teen, Tens, Thousand};
    let cardinal = match word {
        "zero" | "oh" | "o" | "nought" | "naught" | "nil" | "none" | "nothing" => Digit(0),
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
        "point" | "dot" => Point,
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
        "of" => Sense::Of,
        "x" | "by" => Sense::Link(Link::By),
        "and" | "n" => Sense::Link(Link::And),
        "to" | "till" | "until" => Sense::Link(Link::To),
        "or" => Sense::Link(Link::Or),
        "plus" => Sense::Link(Link::Plus),
        "minus" | "less" => Sense::Link(Link::Less),
        "times" | "twice" | "double" => Sense::Link(Link::Times),
        "over" | "on" | "upon" => Sense::Link(Link::Over),
        "per" => Sense::Link(Link::In),
        "between" => Sense::Between,
        "about" | "around" | "roughly" | "rough" | "approx" | "approximately" | "aprox" | "circa" | "ca"
        | "c" | "ish" | "maybe" | "probably" | "perhaps" | "thereabouts" | "ballpark" | "estimate"
        | "estimated" | "guess" | "reckon" => Sense::Doubt(Doubt::About),
        "nearly" | "almost" | "under" => Sense::Doubt(Doubt::JustUnder),
        "phone" | "phones" | "app" | "apps" | "iphone" | "android" | "mobile" | "inclinometer"
        | "clinometer" => Sense::Doubt(Doubt::ByPhone),
        "odd" => Sense::Bit,
        "wait" | "sorry" | "oops" | "whoops" | "correction" | "actually" | "rather" => Sense::Correction,
        "no" | "nope" | "nah" => Sense::No,
        "not" | "isnt" => Sense::Not,
        "rise" | "rises" | "rising" | "up" | "climbs" => Sense::Rise,
        "run" | "runs" | "along" | "across" | "going" => Sense::Run,
        "kg" | "kilo" | "kilos" | "kilograms" | "tonne" | "tonnes" | "lb" | "lbs" | "pounds" | "quid"
        | "litres" | "litre" | "squared" | "cubed" | "sqm" | "sqft" | "msq" | "hour" | "hours" | "minute"
        | "minutes" | "day" | "days" | "week" | "weeks" | "year" | "years" | "mph" | "km" | "kilometres"
        | "kilometers" | "mile" | "miles" | "paces" | "steps" | "strides" | "hands" | "radians"
        | "bricks" => Sense::Foreign,
        "shed" | "sheds" | "sheet" | "sheets" | "roof" | "roofs" | "slope" | "slopes" | "board"
        | "boards" | "rafter" | "rafters" | "purlin" | "purlins" | "side" | "sides" | "of them" | "bay"
        | "bays" => Sense::Counted,
        _ => return None,
    };
    Some(sense)
}

impl Sense {
    /// The unit it is by itself: "in" is left to what follows.
    pub(super) fn unit(self) -> Option<Unit> {
        if let Self::Unit(unit) = self {
            return Some(unit);
        }
        let marks = [(Self::FootMark, Unit::Ft), (Self::InchMark, Unit::In)];
        marks.into_iter().find(|(mark, _)| *mark == self).map(|(_, unit)| unit)
    }
}
