//! "Make both 2.5 m", "both the slope and the length are 5 cm less": one figure that is said of two facts.

use super::super::clauses::{Standing, standing};
use super::super::figures::{Figure, Kind};
use super::super::lexicon::{Means, Tag};
use super::super::readings::{Reply, fits, measure};
use super::super::{Act, Given, Heard, Message, Sure, View};
use super::matching::{Claimant, Claimed, Named};
use crate::conversation::event::{Answer, Offer};
use crate::roofing::note::Note;
use crate::roofing::roof::{FactKey, FactKind};

/// What "both" may be where nothing is named: the two slopes, or the two sizes of the roof.
const LENGTHS: [[FactKey; 2]; 2] =
    [[FactKey::SlopeLength, FactKey::SlopeLengthBack], [FactKey::Length, FactKey::SlopeLength]];
const ANGLES: [[FactKey; 2]; 1] = [[FactKey::Pitch, FactKey::PitchBack]];

/// Both of two facts that nothing names, put back as a question; with the figure that this uses up.
pub(super) fn both(
    view: &View<'_, '_>,
    message: &Message<'_>,
    claimed: &[Claimed],
) -> Option<(Vec<Heard>, Vec<usize>)> {
    let [figure] = message.figures.as_slice() else { return None };
    let hit = message.hits.iter().find(|hit| hit.is(Tag::Both))?;
    let index = message.clause_of(figure.tokens.start)?;
    let clause = message.clauses.get(index).filter(|clause| clause.holds(hit.start))?;
    let named = claimed.iter().any(|one| match &one.by {
        Some(Claimant::Fact(_, named)) => *named != Named::Unit,
        Some(Claimant::Thing) => true,
        None => false,
    });
    if named || standing(clause) != Standing::Says || super::measured::has_leftovers(message, index) {
        return None;
    }
    let pairs = match figure.kind {
        Kind::Angle => ANGLES.as_slice(),
        Kind::Length | Kind::Bare => LENGTHS.as_slice(),
        Kind::Temperature | Kind::Speed | Kind::Time | Kind::Count | Kind::Money | Kind::Mass => return None,
    };
    let options: Vec<Offer> = pairs
        .iter()
        .filter(|pair| pair.iter().all(|fact| view.session.facts().get(*fact).is_some()))
        .filter_map(|pair| {
            let answers =
                pair.iter().map(|fact| value(view, *fact, figure)).collect::<Option<Vec<Answer>>>()?;
            Some(Offer { answers, unit: None })
        })
        .collect();
    if options.is_empty() {
        return None;
    }
    let heard = Heard {
        act: Act::Correct,
        given: None,
        span: message.bytes(&clause.tokens),
        clause: index,
        evidence: vec![hit.way.written.clone()],
        sure: Sure::OneOf { why: Note::new("which-did-you-mean"), options },
    };
    Some((vec![heard], vec![0]))
}

fn value(view: &View<'_, '_>, fact: FactKey, figure: &Figure) -> Option<Answer> {
    match measure(view.guide, view.session.usual(), fact, &figure.text) {
        Reply::Value(Given { value, .. }) if fits(view.guide, fact, &value) => Some((fact, value)),
        Reply::Value(_) | Reply::Two(..) | Reply::Offer { .. } | Reply::Unreadable(_) | Reply::Silent => None,
    }
}

/// The facts that "both" names: "both the slope and the length".
pub(super) fn named_by_both(
    view: &View<'_, '_>,
    message: &Message<'_>,
    angular: Option<bool>,
) -> Vec<FactKey> {
    let mut found: Vec<FactKey> = Vec::new();
    if !message.has(Tag::Both) {
        return found;
    }
    for hit in &message.hits {
        let Means::Names(fact, _) = hit.means else { continue };
        // "The slope" is how long it is, where it is lengths that are spoken of.
        let fact =
            if *fact == FactKey::Pitch && angular == Some(false) { FactKey::SlopeLength } else { *fact };
        let is_angle =
            matches!(fact.kind(), FactKind::Quantity(quantity) if quantity.length_band().is_none());
        let measured = matches!(fact.kind(), FactKind::Quantity(_));
        let fitting = measured && angular.is_none_or(|angular| angular == is_angle);
        if fitting && view.session.facts().get(fact).is_some() && !found.contains(&fact) {
            found.push(fact);
        }
    }
    if found.len() == 2 { found } else { Vec::new() }
}
