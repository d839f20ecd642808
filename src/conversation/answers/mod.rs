//! Answers to follow-up questions, composed from the person's own plan.
//!
//! An answer is notes: a short part, then why and how. Every figure in it comes out of the plan, the catalogue
//! or the rule book; the sentences stand in `dialogs/words/` under ids made from the topic's own:
//! `answer-TOPIC`, `answer-TOPIC-more`, and a few between. Nothing here decides a figure.

mod buying;
mod changes;
mod edges;
mod figures;
mod holding;
mod laying;
mod practice;
mod preparing;
mod standards;
mod support;
mod verdict;

use crate::conversation::ears::asked::{Asked, Heard, Subject};
use crate::conversation::understanding::{Topic, TopicId, Understanding, Verdict};
use crate::roofing::note::Note;
use crate::roofing::plan::{Handbook, Plan, Refusal};
use crate::roofing::roof::Facts;
use crate::roofing::rules::Handover;

/// The roof a question is asked about, as far as it is known.
#[derive(Clone, Copy, Debug)]
pub struct Roof<'a> {
    /// The rules and the catalogue.
    pub book: &'a Handbook,
    /// What the person has told.
    pub facts: &'a Facts,
    /// The plan, where there is one.
    pub plan: Option<&'a Plan>,
    /// Why there is no plan, where the roof is refused as it stands.
    pub refusals: &'a [Refusal],
    /// What is written beside each topic.
    pub topics: &'a [Topic],
    /// What the person had told before the last change, where something was changed since the plan.
    pub before: Option<&'a Facts>,
}

/// What the conversation does in place of answering.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TopicAction {
    /// Ask for a clear yes, then begin again.
    StartOver,
    /// Ask for a clear yes, then delete everything kept of the person.
    DeleteData,
    /// Hand the person, with their plan, to the adviser.
    HandToAdviser,
}

/// An answer to one topic.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// What it answers.
    pub topic: TopicId,
    /// The answer itself.
    pub short: Vec<Note>,
    /// Why and how.
    pub more: Vec<Note>,
    /// What the conversation does with it.
    pub action: Option<TopicAction>,
}

/// A reply to a whole message.
#[derive(Clone, Debug, PartialEq)]
pub struct Reply {
    /// Said first: why the plan is on hold, or that the message was not understood.
    pub opening: Vec<Note>,
    /// An answer to each topic asked about, the gravest first.
    pub answers: Vec<Answer>,
    /// Topics to ask back about, as buttons.
    pub which: Vec<TopicId>,
    /// To whom the person is handed.
    pub handover: Option<Handover>,
    /// Why the plan is stopped, by the reason's id.
    pub stopped: Option<String>,
    /// Whether the first answer is a verdict on a figure that was put.
    pub judged: bool,
}

pub use verdict::about;

/// What figures are of, by what a message is about: for one that no noun stands by.
pub fn talked_about(understood: &Understanding) -> Option<Subject> {
    understood.topics.iter().find_map(|hit| about(hit.topic))
}

/// Replies to a message as it was understood, a verdict on each figure that it puts first.
pub fn reply(understood: &Understanding, figures: &Heard, roof: &Roof<'_>) -> Reply {
    let mut reply = reply_to_topics(understood, roof);
    let is_danger = understood.danger.as_ref().is_some_and(|danger| danger.sure);
    if is_danger || !roof.refusals.is_empty() {
        return reply;
    }
    let judged: Vec<Answer> = figures.asked.iter().filter_map(|asked| judge(asked, roof)).collect();
    if judged.is_empty() {
        return reply;
    }
    reply.judged = true;
    reply.which.clear();
    reply.opening.clear();
    // A verdict stands in place of the answer to its own topic; and what one question was heard as besides, it was not.
    let besides = |answer: &Answer| {
        let own = judged.iter().any(|one| one.topic == answer.topic);
        !own && !answer.topic.gives_way() && answer.action.is_none() && figures.more
    };
    let others: Vec<Answer> = std::mem::take(&mut reply.answers).into_iter().filter(besides).collect();
    reply.answers = judged.into_iter().chain(others).collect();
    reply
}

/// The verdict first, and all there is to say of its topic behind it.
fn judge(asked: &Asked, roof: &Roof<'_>) -> Option<Answer> {
    let short = verdict::verdict(asked, roof)?;
    let rest = answer(verdict::topic(asked.subject), false, roof);
    let said = |note: &Note| short.iter().any(|one| one.message == note.message);
    let more = rest.short.into_iter().chain(rest.more).filter(|note| !said(note)).collect();
    Some(Answer { topic: rest.topic, short, more, action: None })
}

fn reply_to_topics(understood: &Understanding, roof: &Roof<'_>) -> Reply {
    let stop = roof.refusals.iter().find(|refusal| refusal.handover.is_some()).or(roof.refusals.first());
    let stopped = understood.stopped.clone().or_else(|| stop.map(|refusal| refusal.id.clone()));
    let mut reply = Reply {
        opening: Vec::new(),
        answers: Vec::new(),
        which: Vec::new(),
        handover: understood.handover,
        stopped,
        judged: false,
    };
    if let Some(danger) = &understood.danger {
        if danger.sure {
            let line = danger.language.iter().map(|code| Note::new(format!("danger-elsewhere-{code}")));
            reply.opening.extend(line);
            // While something stops the plan, no figure is said beside it: it could be taken for leave to go on.
            reply.answers.push(answer(danger.kind.topic(), true, roof));
            return reply;
        }
        reply.opening.push(Note::new(danger.kind.asks()));
    }
    match understood.verdict {
        Verdict::None if understood.danger.is_some() => {}
        Verdict::None => reply.opening.push(Note::new("answer-not-understood")),
        Verdict::Near => {
            reply.which = understood.topics.iter().map(|hit| hit.topic).collect();
            reply.opening.push(Note::new("answer-which-one").count("topics", reply.which.len()));
        }
        Verdict::One => {
            let emergency = understood.handover == Some(Handover::Emergency);
            let most = if emergency { 1 } else { usize::MAX };
            let heard = understood.topics.iter().take(most);
            reply.answers = heard.map(|hit| answer(hit.topic, hit.handed_on, roof)).collect();
            let speaks_of_work = understood.topics.iter().any(|hit| !is_about_the_chat(hit.topic));
            if let Some(refusal) = stop.filter(|_| speaks_of_work) {
                reply.opening.push(refusal.note.clone());
            }
        }
    }
    reply
}

/// The answer to one topic; `grave` where the message spoke of danger, or is one that hands the person on.
pub fn answer(topic: TopicId, grave: bool, roof: &Roof<'_>) -> Answer {
    let (mut short, mut more) = match in_danger(topic).filter(|_| grave) {
        Some(note) => (vec![note], Vec::new()),
        None => (shortly(topic, roof), more(topic, roof)),
    };
    let entry = roof.topics.iter().find(|entry| entry.id == topic);
    if entry.is_some_and(|entry| entry.whole) {
        short.append(&mut more);
    }
    more.extend(entry.and_then(|entry| source(entry, roof)));
    Answer { topic, short, more, action: action(topic) }
}

/// What is said, and nothing else, where the topic was raised as a danger and that differs from what is said
/// otherwise.
fn in_danger(topic: TopicId) -> Option<Note> {
    let own = matches!(topic, TopicId::PipePenetration | TopicId::WeightLimits);
    own.then(|| Note::new(format!("{}-danger", id(topic))))
}

/// Makes the first part of an answer.
type Compose = fn(&Roof<'_>) -> Vec<Note>;

/// The topics whose first part is more than one fixed sentence.
const COMPOSED: &[(TopicId, Compose)] = &[
    (TopicId::EndLapSize, laying::end_lap),
    (TopicId::SideLapCount, laying::side_lap),
    (TopicId::NailPatternIntermediate, laying::nails_between),
    (TopicId::NailPatternEaves, laying::nails_at_eaves),
    (TopicId::WhichEndToStart, laying::start),
    (TopicId::SheetCuttingHow, laying::cutting),
    (TopicId::SheetSplit, laying::split),
    (TopicId::ExtraSheetNeeded, laying::one_short),
    (TopicId::HowManySpare, laying::spares),
    (TopicId::LeftoverOffcuts, laying::offcuts),
    (TopicId::Cost, buying::cost),
    (TopicId::SendToSupplier, buying::list),
    (TopicId::WhichSheet, buying::which_sheet),
    (TopicId::CarryingSheets, buying::carrying),
    (TopicId::DeckTooThin, support::deck),
    (TopicId::NailsPokingThrough, support::points),
    (TopicId::PurlinSpacingWhy, support::purlins),
    (TopicId::WeightLimits, holding::weight),
    (TopicId::UnsuitablePitch, support::pitch),
    (TopicId::OutOfSquare, support::square),
    (TopicId::InsulationBetweenPurlins, support::insulation),
    (TopicId::SolarPanels, support::solar),
    (TopicId::RidgeFit, edges::ridge),
    (TopicId::VergeFinish, edges::verge),
    (TopicId::EavesOverhang, edges::eaves),
    (TopicId::Gutter, edges::gutter),
    (TopicId::GutterSize, holding::gutter),
    (TopicId::BirdsAndVermin, edges::birds),
    (TopicId::WallAbutment, edges::wall),
    (TopicId::Rooflight, edges::rooflight),
    (TopicId::NailSize, preparing::nails),
    (TopicId::ScrewsOrNails, preparing::screws),
    (TopicId::ToolsNeeded, preparing::tools),
    (TopicId::WhatToWear, preparing::wear),
    (TopicId::TimeNeeded, preparing::time),
    (TopicId::SheetLife, practice::life),
    (TopicId::HotWeather, practice::hot),
    (TopicId::ColdAndFrost, practice::cold),
    (TopicId::WindStopWork, holding::wind),
    (TopicId::SnowOnRoof, holding::snow),
    (TopicId::Condensation, holding::drips),
    (TopicId::LadderLength, practice::ladder),
    (TopicId::WhatChanged, changes::since),
];

/// The topics that say two things one after the other, the second under an id that ends so.
const IN_TWO: &[(TopicId, &str)] = &[
    (TopicId::LeakRepair, "hole"),
    (TopicId::SecondHandSheets, "holes"),
    (TopicId::Disposal, "sort"),
    (TopicId::OverOldCovering, "strip"),
];

fn shortly(topic: TopicId, roof: &Roof<'_>) -> Vec<Note> {
    if let Some((_, compose)) = COMPOSED.iter().find(|(one, _)| *one == topic) {
        return compose(roof);
    }
    let second = IN_TWO.iter().find(|(one, _)| *one == topic);
    let second = second.map(|(_, ending)| Note::new(format!("{}-{ending}", id(topic))));
    [Note::new(id(topic))].into_iter().chain(second).collect()
}

/// The topics of which there is no more to say.
const NO_MORE: &[TopicId] = &[
    TopicId::Cost,
    TopicId::Thanks,
    TopicId::Greeting,
    TopicId::OffTopic,
    TopicId::WhoAreYou,
    TopicId::Languages,
    TopicId::WhatChanged,
];

fn more(topic: TopicId, roof: &Roof<'_>) -> Vec<Note> {
    use TopicId as T;
    if NO_MORE.contains(&topic) {
        Vec::new()
    } else if topic == T::EndLapSize {
        laying::end_lap_more(roof)
    } else if topic == T::SideLapCount {
        laying::side_lap_more(roof)
    } else if topic == T::NailPatternIntermediate {
        laying::nails_more(roof)
    } else if topic == T::PurlinSpacingWhy {
        support::purlins_more(roof)
    } else if topic == T::BestSeason {
        practice::season_more(roof)
    } else {
        vec![Note::new(format!("{}-more", id(topic)))]
    }
}

/// Where an answer is from, as the rules' own sources are said.
fn source(topic: &Topic, roof: &Roof<'_>) -> Option<Note> {
    let source = roof.book.rules.source(topic.source.as_ref()?)?;
    Some(Note::new("answer-source").text("source", &source.title).text("since", topic.since.as_ref()?))
}

/// What the conversation does for the topics that ask it to do something.
const ACTIONS: [(TopicId, TopicAction); 3] = [
    (TopicId::StartOver, TopicAction::StartOver),
    (TopicId::DeleteMyData, TopicAction::DeleteData),
    (TopicId::TalkToHuman, TopicAction::HandToAdviser),
];

fn action(topic: TopicId) -> Option<TopicAction> {
    ACTIONS.iter().find(|(one, _)| *one == topic).map(|(_, action)| *action)
}

/// Whether a topic is about the chat, not the roof: then a stop is not said again.
const fn is_about_the_chat(topic: TopicId) -> bool {
    use TopicId as T;
    matches!(
        topic,
        T::ChangeMeasurement
            | T::StartOver
            | T::TalkToHuman
            | T::DeleteMyData
            | T::Thanks
            | T::Greeting
            | T::OffTopic
            | T::InjuryEmergency
            | T::AsbestosSuspect
            | T::ElectricityCableOverhead
    )
}

/// The id of a topic's first sentence.
fn id(topic: TopicId) -> String {
    format!("answer-{}", topic.key().replace('_', "-"))
}
