//! From digits and number words to whole numbers, decimals and fractions: "two thousand four hundred",
//! "two point four", `6 ½`, `3/8`, "six and a half", `2 400`.

use super::WrittenUnit;
use super::exact::Exact;
use super::letters::plain;
use super::tokens::{Form, Numeral, tokens};
use super::words::{Cardinal, Lexeme, Link, Sense, cardinal, unit};

/// The same lexemes with every number in one piece.
pub(super) fn in_one_piece(lexemes: &[Lexeme]) -> Vec<Lexeme> {
    let mut found = Vec::with_capacity(lexemes.len());
    let mut rest = lexemes;
    while let [first, after @ ..] = rest {
        if let Some((numeral, left)) = number(rest) {
            found.push(Lexeme { sense: Sense::Number(numeral), glued: first.glued });
            rest = left;
        } else {
            found.push(*first);
            rest = after;
        }
    }
    found
}

/// What a number leaves to be read.
type Left<'a> = &'a [Lexeme];

/// The number that starts here.
fn number(lexemes: Left<'_>) -> Option<(Numeral, Left<'_>)> {
    let (numeral, left) = fraction_alone(lexemes).or_else(|| spoken(lexemes)).or_else(|| typed(lexemes))?;
    Some(with_fraction(numeral, left))
}

/// `½`, `3/8`, "half an", "three quarters of an", "a quarter".
fn fraction_alone(lexemes: Left<'_>) -> Option<(Numeral, Left<'_>)> {
    let (value, form, left) = share(lexemes)?;
    Some((Numeral::plain(value, form), without_of_a(left)))
}

/// A share of a whole.
fn share(lexemes: Left<'_>) -> Option<(Exact, Form, Left<'_>)> {
    let whole = Exact::whole;
    match senses(lexemes) {
        (Some(Sense::Vulgar(value)), ..) => Some((value, Form::Fraction, skip(lexemes, 1))),
        (Some(Sense::Number(over)), Some(Sense::Slash), Some(Sense::Number(under))) => {
            let both_whole = over.form == Form::Whole && under.form == Form::Whole;
            let value = Exact::fraction(over.value, under.value).filter(|_| both_whole)?;
            Some((value, Form::Slashed, skip(lexemes, 3)))
        }
        (Some(Sense::A), Some(Sense::Cardinal(Cardinal::Part(_))), _) => share(skip(lexemes, 1)),
        (Some(Sense::Cardinal(Cardinal::Part(under))), ..) => {
            Some((Exact::fraction(whole(1), whole(under))?, Form::Fraction, skip(lexemes, 1)))
        }
        (Some(over), Some(Sense::Cardinal(Cardinal::Part(under))), _) => {
            Some((Exact::fraction(count(over)?, whole(under))?, Form::Fraction, skip(lexemes, 2)))
        }
        _ => None,
    }
}

/// How many parts: "three" quarters.
fn count(sense: Sense) -> Option<Exact> {
    if let Sense::Cardinal(Cardinal::Digit(digit) | Cardinal::Teen(digit)) = sense {
        return Some(Exact::whole(digit));
    }
    if let Sense::Number(numeral) = sense {
        return (numeral.form == Form::Whole).then_some(numeral.value);
    }
    None
}

/// "half *an* inch", "three quarters *of an* inch", `5/8`*ths of an* inch.
fn without_of_a(lexemes: Left<'_>) -> Left<'_> {
    match senses(lexemes) {
        (Some(Sense::Of), ..) => without_of_a(skip(lexemes, 1)),
        (Some(Sense::A), Some(Sense::Unit(_) | Sense::In), _) => skip(lexemes, 1),
        _ => lexemes,
    }
}

/// A whole number with a share after it: `6 ½`, `1 1/2`, `3-1/2`, "six and a half", "six and three quarter".
fn with_fraction(numeral: Numeral, left: Left<'_>) -> (Numeral, Left<'_>) {
    if numeral.form != Form::Whole {
        return (numeral, left);
    }
    let joined = match senses(left) {
        (Some(Sense::Dash | Sense::Link(Link::And)), ..) => skip(left, 1),
        _ => left,
    };
    let said_and = !std::ptr::eq(joined, left);
    let Some((value, form, after)) = share(joined) else { return (numeral, left) };
    let below_one = Exact::whole(1).minus(value).is_some_and(|rest| !rest.is_zero());
    // "8 foot *and a half inch*" is a half of its own; `8 4/12` is eight and a third.
    let of_its_own =
        said_and && form == Form::Fraction && matches!(senses(after).0, Some(Sense::A | Sense::Of));
    if !below_one || of_its_own {
        return (numeral, left);
    }
    (
        Numeral { other: None, ..Numeral::plain(numeral.value.plus(value), Form::Fraction) },
        without_of_a(after),
    )
}

/// Digits, with what may follow them: a group of three, "thousand", "point four".
fn typed(lexemes: Left<'_>) -> Option<(Numeral, Left<'_>)> {
    let (first, after) = lexemes.split_first()?;
    let Sense::Number(numeral) = first.sense else { return None };
    match senses(after) {
        (Some(Sense::Cardinal(Cardinal::Hundred | Cardinal::Thousand)), ..)
            if numeral.form == Form::Whole =>
        {
            cardinals(lexemes)
        }
        (Some(Sense::Cardinal(Cardinal::Thousand)), ..) => {
            let value = numeral.value.times(Exact::whole(1_000));
            Some((Numeral::plain(value, Form::Whole), skip(after, 1)))
        }
        (Some(Sense::Cardinal(Cardinal::Point)), Some(_), _) if numeral.form == Form::Whole => {
            Some(with_decimals(numeral.value, after).unwrap_or((numeral, after)))
        }
        (Some(Sense::Number(group)), follow, _)
            if follow != Some(Sense::Slash) && groups(numeral, group, after) =>
        {
            let thousand = Exact::whole(1_000);
            let value = numeral.value.times(thousand).plus(group.value);
            Some((Numeral { value, digits: numeral.digits + 3, ..numeral }, skip(after, 1)))
        }
        _ => Some((numeral, after)),
    }
}

/// Whether a space parts thousands: `2 400`, `12 000`.
fn groups(thousands: Numeral, group: Numeral, after: Left<'_>) -> bool {
    let spaced = after.first().is_some_and(|lexeme| !lexeme.glued);
    let whole = |numeral: Numeral| numeral.form == Form::Whole && numeral.other.is_none();
    spaced
        && whole(thousands)
        && whole(group)
        && group.digits == 3
        && (1..=2).contains(&thousands.digits)
        && !thousands.value.is_zero()
}

/// Number words.
fn spoken(lexemes: Left<'_>) -> Option<(Numeral, Left<'_>)> {
    match senses(lexemes) {
        (Some(Sense::Cardinal(Cardinal::Point)), ..) => with_decimals(Exact::whole(0), lexemes),
        (Some(Sense::Cardinal(_)), ..) => digit_string(lexemes).or_else(|| {
            let (numeral, left) = cardinals(lexemes)?;
            Some(with_decimals(numeral.value, left).unwrap_or((numeral, left)))
        }),
        (Some(Sense::A), Some(Sense::Cardinal(Cardinal::Hundred | Cardinal::Thousand)), _) => {
            cardinals(skip(lexemes, 1))
        }
        (Some(Sense::A), Some(Sense::Unit(_)), _) => {
            Some((Numeral::plain(Exact::whole(1), Form::Whole), skip(lexemes, 1)))
        }
        _ => None,
    }
}

/// "point four five", "point forty five", "point 4": `lexemes` starts at the point.
fn with_decimals(before: Exact, lexemes: Left<'_>) -> Option<(Numeral, Left<'_>)> {
    let (Some(Sense::Cardinal(Cardinal::Point)), ..) = senses(lexemes) else { return None };
    let rest = skip(lexemes, 1);
    let (text, left) = match senses(rest).0 {
        Some(Sense::Number(numeral)) if numeral.form == Form::Whole => {
            let digits = numeral.value.as_whole_up_to(999_999)?;
            (format!("{digits:0width$}", width = numeral.digits), skip(rest, 1))
        }
        Some(Sense::Cardinal(Cardinal::Digit(_))) => digits(rest),
        Some(Sense::Cardinal(Cardinal::Teen(_) | Cardinal::Tens(_))) => {
            let (numeral, left) = cardinals(rest)?;
            (numeral.value.as_whole_up_to(99)?.to_string(), left)
        }
        _ => return None,
    };
    Some((Numeral::plain(before.plus(Exact::from_digits("0", &text)), Form::Decimal), left))
}

/// Three digit words or more, or two that start with a zero, spell a number: "two four oh oh", "oh five".
fn digit_string(lexemes: Left<'_>) -> Option<(Numeral, Left<'_>)> {
    let (text, left) = digits(lexemes);
    let spelt = text.len() >= 3 || (text.len() == 2 && text.starts_with('0'));
    let ends = !matches!(senses(left).0, Some(Sense::Cardinal(_)));
    (spelt && ends).then(|| {
        let value = Exact::from_digits(&text, "");
        (Numeral { digits: text.len(), ..Numeral::plain(value, Form::Whole) }, left)
    })
}

/// The digit words that stand in a row here.
fn digits(lexemes: Left<'_>) -> (String, Left<'_>) {
    let mut text = String::new();
    let mut left = lexemes;
    while let (Some(Sense::Cardinal(Cardinal::Digit(digit))), ..) = senses(left) {
        text.push_str(&digit.to_string());
        left = skip(left, 1);
    }
    (text, left)
}

/// "two thousand four hundred and ten", "eleven hundred", "two forty", "twenty-two".
fn cardinals(lexemes: Left<'_>) -> Option<(Numeral, Left<'_>)> {
    let (mut thousands, mut current): (Option<u32>, Option<u32>) = (None, None);
    let mut left = lexemes;
    loop {
        let (first, second, _) = senses(left);
        let taken = match first {
            Some(Sense::Cardinal(cardinal)) => match cardinal {
                Cardinal::Digit(digit) => add_below(current, digit, 10),
                Cardinal::Teen(teen) => add_below(current, teen, 100),
                Cardinal::Tens(tens) => add_below(current, tens, 100),
                Cardinal::Hundred => current.or(Some(1)).filter(|n| *n < 100).map(|n| n * 100),
                Cardinal::Thousand if thousands.is_none() => {
                    thousands = Some(current.unwrap_or(1).saturating_mul(1_000));
                    current = None;
                    left = skip(left, 1);
                    continue;
                }
                Cardinal::Thousand | Cardinal::Point | Cardinal::Part(_) => None,
            },
            Some(Sense::Number(numeral)) if numeral.form == Form::Whole => {
                numeral.value.as_whole_up_to(999).and_then(|whole| add_below(current, whole, 0))
            }
            Some(Sense::Link(Link::And | Link::Comma)) if goes_on(thousands, current, second, left) => {
                left = skip(left, 1);
                continue;
            }
            _ => None,
        };
        let Some(now) = taken else { break };
        current = Some(now);
        left = skip(left, 1);
    }
    let value = match (thousands, current) {
        (None, None) => return None,
        (thousands, current) => thousands.unwrap_or(0).saturating_add(current.unwrap_or(0)),
    };
    let digits = value.to_string().len();
    Some((Numeral { digits, ..Numeral::plain(Exact::whole(value), Form::Whole) }, left))
}

/// "hundred *and* ten": a whole number follows, and not a share of one.
fn goes_on(thousands: Option<u32>, current: Option<u32>, next: Option<Sense>, left: Left<'_>) -> bool {
    let after_hundred = current.is_some_and(|n| n >= 100 && n % 100 == 0);
    let after_thousand = thousands.is_some() && current.is_none();
    let whole =
        matches!(next, Some(Sense::Cardinal(Cardinal::Digit(_) | Cardinal::Teen(_) | Cardinal::Tens(_))));
    (after_hundred || after_thousand) && whole && share(skip(left, 1)).is_none()
}

/// A part below `limit` added to what was said so far: after tens, after a hundred, or, for the way
/// builders say "six ten" and "two forty", after a small number.
fn add_below(current: Option<u32>, part: u32, limit: u32) -> Option<u32> {
    let Some(current) = current else { return Some(part) };
    let rest = current % 100;
    let after_hundred = current >= 100 && rest == 0;
    let after_tens = limit == 10 && rest >= 20 && rest % 10 == 0 && part > 0;
    if after_hundred || after_tens {
        return Some(current + part);
    }
    (limit == 100 && current > 0 && current < 100).then_some(current * 100 + part)
}

/// The next three senses.
fn senses(lexemes: Left<'_>) -> (Option<Sense>, Option<Sense>, Option<Sense>) {
    let at = |place: usize| lexemes.get(place).map(|lexeme| lexeme.sense);
    (at(0), at(1), at(2))
}

fn skip(lexemes: Left<'_>, count: usize) -> Left<'_> {
    lexemes.get(count..).unwrap_or(&[])
}

// ---- What a single word is, for whoever looks where the figures of a message stand ----

/// What a word can be in a figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// "eight", "forty": a number by itself.
    Number,
    /// "hundred", "point": goes on with a number.
    Joins,
    /// "half", "quarter".
    Share,
    /// "metres", "mm".
    Unit(WrittenUnit),
}

/// What a word can be in a figure; `None` where it is no part of one, or only by what stands around it.
pub fn part_of(word: &str) -> Option<Part> {
    if let Some(unit) = unit(word) {
        return Some(Part::Unit(unit.into()));
    }
    match cardinal(word)? {
        // "Nothing near" measures nothing.
        Cardinal::Digit(0) if !matches!(word, "zero" | "nought" | "naught") => None,
        Cardinal::Digit(_) | Cardinal::Teen(_) | Cardinal::Tens(_) => Some(Part::Number),
        Cardinal::Hundred | Cardinal::Thousand | Cardinal::Point => Some(Part::Joins),
        Cardinal::Part(_) => Some(Part::Share),
    }
}

/// The whole number a text is, in digits or in words: "twenty five".
#[expect(clippy::wildcard_enum_match_arm, reason = "only a number counts things")]
pub fn whole_number(text: &str) -> Option<u32> {
    let pieces = tokens(&plain(text));
    match in_one_piece(&super::words::senses(&pieces)).as_slice() {
        [only] => match only.sense {
            Sense::Number(numeral) if numeral.form == Form::Whole => numeral.value.as_whole_up_to(MOST),
            Sense::A => Some(1),
            _ => None,
        },
        _ => None,
    }
}

/// Nobody counts more of anything on a roof.
const MOST: u32 = 100_000;
