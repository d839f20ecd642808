//! A figure that is put to the bot gets its verdict before anything else is made of it: whoever asks whether a figure
//! will do changes nothing by it.

use crate::conversation::answers::{reply, talked_about};
use crate::conversation::deciding::{Decision, Place, Row};
use crate::conversation::ears::asked::{Amount, Asked, Heard, Sense, Subject, Told};
use crate::conversation::ears::{Act, Given, Interpretation};
use crate::conversation::talk::Talk;
use crate::conversation::understanding::Understanding;
use crate::roofing::roof::{FactKey, FactValue};
use crate::units::Length;

/// A figure this near to what is known already, in hundredths, is the same said roundly: half an inch for 12 mm.
const ROUNDLY: i64 = 8;
/// No more bytes than this part a choice that was misheard from a figure's noun: "5 purlins".
const BESIDE: usize = 12;
/// In what a bare number may be meant: millimetres, centimetres, inches, feet, metres; in micrometres.
const UNITS: [i64; 5] = [1_000, 10_000, 25_400, 304_800, 1_000_000];

impl Talk<'_, '_> {
    /// Gives a verdict on a figure that is put; `false` where none is, or nothing is known of it.
    pub(super) fn judged(&mut self, text: &str, understood: &Understanding) -> bool {
        let figures = self.guide.asks.hear(text, talked_about(understood));
        let judged = self.say_verdicts(&figures, understood);
        if judged {
            self.carry_on();
        }
        judged
    }

    /// With a plan in hand, a figure that is put is judged, and only what was told beside it is put as a change.
    pub(super) fn judged_first(&mut self, decision: Decision, text: &str, said: &Interpretation) -> bool {
        let hears_facts =
            matches!(decision.row, Row::FactsAndQuestion | Row::Facts | Row::Unclear | Row::WhatIf);
        let compares = |act: Act| matches!(act, Act::Relative | Act::Swap);
        if !hears_facts
            || !matches!(self.place(), Place::Planned | Place::AtWork)
            || said.acts.iter().any(|heard| compares(heard.act))
        {
            return false;
        }
        let understood = self.understand(text);
        // What the talk is about names no figure of a message that asks nothing: "it's 3.3 m long really".
        let about = talked_about(&understood).filter(|_| said.asks);
        let mut figures = self.guide.asks.hear(text, about);
        // Whoever says what is so, and asks nothing, puts no figure.
        let asks = text.contains('?');
        let is_told =
            |asked: &Asked| asked.sense == Sense::Stated || (asked.sense == Sense::Confirm && !asks);
        figures.asked.retain(|asked| !is_told(asked));
        let of_itself =
            |given: &Given| figures.asked.iter().any(|asked| of(asked.subject) == Some(given.fact));
        // What would follow from another roof is worked out, not judged.
        if decision.row == Row::WhatIf && said.supposed().iter().any(of_itself) {
            return false;
        }
        let beside: Vec<Given> = said
            .acts
            .iter()
            .filter(|heard| heard.states_a_fact())
            .filter_map(|heard| {
                let given = heard.given.as_ref()?;
                (!self.is_put(given, heard.span.start, text, &figures)).then(|| given.clone())
            })
            .collect();
        if !self.say_verdicts(&figures, &understood) {
            return false;
        }
        if beside.is_empty() {
            self.carry_on();
        } else {
            self.take(&beside);
        }
        true
    }

    fn say_verdicts(&mut self, figures: &Heard, understood: &Understanding) -> bool {
        if figures.asked.is_empty() {
            return false;
        }
        let reply = self.about_the_roof(|roof| reply(understood, figures, roof));
        if reply.judged {
            self.say_reply(&reply);
        }
        reply.judged
    }

    /// Whether a fact was heard from a figure that is put: of something else, or as it is known already.
    fn is_put(&self, given: &Given, at: usize, text: &str, figures: &Heard) -> bool {
        let known = self.session.facts().get(given.fact);
        figures.asked.iter().any(|asked| {
            let own = of(asked.subject) == Some(given.fact);
            let same = asked.figures.iter().any(|told| is_same(&given.value, told));
            let known_so = known.is_some_and(|known| is_roughly(known, &given.value));
            if own { known_so } else { same || is_beside(given, at, text, asked) }
        })
    }
}

/// The facts that figures put to the bot may be of.
const OWN: [(Subject, FactKey); 3] = [
    (Subject::Deck, FactKey::DeckThickness),
    (Subject::Pitch, FactKey::Pitch),
    (Subject::TimberSpacing, FactKey::TimberSpacing),
];

/// The fact that a figure of this is.
fn of(subject: Subject) -> Option<FactKey> {
    OWN.iter().find(|(one, _)| *one == subject).map(|(_, fact)| *fact)
}

fn is_same(value: &FactValue, told: &Told) -> bool {
    let near = |a: Length, b: Length| (a.um() - b.um()).abs() <= 1_000;
    match (value, told.amount) {
        (FactValue::Length(length), Amount::Length(other)) => near(length.value, other),
        (FactValue::Length(length), Amount::Bare(thousandths)) => UNITS.iter().any(|unit| {
            let um = thousandths.saturating_mul(*unit).div_euclid(1_000);
            near(length.value, Length::from_um(um))
        }),
        (FactValue::Angle(angle), Amount::Angle(other)) => angle.value == other,
        (FactValue::Count(count), Amount::Bare(thousandths)) => count.saturating_mul(1_000) == thousandths,
        _ => false,
    }
}

fn is_roughly(known: &FactValue, given: &FactValue) -> bool {
    match (known, given) {
        (FactValue::Length(known), FactValue::Length(given)) => {
            let off = (known.value.um() - given.value.um()).abs();
            off.saturating_mul(100) <= known.value.um().saturating_mul(ROUNDLY)
        }
        (known, given) => known == given,
    }
}

/// Whether a choice was heard from the words right beside a figure.
fn is_beside(given: &Given, at: usize, text: &str, asked: &Asked) -> bool {
    let lower = text.to_lowercase();
    let is_near = |told: &Told| {
        let number: String = told.written.chars().take_while(|c| c.is_alphanumeric()).collect();
        lower.find(&number).is_some_and(|start| (start + number.len()).abs_diff(at) <= BESIDE)
    };
    matches!(given.value, FactValue::Choice(_)) && asked.figures.iter().any(is_near)
}
