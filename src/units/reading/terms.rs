//! Figures beside one another: units lent, strays left out, sums and products worked out.

use super::WrittenUnit;
use super::exact::Exact;
use super::figures::{Figure, Size, length_of};
use super::tokens::{Form, Numeral};
use super::words::{Link, Unit};
use crate::units::Length;

/// A figure with the unit that its neighbours lend it, should it have none.
#[derive(Clone, Copy)]
pub(super) struct Term {
    pub(super) size: Size,
    pub(super) lent: Option<Unit>,
    pub(super) link: Option<Link>,
    /// Whether nothing but the link stands between it and the one before.
    pub(super) touches: bool,
}

pub(super) fn is_length(size: Size) -> bool {
    match size {
        Size::Bare(_) | Size::Length(..) | Size::Either(..) => true,
        Size::Written(_, unit) => length_of(Exact::ONE, unit).is_some(),
        Size::Foreign => false,
    }
}

pub(super) fn is_bare(size: Size) -> bool {
    matches!(size, Size::Bare(_))
}

/// Beside figures with a unit, a bare number that nothing links to them counts something else.
pub(super) fn without_strays(figures: &[Figure]) -> Vec<Figure> {
    let linked = |figure: &Figure| figure.touches || matches!(figure.link, Some(link) if link != Link::Comma);
    let some_written = figures.iter().any(|figure| !is_bare(figure.size));
    let mut kept = Vec::with_capacity(figures.len());
    for (place, figure) in figures.iter().enumerate() {
        let tied = (place > 0 && linked(figure)) || figures.get(place + 1).is_some_and(linked);
        if !some_written || !is_bare(figure.size) || tied {
            kept.push(*figure);
        }
    }
    kept
}

/// A unit at the end serves the bare numbers before it, and one at the start those after it.
pub(super) fn lend(figures: &[Figure], said_apart: Option<Unit>) -> Vec<Term> {
    let unit_of = |figure: &Figure| match figure.size {
        Size::Written(_, unit) => Some(unit),
        Size::Length(_, WrittenUnit::FtIn) => Some(Unit::Ft),
        Size::Length(..) | Size::Either(..) => Some(Unit::M),
        Size::Bare(_) | Size::Foreign => None,
    };
    figures
        .iter()
        .enumerate()
        .map(|(place, figure)| {
            let later = figures.iter().skip(place).find_map(unit_of);
            let earlier = figures.iter().take(place).rev().find_map(unit_of);
            Term {
                size: figure.size,
                lent: later.or(earlier).or(said_apart),
                link: figure.link,
                touches: figure.touches,
            }
        })
        .collect()
}

/// With sums, differences and products worked out, and tolerances left out.
pub(super) fn summed(terms: &[Term]) -> Vec<Term> {
    let mut sums: Vec<Term> = Vec::with_capacity(terms.len());
    for term in terms {
        let before = sums.last().copied();
        let combined = match (before, term.link) {
            (Some(_), Some(Link::GiveOrTake)) => before,
            (Some(before), Some(Link::Plus)) => combine(before, *term, |a, b| Some(a.plus(b))),
            (Some(before), Some(Link::Less)) => combine(before, *term, Exact::minus),
            (Some(before), Some(Link::Times)) => multiplied(before, *term),
            (None, Some(Link::Times)) => times(Exact::whole(2), *term),
            _ => None,
        };
        match combined {
            Some(combined) => {
                sums.pop();
                sums.push(combined);
            }
            None => sums.push(*term),
        }
    }
    sums
}

/// The sum or difference of two figures: bare if both are.
fn combine(one: Term, other: Term, join: impl Fn(Exact, Exact) -> Option<Exact>) -> Option<Term> {
    if let (Size::Bare(a), Size::Bare(b), None) = (one.size, other.size, one.lent) {
        let form = if a.form == Form::Whole && b.form == Form::Whole { Form::Whole } else { Form::Decimal };
        return Some(Term { size: Size::Bare(Numeral::plain(join(a.value, b.value)?, form)), ..one });
    }
    let (a, b) = (length_of_term(one)?, length_of_term(other)?);
    let exact = |length: Length| u32::try_from(length.um()).ok().map(Exact::whole);
    let length = Length::from_um(join(exact(a)?, exact(b)?)?.of(1));
    Some(Term { size: Size::Length(length, written_unit(one)), ..one })
}

/// "two lots of 1.2": a bare whole number of the figure after it.
fn multiplied(count: Term, term: Term) -> Option<Term> {
    let Size::Bare(numeral) = count.size else { return None };
    (numeral.form == Form::Whole).then(|| times(numeral.value, Term { link: count.link, ..term })).flatten()
}

pub(super) fn times(count: Exact, term: Term) -> Option<Term> {
    let size = match term.size {
        Size::Bare(numeral) => Size::Bare(Numeral::plain(count.times(numeral.value), numeral.form)),
        Size::Written(numeral, unit) => {
            Size::Written(Numeral::plain(count.times(numeral.value), numeral.form), unit)
        }
        Size::Length(length, unit) => {
            let count = count.as_whole_up_to(1_000)?;
            Size::Length(length * i64::from(count), unit)
        }
        Size::Either(..) | Size::Foreign => return None,
    };
    Some(Term { size, ..term })
}

pub(super) fn length_of_term(term: Term) -> Option<Length> {
    match term.size {
        Size::Bare(numeral) => length_of(numeral.value, term.lent?),
        Size::Written(numeral, unit) => length_of(numeral.value, unit),
        Size::Length(length, _) | Size::Either(length, _) => Some(length),
        Size::Foreign => None,
    }
}

pub(super) fn written_unit(term: Term) -> WrittenUnit {
    match term.size {
        Size::Written(_, unit) => unit.into(),
        Size::Length(_, unit) => unit,
        Size::Bare(_) | Size::Either(..) | Size::Foreign => term.lent.map_or(WrittenUnit::M, Into::into),
    }
}
