//! Insulation that was wanted: planned, or the person is told why not.

use super::{Finding, FindingKind, SlopePlan};
use crate::roofing::layout::SupportPlan;
use crate::roofing::note::Note;
use crate::roofing::roof::Site;

/// Says so where insulation was wanted and the plan has no place for it: boards lie only between purlins over a deck.
pub(super) fn not_insulated(site: &Site, slopes: &[SlopePlan]) -> Option<Finding> {
    let bare = slopes.iter().find(|slope| !slope.takes_insulation())?;
    let message = match bare.support {
        SupportPlan::ExistingDeck { .. } | SupportPlan::NewFullDeck { .. } => {
            "advice-insulation-not-on-a-deck"
        }
        SupportPlan::Purlins | SupportPlan::PurlinsOverDeck { .. } => "advice-insulation-not-over-rafters",
    };
    site.insulation.then(|| Finding {
        id: "insulation-not-planned".to_owned(),
        kind: FindingKind::Advice,
        slope: None,
        note: Note::new(message),
        requirement: None,
        reasons: Vec::new(),
        source: "common-practice".to_owned(),
    })
}
