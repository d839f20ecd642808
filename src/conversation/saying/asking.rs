//! The messages of the interview: questions, the repair ladder, the review, stops and refusals.

use super::{Attach, Button, Draft, MOST_BUTTONS, Voice};
use crate::conversation::Guide;
use crate::conversation::ears::Given;
use crate::conversation::ears::lexicon::{Means, Tag};
use crate::conversation::event::Answer;
use crate::conversation::holds;
use crate::conversation::interview::question_for;
use crate::conversation::script::Question;
use crate::conversation::session::Session;
use crate::conversation::understanding::DangerKind;
use crate::roofing::catalogue::Covering;
use crate::roofing::note::{Arg, Note};
use crate::roofing::plan::{self, Refusal};
use crate::roofing::roof::{FactKey, FactKind, FactValue, is_own_sheet, own_sheets};
use crate::units::reading::{Amount, Part, Reading, WrittenUnit, part_of};
use crate::units::{Doubt, Length, UsualUnit};

/// Whether an answer itself raises the suspicion of asbestos.
pub(in crate::conversation) fn is_suspect(fact: FactKey, value: &FactValue) -> bool {
    let FactValue::Choice(id) = value else { return false };
    (fact == FactKey::CoveringNow && (id == "grey_cement_sheets" || id == "not_sure"))
        || (fact == FactKey::AsbestosTest && id != "tested_clear")
}

/// "Not sure", pressed as an answer: what follows says more than an echo would.
pub(in crate::conversation) fn is_not_sure(value: &FactValue) -> bool {
    matches!(value, FactValue::Choice(id) if id == "not_sure" || id == "not_tested")
}

/// The units a word names.
pub(in crate::conversation) fn units_named(guide: &Guide<'_>, text: &str) -> Option<UsualUnit> {
    let message = guide.ears.hear(text);
    let unit = message.tokens.iter().find_map(|token| match part_of(&token.word) {
        Some(Part::Unit(unit)) => unit.usual(),
        Some(Part::Number | Part::Joins | Part::Share) | None => None,
    });
    unit.or_else(|| message.has(Tag::Imperial).then_some(UsualUnit::FtIn))
        .or_else(|| message.has(Tag::Metric).then_some(UsualUnit::M))
}

/// The message that names a fact.
pub(in crate::conversation) fn name_of(guide: &Guide<'_>, fact: FactKey) -> Option<String> {
    question_for(guide, fact).map(|question| format!("fact-{}", question.id))
}

/// Every id a question's buttons can send, in the order they are numbered.
pub(in crate::conversation) fn choice_ids(guide: &Guide<'_>, question: &Question) -> Vec<String> {
    match question.fact.kind() {
        FactKind::Choice(_) | FactKind::Words(_) => {
            question.choices.iter().map(|choice| choice.id.clone()).collect()
        }
        FactKind::Sheet => {
            let sheets = guide.handbook.catalogue.sheets.iter().map(|sheet| sheet.item.id.clone());
            sheets.chain(own_sheets(&guide.handbook.catalogue).into_iter().map(|(id, _)| id)).collect()
        }
        FactKind::Quantity(_) | FactKind::Count(..) => Vec::new(),
    }
}

fn buttons(guide: &Guide<'_>, question: &Question) -> Vec<Button> {
    match question.fact.kind() {
        FactKind::Choice(_) | FactKind::Words(_) => question
            .choices
            .iter()
            .map(|choice| {
                Button::new(&*choice.id, Note::new(format!("choice-{}-{}", question.id, choice.id)))
            })
            .collect(),
        FactKind::Sheet => {
            let sheets = guide.handbook.catalogue.sheets.iter();
            let own = own_sheets(&guide.handbook.catalogue);
            let several = own.len() > 1;
            let own =
                own.into_iter().map(move |(id, covering)| Button::new(id, own_label(covering, several)));
            sheets
                .map(|sheet| {
                    Button::new(&*sheet.item.id, Note::new("plain-text").text("text", &*sheet.item.name))
                })
                .chain(own)
                .collect()
        }
        FactKind::Quantity(_) | FactKind::Count(..) => vec![
            Button::new("do-how", Note::new("button-how")),
            Button::new("do-not-sure", Note::new("button-not-sure")),
        ],
    }
}

fn with_buttons(mut draft: Draft, guide: &Guide<'_>, question: &Question) -> Draft {
    draft.asks = true;
    draft.buttons = buttons(guide, question);
    let room_for_unsure = draft.buttons.len() < MOST_BUTTONS;
    let has_unsure = draft.buttons.iter().any(|button| button.id == "do-not-sure" || button.id == "not_sure");
    if room_for_unsure && !has_unsure {
        draft.buttons.push(Button::new("do-not-sure", Note::new("button-not-sure")));
    }
    draft
}

/// Puts a question, with an example.
pub(in crate::conversation) fn ask(guide: &Guide<'_>, session: &Session, question: &Question) -> Draft {
    let mut draft = Draft::of(Note::new(format!("ask-{}", question.id)));
    if matches!(question.fact.kind(), FactKind::Quantity(_) | FactKind::Count(..) | FactKind::Words(_)) {
        draft = draft.paragraph(Note::new(format!("example-{}", question.id)));
    }
    // The first question says how to get out of any question.
    if session.facts().is_empty() {
        draft = draft.paragraph(Note::new("first-hint"));
    }
    with_buttons(draft, guide, question)
}

/// Puts a question again after something unreadable: first with its example, then with how to measure and the
/// ways out, then with a person.
pub(in crate::conversation) fn ask_again(
    guide: &Guide<'_>,
    _session: &Session,
    question: &Question,
    attempts: u32,
) -> Draft {
    let mut draft = Draft::of(Note::new(format!("ask-{}", question.id)));
    draft = match attempts {
        0 | 1 => draft.paragraph(Note::new(format!("example-{}", question.id))),
        2 => draft
            .paragraph(Note::new(format!("how-{}", question.id)))
            .paragraph(Note::new(format!("example-{}", question.id))),
        _ => draft
            .paragraph(Note::new(format!("example-{}", question.id)))
            .paragraph(Note::new("person-offer")),
    };
    let mut draft = with_buttons(draft, guide, question);
    if attempts >= 3 {
        draft.buttons.push(Button::new("do-person", Note::new("button-person")));
    }
    draft
}

/// What the button for an own sheet says; with what it is of, where that is not plain.
fn own_label(covering: &Covering, several: bool) -> Note {
    if several {
        Note::new("choice-sheet-label-of").text("covering", covering.name.as_str())
    } else {
        Note::new("choice-sheet-label")
    }
}

/// A fact's value as a figure for a message.
pub(in crate::conversation) fn value_arg(guide: &Guide<'_>, fact: FactKey, value: &FactValue) -> Arg {
    match value {
        FactValue::Length(length) if fact.is_of_goods() || is_spaced_in_mm(fact, length.value) => {
            Arg::Size(length.value)
        }
        FactValue::Length(length) => Arg::Length(length.value),
        FactValue::Angle(angle) => Arg::Angle(angle.value),
        FactValue::Count(count) => Arg::Count(*count),
        FactValue::Words(words) => Arg::Text(words.as_str().to_owned()),
        FactValue::Choice(id) => match (fact.kind(), question_for(guide, fact)) {
            (FactKind::Sheet, _) if is_own_sheet(id) => {
                let own = own_sheets(&guide.handbook.catalogue);
                let several = own.len() > 1;
                let of = own.into_iter().find(|(own, _)| own == id);
                of.map_or_else(
                    || Arg::Word("choice-sheet-label".to_owned()),
                    |(_, covering)| Arg::Note(Box::new(own_label(covering, several))),
                )
            }
            (FactKind::Sheet, _) => {
                let sheets = &guide.handbook.catalogue.sheets;
                let name =
                    sheets.iter().find(|sheet| sheet.item.id == *id).map(|sheet| sheet.item.name.clone());
                Arg::Text(name.unwrap_or_else(|| id.clone()))
            }
            (_, Some(question)) => Arg::Word(format!("choice-{}-{id}", question.id)),
            (_, None) => Arg::Text(id.clone()),
        },
    }
}

/// A spacing in whole millimetres that is none in quarter inches was measured in millimetres, whatever the roof was
/// measured in.
fn is_spaced_in_mm(fact: FactKey, spacing: Length) -> bool {
    const QUARTER_INCH_UM: i64 = 6_350;
    fact == FactKey::TimberSpacing && spacing.is_whole_mm() && spacing.um() % QUARTER_INCH_UM != 0
}

pub(in crate::conversation) fn fact_note(
    guide: &Guide<'_>,
    message: &str,
    fact: FactKey,
    value: &FactValue,
) -> Note {
    let name = name_of(guide, fact).map_or_else(|| Arg::Text(fact.key().to_owned()), Arg::Word);
    Note::new(message).with("fact", name).with("value", value_arg(guide, fact, value))
}

fn doubt_of(value: &FactValue) -> Doubt {
    match value {
        FactValue::Length(length) => length.doubt,
        FactValue::Angle(angle) => angle.doubt,
        FactValue::Choice(_) | FactValue::Count(_) | FactValue::Words(_) => Doubt::Stated,
    }
}

/// Says a fact back as it was taken: in the unit it was written in, where the person otherwise measures in others.
pub(in crate::conversation) fn echo(
    guide: &Guide<'_>,
    usual: Option<UsualUnit>,
    heard: &Given,
    value: &FactValue,
) -> Note {
    let message = match (heard.assumed, doubt_of(value)) {
        (true, _) => "echo-assumed",
        (false, Doubt::Stated) => "echo",
        (false, Doubt::About | Doubt::JustUnder | Doubt::JustOver | Doubt::ByPhone) => "echo-about",
    };
    let note = fact_note(guide, message, heard.fact, value);
    match (value, heard.written) {
        (FactValue::Length(length), Some(unit)) if !is_usual(usual, unit) => {
            let (amount, doubt, assumed) = (Amount::Length(length.value), length.doubt, heard.assumed);
            note.with("value", Arg::Reading(Reading { amount, doubt, unit, assumed }))
        }
        _ => note,
    }
}

/// Whether a unit is of the kind a person usually measures in; metres, where that has not shown.
fn is_usual(usual: Option<UsualUnit>, unit: WrittenUnit) -> bool {
    let is_imperial = |unit: Option<UsualUnit>| unit == Some(UsualUnit::FtIn);
    is_imperial(unit.usual()) == is_imperial(usual)
}

/// Says what a fact is so far, before it is asked for again.
pub(in crate::conversation) fn so_far(guide: &Guide<'_>, fact: FactKey, value: &FactValue) -> Note {
    fact_note(guide, "so-far", fact, value)
}

fn list_answers(guide: &Guide<'_>, session: &Session, mut draft: Draft) -> Draft {
    for (number, (fact, value)) in shown_facts(guide, session).into_iter().enumerate() {
        draft = draft.numbered(number + 1, fact_note(guide, "review-line", fact, &value));
    }
    draft
}

/// The facts of the review, in the script's order: the order in which they are numbered.
fn shown_facts(guide: &Guide<'_>, session: &Session) -> Vec<(FactKey, FactValue)> {
    let questions = guide.script.questions.iter();
    questions
        .filter_map(|question| {
            let relevant =
                question.only_instead || question.when.iter().all(|guard| guard.holds(session.facts()));
            let value = session.facts().get(question.fact)?;
            relevant.then(|| (question.fact, value.clone()))
        })
        .collect()
}

/// The facts of the review in words: what, and what it is.
pub fn facts_in_words(guide: &Guide<'_>, session: &Session, voice: &Voice<'_>) -> Vec<(String, String)> {
    let shown = shown_facts(guide, session).into_iter().map(|(fact, value)| {
        let name = name_of(guide, fact).map_or_else(|| fact.key().to_owned(), |id| voice.say(&Note::new(id)));
        (name, voice.say(&Note::new("reading-as").with("value", value_arg(guide, fact, &value))))
    });
    shown.collect()
}

/// Shows everything back, with what rests on what the person told, and asks for a yes.
pub(in crate::conversation) fn review(guide: &Guide<'_>, session: &Session) -> Draft {
    let trusted = plan::trusted(session.facts(), guide.handbook).into_iter();
    let listed = list_answers(guide, session, Draft::of(Note::new("review")));
    let minded = trusted.fold(listed, |draft, caution| draft.paragraph(caution.note));
    let mut draft = review_ask(minded);
    draft.attach.push(Attach::WholeRoof);
    draft
}

/// Asks for the yes to what was shown back.
pub(in crate::conversation) fn review_ask(draft: Draft) -> Draft {
    let mut draft = draft
        .paragraph(Note::new("review-ask"))
        .button("do-plan", "button-plan")
        .button("do-change", "button-change");
    draft.asks = true;
    draft
}

/// Shows the answers so far.
pub(in crate::conversation) fn answers_so_far(guide: &Guide<'_>, session: &Session) -> Draft {
    list_answers(guide, session, Draft::of(Note::new("answers-so-far")))
}

/// Asks which line to change.
pub(in crate::conversation) fn what_to_change(guide: &Guide<'_>, session: &Session) -> Draft {
    let mut draft = list_answers(guide, session, Draft::of(Note::new("what-to-change")));
    draft.asks = true;
    draft.buttons.push(Button::new("do-review", Note::new("button-nothing")));
    draft
}

/// The fact a person names by its line's number or its name.
pub(in crate::conversation) fn fact_named(
    guide: &Guide<'_>,
    session: &Session,
    named: &str,
) -> Option<FactKey> {
    let shown = shown_facts(guide, session);
    let digits: String = named.chars().filter(char::is_ascii_digit).collect();
    let is_line = named.chars().all(|c| c.is_ascii_digit() || c.is_whitespace() || ".#)".contains(c))
        || named.to_lowercase().starts_with("line");
    if is_line && let Ok(number) = digits.parse::<usize>() {
        return shown.get(number.checked_sub(1)?).map(|(fact, _)| *fact);
    }
    let candidates = facts_named(guide, named);
    // Of several, one that has been answered is meant.
    candidates.iter().find(|fact| session.facts().get(**fact).is_some()).or(candidates.first()).copied()
}

/// The facts whose names stand in a text, the most telling first: "slope length" is more telling than "slope".
fn facts_named(guide: &Guide<'_>, named: &str) -> Vec<FactKey> {
    let message = guide.ears.hear(named);
    let mut found: Vec<(usize, FactKey)> = Vec::new();
    for hit in &message.hits {
        let fact = match hit.means {
            Means::Names(fact, _) | Means::Choice(fact, ..) | Means::Compares(fact, _) => *fact,
            Means::Tag(_) | Means::Goods(_) | Means::AllDone(_) => continue,
        };
        let weight = hit.len() * 2 + usize::from(matches!(hit.means, Means::Names(..)));
        match found.iter_mut().find(|(_, known)| *known == fact) {
            Some((known, _)) => *known = (*known).max(weight),
            None => found.push((weight, fact)),
        }
    }
    let asked = |fact: &FactKey| question_for(guide, *fact).is_some();
    found.retain(|(_, fact)| asked(fact));
    found.sort_by_key(|(weight, _)| std::cmp::Reverse(*weight));
    found.into_iter().map(|(_, fact)| fact).collect()
}

/// The question about what a person names: by its words, or by the first word of its fact.
pub(in crate::conversation) fn question_named<'a>(guide: &Guide<'a>, named: &str) -> Option<&'a Question> {
    let first_word =
        |question: &Question| question.fact.key().split('_').next().unwrap_or_default().to_owned();
    let by_key = |question: &&Question| named.split(' ').any(|word| word == first_word(question));
    let by_name = facts_named(guide, named).first().and_then(|fact| question_for(guide, *fact));
    by_name.or_else(|| guide.script.questions.iter().find(by_key))
}

/// Says that somebody could get hurt, in short where that was `told` before, and puts the question that can lift
/// the stop.
pub(in crate::conversation) fn stopped(
    guide: &Guide<'_>,
    stop: &Refusal,
    question: Option<&Question>,
    told: bool,
) -> Draft {
    let mut draft =
        Draft::of(if told { holds::recalled(&guide.script.holds, &stop.id) } else { stop.note.clone() });
    if let Some(question) = question {
        draft = draft.paragraph(Note::new(format!("ask-{}", question.id)));
        let in_words = matches!(question.fact.kind(), FactKind::Words(_));
        if in_words {
            draft = draft.paragraph(Note::new(format!("example-{}", question.id)));
        }
        draft = with_buttons(draft, guide, question);
        draft.buttons.retain(|button| in_words || button.id != "do-not-sure");
    }
    if draft.buttons.len() < MOST_BUTTONS {
        draft.buttons.push(Button::new("do-person", Note::new("button-person")));
    }
    draft
}

/// Says why there can be no plan as things are, and which answers would change that.
pub(in crate::conversation) fn refused(guide: &Guide<'_>, session: &Session, refusal: &Refusal) -> Draft {
    ways_on(guide, session, refusal, Draft::of(refusal.note.clone()))
}

/// Says after a draft which answers would change that there can be no plan.
pub(in crate::conversation) fn ways_on(
    guide: &Guide<'_>,
    session: &Session,
    refusal: &Refusal,
    draft: Draft,
) -> Draft {
    let mut draft = draft.paragraph(Note::new("refusal-ways-on"));
    draft.asks = true;
    for fact in &refusal.facts {
        if let (Some(name), Some(_)) = (name_of(guide, *fact), session.facts().get(*fact))
            && draft.buttons.len() + 1 < MOST_BUTTONS
        {
            draft.buttons.push(Button::new(
                format!("change-{}", fact.key()),
                Note::new("button-change-fact").word("fact", name),
            ));
        }
    }
    draft.button("do-person", "button-person")
}

/// Asks whether really to start again, and says what is lost.
pub(in crate::conversation) fn really_restart(session: &Session) -> Draft {
    let mut draft = Draft::of(Note::new("really-restart").count("answers", session.answers()))
        .button("yes", "button-restart")
        .button("no", "button-keep");
    draft.asks = true;
    draft
}

/// Asks whether really to delete everything that is kept.
pub(in crate::conversation) fn really_delete() -> Draft {
    let mut draft =
        Draft::of(Note::new("really-delete")).button("yes", "button-delete").button("no", "button-keep");
    draft.asks = true;
    draft
}

/// Puts facts back as one plain question: a change with its old value, a safe answer with what it means.
pub(in crate::conversation) fn confirm(guide: &Guide<'_>, session: &Session, answers: &[Answer]) -> Draft {
    let plainly = match answers {
        [(fact, FactValue::Choice(id))] => question_for(guide, *fact)
            .map(|question| format!("confirm-{}-{id}", question.id))
            .filter(|message| guide.words.has(guide.language, message)),
        _ => None,
    };
    let draft = match plainly {
        Some(message) => Draft::of(Note::new(message)),
        None => {
            let old = |fact: &FactKey| session.facts().get(*fact);
            let changes = answers.iter().any(|(fact, value)| old(fact).is_some_and(|old| old != value));
            let notes = answers.iter().map(|(fact, value)| match old(fact).filter(|_| changes) {
                Some(old) => fact_note(guide, "confirm-fact-change", *fact, value)
                    .with("old", value_arg(guide, *fact, old)),
                None => fact_note(guide, "confirm-fact", *fact, value),
            });
            let message = if changes { "confirm-change" } else { "confirm-one" };
            Draft::of(Note::new(message).with("facts", Arg::Notes(notes.collect())))
        }
    };
    yes_or_no(draft, "pick-1")
}

fn yes_or_no(draft: Draft, yes: &str) -> Draft {
    let mut draft = draft.button(yes, "button-yes").button("no", "button-no");
    draft.asks = true;
    draft
}

/// Asks in one line whether something is a danger.
pub(in crate::conversation) fn wonder(kind: DangerKind) -> Draft {
    yes_or_no(Draft::of(Note::new(kind.asks())), "yes")
}

/// Asks whether everybody is all right: nothing goes on before.
pub(in crate::conversation) fn all_right() -> Draft {
    let mut draft = Draft::of(Note::new("stop-until-all-right")).button("yes", "danger-button-all-right");
    draft.asks = true;
    draft
}
