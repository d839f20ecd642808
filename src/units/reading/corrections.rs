//! "2.4, no wait, 2.6": the last figure wins, and a unit said before still serves it.

use super::words::{Lexeme, Link, Sense, Unit};

/// What is left when every correction is made.
pub(super) struct Settled {
    /// The words that still count.
    pub(super) lexemes: Vec<Lexeme>,
    /// The unit of the figure that was taken back.
    pub(super) lent: Option<Unit>,
}

/// Leaves out what the person took back.
pub(super) fn settle(lexemes: &[Lexeme]) -> Settled {
    let (kept, mut lent) = without_denied(lexemes);
    let Some(last) = last_correction(&kept) else { return Settled { lexemes: kept, lent } };
    let (before, after) = kept.split_at_checked(last).unwrap_or((&kept, &[]));
    lent = last_unit(before).or(lent);
    Settled { lexemes: after.to_vec(), lent }
}

/// Where the last correction that a number follows stands.
fn last_correction(lexemes: &[Lexeme]) -> Option<usize> {
    let last_number = lexemes.iter().rposition(is_number)?;
    let first_number = lexemes.iter().position(is_number)?;
    let (head, _) = lexemes.split_at_checked(last_number)?;
    head.iter().enumerate().rposition(|(place, lexeme)| {
        lexeme.sense == Sense::Correction || (lexeme.sense == Sense::No && place > first_number)
    })
}

/// "not 2.4, 2.6" and "2.6, not 2.4": without the figure that is denied.
fn without_denied(lexemes: &[Lexeme]) -> (Vec<Lexeme>, Option<Unit>) {
    let Some(at) = lexemes.iter().position(|lexeme| lexeme.sense == Sense::Not) else {
        return (lexemes.to_vec(), None);
    };
    let (before, denied) = lexemes.split_at_checked(at).unwrap_or((lexemes, &[]));
    let Some(start) = denied.iter().position(is_number) else { return (lexemes.to_vec(), None) };
    let (_, from_figure) = denied.split_at_checked(start).unwrap_or((denied, &[]));
    let length = figure_length(from_figure);
    let (figure, after) = from_figure.split_at_checked(length).unwrap_or((from_figure, &[]));
    let lent = last_unit(figure);
    if after.iter().any(is_number) {
        // What came before the denial goes with it, but for words such as "about".
        let hedges = before.iter().filter(|lexeme| matches!(lexeme.sense, Sense::Doubt(_)));
        let (rest, later) = without_denied(after);
        return (hedges.copied().chain(rest).collect(), later.or(lent));
    }
    let kept = if before.iter().any(is_number) { before } else { lexemes };
    (kept.to_vec(), lent)
}

/// How far the figure that starts here goes: numbers and units in turn.
fn figure_length(lexemes: &[Lexeme]) -> usize {
    let mut number_may_follow = true;
    let mut length = 0;
    for lexeme in lexemes {
        let joins = matches!(
            lexeme.sense,
            Sense::Unit(_) | Sense::FootMark | Sense::InchMark | Sense::In | Sense::Link(Link::Over)
        );
        let number = number_may_follow && is_number(lexeme);
        if !joins && !number {
            break;
        }
        number_may_follow = joins;
        length += 1;
    }
    length
}

fn is_number(lexeme: &Lexeme) -> bool {
    matches!(lexeme.sense, Sense::Number(_))
}

/// The last unit written after a number; feet, where feet and inches were.
fn last_unit(lexemes: &[Lexeme]) -> Option<Unit> {
    let mut found = None;
    for pair in lexemes.windows(2) {
        let [Lexeme { sense: Sense::Number(_), .. }, Lexeme { sense, .. }] = pair else { continue };
        let inches = matches!(sense, Sense::InchMark | Sense::In | Sense::Unit(Unit::In));
        if !(inches && found == Some(Unit::Ft)) {
            found = sense.unit().or(found);
        }
    }
    found
}
