//! What follows from what was heard, by where the chat is: one table, gone through from the top. Pure.
//!
//! The first row that holds decides, so the order of the rows is the order of precedence; the place picks the
//! column. `talk` then does what the move says. The table is shown in DEVELOPERS.md, and tests/chat/deciding.rs goes
//! through it row by row.

use super::ears::{Act, Given, Interpretation, Job, Order, Sure, View};
use super::session::Open;
use super::understanding::{DangerHeard, DangerKind};
use crate::roofing::roof::{FactKey, FactValue};

/// Where a chat is: the columns of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// Questions are being asked.
    Asking,
    /// Everything was shown back.
    Review,
    /// There is a plan, and the work has not begun.
    Planned,
    /// The work is on.
    AtWork,
    /// Somebody could get hurt, and that is settled first.
    Held,
}

impl Place {
    /// Every place, in the order of the columns.
    pub const ALL: &'static [Self] = &[Self::Asking, Self::Review, Self::Planned, Self::AtWork, Self::Held];
}

/// What was heard: the rows of the table, from the gravest to nothing at all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Row {
    /// A danger, for sure.
    Danger,
    /// What may be a danger.
    PossibleDanger,
    /// One of what was offered is pointed at.
    Points,
    /// Something of the job.
    Job,
    /// An order.
    Order,
    /// Nothing but yes.
    Agrees,
    /// Nothing but no.
    Refuses,
    /// Facts, and a question.
    FactsAndQuestion,
    /// Facts, for sure.
    Facts,
    /// Facts, but not for sure, or one of several.
    Unclear,
    /// What would be.
    WhatIf,
    /// A question.
    Question,
    /// Nothing that changes anything.
    Remark,
}

/// What is done: the cells of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Move {
    /// Stop, say what to do, and hold.
    Stop,
    /// Ask in one line whether it is so; store nothing.
    Wonder,
    /// Take what is pointed at.
    PickIt,
    /// Say that there is no plan yet.
    NotYet,
    /// Do what the job asks for.
    Work,
    /// Do what is told.
    Obey,
    /// It is a yes to what is open.
    Agreed,
    /// It is a no to what is open.
    Refused,
    /// Take the facts and say them back.
    Take,
    /// Take the facts, answer, and go on.
    TakeAndAnswer,
    /// Ask whether to change: fact, old value, new value, what follows.
    Propose,
    /// The same, and answer.
    ProposeAndAnswer,
    /// Put it back as one plain question.
    PutBack,
    /// Work out the difference, store nothing, and ask whether to keep it.
    WorkOut,
    /// Answer, and go on.
    Answer,
    /// Answer what belongs to the hold.
    AnswerOfTheHold,
    /// Say once more what must be settled first.
    SettleFirst,
    /// A word, and ask again.
    Word,
}

/// What follows from what was heard, for a chat that is asking, in review, planned, at work, or held.
pub const TABLE: &[(Row, [Move; 5])] = {
    use Move::{
        Agreed, Answer, AnswerOfTheHold, NotYet, Obey, PickIt, Propose, ProposeAndAnswer, PutBack, Refused,
        SettleFirst, Stop, Take, TakeAndAnswer, Wonder, Word, Work, WorkOut,
    };
    &[
        //                      asking         review         planned           at work           held
        (Row::Danger, [Stop, Stop, Stop, Stop, Stop]),
        (Row::PossibleDanger, [Wonder, Wonder, Wonder, Wonder, Wonder]),
        (Row::Points, [PickIt, PickIt, PickIt, PickIt, PickIt]),
        (Row::Job, [NotYet, NotYet, Work, Work, SettleFirst]),
        (Row::Order, [Obey, Obey, Obey, Obey, Obey]),
        (Row::Agrees, [Agreed, Agreed, Agreed, Agreed, Agreed]),
        (Row::Refuses, [Refused, Refused, Refused, Refused, Refused]),
        (
            Row::FactsAndQuestion,
            [TakeAndAnswer, TakeAndAnswer, ProposeAndAnswer, ProposeAndAnswer, AnswerOfTheHold],
        ),
        (Row::Facts, [Take, Take, Propose, Propose, Take]),
        (Row::Unclear, [PutBack, PutBack, PutBack, PutBack, PutBack]),
        (Row::WhatIf, [WorkOut, WorkOut, WorkOut, WorkOut, SettleFirst]),
        (Row::Question, [Answer, Answer, Answer, Answer, AnswerOfTheHold]),
        (Row::Remark, [Word, Word, Word, Word, Word]),
    ]
};

/// What follows, and from what.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Decision {
    /// What was heard.
    pub row: Row,
    /// What is done.
    pub does: Move,
}

/// What follows from an interpretation, by where the chat is and what danger was heard.
pub fn decide(
    place: Place,
    view: &View<'_, '_>,
    said: &Interpretation,
    danger: Option<&DangerHeard>,
) -> Decision {
    let found = TABLE.iter().find(|(row, _)| row.holds(place, view, said, danger));
    let (row, cells) = found.copied().unwrap_or((Row::Remark, [Move::Word; 5]));
    let column = Place::ALL.iter().position(|one| *one == place).unwrap_or_default();
    Decision { row, does: cells.get(column).copied().unwrap_or(Move::Word) }
}

impl Row {
    /// Whether this is what was heard.
    fn holds(
        self,
        place: Place,
        view: &View<'_, '_>,
        said: &Interpretation,
        danger: Option<&DangerHeard>,
    ) -> bool {
        let sure = || {
            said.acts
                .iter()
                .any(|heard| heard.states_a_fact() && heard.given.is_some() && heard.sure == Sure::Sure)
        };
        let answers = || said.acts.iter().any(|heard| heard.act == Act::Answer && heard.sure == Sure::Sure);
        let asked = matches!(view.session.open(), Open::Question(_));
        let answered = asked && said.acts.iter().any(|heard| heard.act == Act::Answer);
        match self {
            Self::Danger => danger.is_some_and(|danger| danger.sure && !is_answered(danger.kind, said)),
            // Only an answer to the open question, that merely sounds like danger, is let be: a fact silences none.
            Self::PossibleDanger => danger.is_some_and(|danger| {
                !(is_answered(danger.kind, said) || answered && danger.only_sounds_so())
            }),
            Self::Points => {
                let offered =
                    matches!(view.session.open(), Open::Pick(_)) || !view.session.suggested().is_empty();
                said.points_at.is_some() && offered
            }
            Self::Job => {
                said.job.as_ref().is_some_and(|job| is_of_the_place(job, place, view))
                    && !(asked && answers())
            }
            // "Back" is where the wind comes from, too.
            Self::Order => said.order.as_ref().is_some_and(|order| {
                !(asked
                    && answers()
                    && matches!(order, Order::Back | Order::LeaveIt | Order::Change(_) | Order::Share(_)))
            }),
            Self::Agrees => said.yes_or_no() == Some(true) && !answered,
            Self::Refuses => said.yes_or_no() == Some(false) && !answered,
            Self::FactsAndQuestion => sure() && said.asks,
            Self::Facts => sure(),
            Self::Unclear => said.unclear().is_some() || !said.unsure_facts().is_empty(),
            Self::WhatIf => !said.supposed().is_empty(),
            Self::Question => said.asks || said.acts.iter().any(|heard| heard.act == Act::Ask),
            Self::Remark => true,
        }
    }
}

/// Whether a danger is spoken of only to answer a question about it: "no power lines", "the boards are rotten".
fn is_answered(kind: DangerKind, said: &Interpretation) -> bool {
    let facts: &[FactKey] = match kind {
        DangerKind::Injury | DangerKind::Fire | DangerKind::Shock | DangerKind::Collapse => &[],
        DangerKind::Line => &[FactKey::OverheadLines],
        DangerKind::Asbestos => &[FactKey::AsbestosTest, FactKey::CoveringNow],
        DangerKind::Rot | DangerKind::Fragile => &[FactKey::Structure],
    };
    said.acts.iter().any(|heard| {
        let plain = heard.act == Act::Answer
            || (heard.sure == Sure::Sure && heard.given.as_ref().is_some_and(is_harmless));
        let offered = |options: &[super::event::Offer]| {
            options.iter().flat_map(|one| &one.answers).any(|(fact, _)| facts.contains(fact))
        };
        plain
            && match (&heard.given, &heard.sure) {
                (Some(given), _) => facts.contains(&given.fact) && heard.states_a_fact(),
                (None, Sure::OneOf { options, .. }) => heard.states_a_fact() && offered(options),
                (None, _) => false,
            }
    })
}

/// Whether a fact stands for no danger.
pub fn is_harmless(given: &Given) -> bool {
    DangerKind::ALL.iter().all(|kind| answer_of(*kind) != Some((given.fact, given.value.clone())))
}

/// Whether something of the job is meant as such where the chat is.
fn is_of_the_place(job: &Job, place: Place, view: &View<'_, '_>) -> bool {
    let begun = view.session.progress().begun();
    let pending = view.session.progress().proposal().is_some();
    let aside = matches!(view.session.open(), Open::Review | Open::WhatToChange);
    match job {
        Job::Start => {
            !matches!(place, Place::Asking)
                || !matches!(view.session.open(), Open::Question(_))
                || !view.session.planned()
        }
        Job::Accept | Job::Leave => pending,
        Job::WhereWasI => begun,
        _ if aside => false,
        _ => begun && matches!(place, Place::AtWork | Place::Held),
    }
}

/// The answer that a danger stands for, where a question asks for it.
pub fn answer_of(kind: DangerKind) -> Option<(FactKey, FactValue)> {
    let choice = |fact: FactKey, id: &str| Some((fact, FactValue::Choice(id.to_owned())));
    match kind {
        DangerKind::Injury
        | DangerKind::Fire
        | DangerKind::Shock
        | DangerKind::Collapse
        | DangerKind::Asbestos => None,
        DangerKind::Line => choice(FactKey::OverheadLines, "near"),
        DangerKind::Rot => choice(FactKey::Structure, "rotten_or_sagging"),
        DangerKind::Fragile => choice(FactKey::Structure, "might_not_hold_weight"),
    }
}

/// Whether an order can hold no danger, and need not wait until the topics are ready.
pub fn is_plain_order(said: &Interpretation, text: &str) -> bool {
    /// An order that may name anything is plain where it has no more words than this.
    const MOST_WORDS: usize = 2;
    let short = text.split_whitespace().count() <= MOST_WORDS;
    said.order.as_ref().is_some_and(|order: &Order| !order.may_name_anything() || short)
}
