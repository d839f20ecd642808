//! Answers to follow-up questions, composed from the person's own plan.
//!
//! An answer is notes: a short part, then why and how. Every figure in it comes out of the plan, the catalogue
//! or the rule book; the sentences stand in `dialogs/words/` under ids made from the topic's own:
//! `answer-TOPIC`, `answer-TOPIC-more`, and a few between. Nothing here decides a figure.

mod edges;
mod figures;
mod laying;
mod preparing;
mod support;

use crate::conversation::understanding::{TopicId, Understanding, Verdict};
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
}

/// What the conversation does beside answering.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TopicAction {
    /// Ask for the new figure, repeat it back, plan again.
    ChangeFact,
    /// Ask for a clear yes, then begin again.
    StartOver,
    /// Ask for a clear yes, then delete everything kept of the person.
    DeleteData,
    /// Show the list, ask for a clear yes, then share it.
    SendToSupplier,
    /// Hand the person, with their plan, to the adviser.
    HandToAdviser,
    /// Put the chat aside until the person comes back.
    Pause,
    /// Put the question that is open, or offer the next step.
    CarryOn,
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
}

/// Replies to a message as it was understood.
pub fn reply(understood: &Understanding, roof: &Roof<'_>) -> Reply {
    let stop = roof.refusals.iter().find(|refusal| refusal.handover.is_some()).or(roof.refusals.first());
    let stopped = understood.stopped.clone().or_else(|| stop.map(|refusal| refusal.id.clone()));
    let mut reply = Reply {
        opening: Vec::new(),
        answers: Vec::new(),
        which: Vec::new(),
        handover: understood.handover,
        stopped,
    };
    if let Some(danger) = &understood.danger {
        if danger.sure {
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
    let (short, more) = match in_danger(topic).filter(|_| grave) {
        Some(note) => (vec![note], Vec::new()),
        None => (shortly(topic, roof), more(topic, roof)),
    };
    Answer { topic, short, more, action: action(topic) }
}

/// What is said, and nothing else, where the topic was raised as a danger and that differs from what is said
/// otherwise.
fn in_danger(topic: TopicId) -> Option<Note> {
    let own = matches!(topic, TopicId::PipePenetration | TopicId::WeightLimits);
    own.then(|| Note::new(format!("{}-danger", id(topic))))
}

fn shortly(topic: TopicId, roof: &Roof<'_>) -> Vec<Note> {
    use TopicId as T;
    match topic {
        T::EndLapSize => laying::end_lap(roof),
        T::SideLapCount => laying::side_lap(roof),
        T::NailPatternIntermediate => laying::nails_between(roof),
        T::NailPatternEaves => laying::nails_at_eaves(roof),
        T::WhichEndToStart => laying::start(roof),
        T::SheetCuttingHow => laying::cutting(roof),
        T::SheetSplit => laying::split(roof),
        T::ExtraSheetNeeded => laying::one_short(roof),
        T::HowManySpare => laying::spares(roof),
        T::LeftoverOffcuts => laying::offcuts(roof),
        T::Cost => laying::quantities(roof),
        T::SendToSupplier => laying::list(roof),
        T::DeckTooThin => support::deck(roof),
        T::NailsPokingThrough => support::points(roof),
        T::PurlinSpacingWhy => support::purlins(roof),
        T::WeightLimits => support::weight(roof),
        T::UnsuitablePitch => support::pitch(roof),
        T::OutOfSquare => support::square(roof),
        T::InsulationBetweenPurlins => support::insulation(roof),
        T::RidgeFit => edges::ridge(roof),
        T::VergeFinish => edges::verge(roof),
        T::EavesOverhang | T::Gutter => edges::eaves(topic, roof),
        T::WallAbutment => edges::wall(roof),
        T::Rooflight => edges::rooflight(roof),
        T::NailSize => preparing::nails(roof),
        T::ToolsNeeded => preparing::tools(roof),
        T::TimeNeeded => preparing::time(roof),
        T::WindStopWork
        | T::RainMidJob
        | T::UnderlayNeeded
        | T::Condensation
        | T::OldFeltLeaveOrStrip
        | T::AsbestosSuspect
        | T::WalkingOnSheets
        | T::LadderSetup
        | T::FragileRoof
        | T::ChangeMeasurement
        | T::PipePenetration
        | T::MossCleaning
        | T::Paint
        | T::PlanningPermission
        | T::NeighboursBoundary
        | T::ElectricityCableOverhead
        | T::WorkingAlone
        | T::ChildPets
        | T::CanIPause
        | T::StartOver
        | T::TalkToHuman
        | T::DeleteMyData
        | T::Thanks
        | T::Greeting
        | T::InjuryEmergency
        | T::DangerousRequest
        | T::OffTopic => vec![Note::new(id(topic))],
    }
}

fn more(topic: TopicId, roof: &Roof<'_>) -> Vec<Note> {
    use TopicId as T;
    if matches!(topic, T::Cost | T::Thanks | T::Greeting | T::OffTopic) {
        return Vec::new();
    }
    if topic == T::EndLapSize {
        laying::end_lap_more(roof)
    } else if topic == T::SideLapCount {
        laying::side_lap_more(roof)
    } else if topic == T::NailPatternIntermediate {
        laying::nails_more(roof)
    } else if topic == T::PurlinSpacingWhy {
        support::purlins_more(roof)
    } else {
        vec![Note::new(format!("{}-more", id(topic)))]
    }
}

/// What the conversation does beside answering, for the topics that ask it to do something.
const ACTIONS: [(TopicId, TopicAction); 9] = [
    (TopicId::ChangeMeasurement, TopicAction::ChangeFact),
    (TopicId::StartOver, TopicAction::StartOver),
    (TopicId::DeleteMyData, TopicAction::DeleteData),
    (TopicId::SendToSupplier, TopicAction::SendToSupplier),
    (TopicId::TalkToHuman, TopicAction::HandToAdviser),
    (TopicId::CanIPause, TopicAction::Pause),
    (TopicId::Thanks, TopicAction::CarryOn),
    (TopicId::Greeting, TopicAction::CarryOn),
    (TopicId::OffTopic, TopicAction::CarryOn),
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
