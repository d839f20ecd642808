//! Which of a few a message says: by the words of each choice, by a plain yes or no, by its button's label.

mod safety;
mod walls;

use std::collections::BTreeSet;

use super::clauses::{Clause, Mood, Time};
use super::clauses::{Standing, standing};
use super::lexicon::{Aspect, Hit, Means, Tag};
use super::{Given, Message, View};
use crate::conversation::event::Offer;
use crate::conversation::script::Question;
use crate::roofing::note::Note;
use crate::roofing::roof::{FactKey, FactKind, FactValue, own_sheets};
use crate::units::UsualUnit;

pub(super) use safety::is_pure;

/// A choice that was heard.
#[derive(Clone, Debug)]
pub(super) struct Chosen {
    /// Of which fact.
    pub(super) fact: FactKey,
    /// Which; several where it is not clear.
    pub(super) ids: Vec<String>,
    /// The clause it was heard in.
    pub(super) clause: usize,
    /// How that clause stands to it.
    pub(super) standing: Standing,
    /// The words it was heard by, as they are written in the book.
    pub(super) because: Vec<String>,
}

impl Chosen {
    /// The value, where it is clear.
    pub(super) fn given(&self) -> Option<Given> {
        let [id] = self.ids.as_slice() else { return None };
        Some(Given::plain(self.fact, FactValue::Choice(id.clone())))
    }

    /// Whether it is a sheet of the list, and not one's own.
    pub(super) fn is_listed(&self, view: &View<'_, '_>) -> bool {
        let sheets = &view.guide.handbook.catalogue.sheets;
        self.ids.iter().any(|id| sheets.iter().any(|sheet| sheet.item.id == *id))
    }

    /// What may be picked, where it is not clear.
    pub(super) fn options(&self) -> Vec<Offer> {
        let offer =
            |id: &String| Offer { answers: vec![(self.fact, FactValue::Choice(id.clone()))], unit: None };
        self.ids.iter().map(offer).collect()
    }
}

/// The choices that a message makes.
pub(super) fn choices(view: &View<'_, '_>, message: &Message<'_>, spaced: &[usize]) -> Vec<Chosen> {
    let open = view.question();
    if let Some(chosen) = open.and_then(|question| by_label(view, question, message.text)) {
        return vec![chosen];
    }
    let mut found: Vec<Chosen> = Vec::new();
    let mut of_ends = walls::OfEnds::new();
    for (index, clause) in message.clauses.iter().enumerate() {
        let spoken = spoken_of(message, clause);
        let answers = open.is_some_and(|open| {
            spoken.contains(&open.fact) && !heard_in(message, clause, open.fact, Named::Open).0.is_empty()
        });
        for fact in spoken {
            let standing = standing_of(message, clause, fact);
            if standing == Standing::Nothing {
                continue;
            }
            let named = if open.is_some_and(|open| open.fact == fact) {
                Named::Open
            } else if !answers && is_named(message, index, fact, open) {
                Named::ByName
            } else {
                Named::No
            };
            let (mut ids, because) = heard_in(message, clause, fact, named);
            // What was on the roof is past, and only that it is gone holds.
            if fact == FactKey::CoveringNow && clause.time == Time::Past {
                ids.retain(|id| id == "nothing");
            }
            let ids =
                if fact == FactKey::Base { bases(view, &found, ids, spaced.contains(&index)) } else { ids };
            if ids.is_empty() {
                continue;
            }
            if fact == FactKey::WallSide {
                of_ends.push((index, ids.clone()));
            }
            add(message, &mut found, Chosen { fact, ids, clause: index, standing, because });
        }
    }
    walls::put_together(message, &of_ends, &mut found);
    if let Some(open) = open
        && !found.iter().any(|chosen| chosen.fact == open.fact)
        && let Some(chosen) = by_yes_or_no(open, message)
    {
        found.push(chosen);
    }
    let names_sheet = || message.hits.iter().any(|hit| matches!(hit.means, Means::Names(FactKey::Sheet, _)));
    let sheet_open = open.is_some_and(|open| open.fact == FactKey::Sheet);
    if (sheet_open || (view.session.planned() && names_sheet()))
        && let Some(chosen) = sheet(view, sheet_open, message)
    {
        found.push(chosen);
    }
    found
}

/// Adds what a clause chooses to what those before it chose.
fn add(message: &Message<'_>, found: &mut Vec<Chosen>, chosen: Chosen) {
    let Some(earlier) = found.iter_mut().find(|earlier| earlier.fact == chosen.fact) else {
        return found.push(chosen);
    };
    let said = |standing: Standing| matches!(standing, Standing::Says | Standing::Perhaps);
    // "Repaired, and all sound now": the one holds the other.
    if let Some(later) = holds_other(message, (chosen.fact, earlier), (chosen.clause, &chosen.ids)) {
        if later {
            *earlier = chosen;
        }
    } else if !corrected(message, earlier.clause, chosen.clause)
        && (earlier.standing == chosen.standing || (said(earlier.standing) && said(chosen.standing)))
    {
        let news: Vec<String> = chosen.ids.into_iter().filter(|id| !earlier.ids.contains(id)).collect();
        earlier.ids.extend(news);
        earlier.because.extend(chosen.because);
        if chosen.standing == Standing::Perhaps {
            earlier.standing = Standing::Perhaps;
        }
    } else {
        // "Plywood. No wait, OSB": the later holds.
        *earlier = chosen;
    }
}

/// How a clause stands to a choice of that fact.
fn standing_of(message: &Message<'_>, clause: &Clause, fact: FactKey) -> Standing {
    let says = clause.mood == Mood::States && !clause.conditional;
    let here = |tag: Tag| message.hits.iter().any(|hit| hit.is(tag) && clause.holds(hit.start));
    match fact {
        // A neighbour's wall may be the wall that is asked about.
        FactKey::WallSide | FactKey::WallTop if clause.others && clause.mood == Mood::States => {
            Standing::Perhaps
        }
        // A test is always past, and what it found is so now; so is that a covering was taken off.
        FactKey::AsbestosTest | FactKey::CoveringNow
            if says && !clause.others && clause.time == Time::Past =>
        {
            Standing::Says
        }
        // What is to be put in is always planned.
        FactKey::Insulation if says && !clause.others && clause.time == Time::Planned => Standing::Says,
        // The wind of one day is not the wind that the sheets are laid against.
        FactKey::WindFrom if here(Tag::Today) => Standing::Nothing,
        _ => standing(clause),
    }
}

/// Whether a clause speaks of a fact by its name, or is all about a choice of it.
fn is_named(message: &Message<'_>, index: usize, fact: FactKey, open: Option<&Question>) -> bool {
    let names = |index: usize| {
        message.hits.iter().any(|hit| {
            matches!(hit.means, Means::Names(name, _) if *name == fact)
                && message.clause_of(hit.start) == Some(index)
        })
    };
    let Some(clause) = message.clauses.get(index) else { return false };
    // "Please change the wind. It comes from the front."
    let stands = message.hits.iter().any(|hit| hit.is(Tag::Stands) && hit.start == clause.tokens.start);
    let lent = stands && index.checked_sub(1).is_some_and(names);
    // "Right" and "front" alone may be of anything, and "just the one" beside a question of safety.
    let of_a_side = matches!(fact, FactKey::WindFrom | FactKey::WallSide)
        || (matches!(fact, FactKey::Form | FactKey::SlopesEqual)
            && open.is_some_and(|open| open.fact.is_safety()));
    names(index) || lent || (!of_a_side && is_all_of(message, clause, fact))
}

/// The facts that a choice of is named in a clause, in the order a roofer would ask.
fn spoken_of(message: &Message<'_>, clause: &Clause) -> BTreeSet<FactKey> {
    let inside = message.hits.iter().filter(|hit| clause.holds(hit.start));
    let facts = inside.filter_map(|hit| match hit.means {
        Means::Choice(fact, _, Aspect::Asked | Aspect::Tells | Aspect::Safe) => Some(*fact),
        _ => None,
    });
    facts.collect()
}

/// The label on a button, or the id behind it, typed out.
fn by_label(view: &View<'_, '_>, question: &Question, text: &str) -> Option<Chosen> {
    /// No button says more than this.
    const LONGEST_LABEL: usize = 40;
    let plain = text.trim().trim_end_matches(['.', '!']).to_lowercase();
    if plain.len() > LONGEST_LABEL {
        return None;
    }
    let labelled = |id: &str| {
        let label = Note::new(question.choice_message(id));
        let label = view.guide.words.say(view.guide.language, &label, UsualUnit::M);
        id == plain || id.replace('_', " ") == plain || label.to_lowercase() == plain
    };
    let choice = question.choices.iter().find(|choice| labelled(&choice.id))?;
    Some(whole(question.fact, choice.id.clone()))
}

fn whole(fact: FactKey, id: String) -> Chosen {
    Chosen { fact, ids: vec![id], clause: 0, standing: Standing::Says, because: Vec::new() }
}

/// How a fact comes to be spoken of.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Named {
    /// It is what is asked.
    Open,
    /// By its name.
    ByName,
    /// Not at all: only what tells by itself counts.
    No,
}

/// The choices of one fact that a clause names, and by which words.
fn heard_in(
    message: &Message<'_>,
    clause: &Clause,
    fact: FactKey,
    named: Named,
) -> (Vec<String>, Vec<String>) {
    let inside = |hit: &&Hit<'_>| clause.holds(hit.start);
    let mut hits: Vec<(&Hit<'_>, &str)> = Vec::new();
    for hit in message.hits.iter().filter(inside) {
        let Means::Choice(of, id, aspect) = hit.means else { continue };
        let counts = match aspect {
            Aspect::Asked | Aspect::Safe => named != Named::No,
            Aspect::Tells => true,
            Aspect::Within | Aspect::Along => false,
        };
        if *of == fact
            && counts
            && !is_denied(message, hit)
            && !swallows_a_denial(message, hit)
            && (named == Named::Open || !is_landmark(message, hit, fact))
            && !is_within_another(message, hit, fact, named)
        {
            hits.push((hit, id));
        }
    }
    let opening = hits
        .iter()
        .find(|(hit, id)| matches!(*id, "none" | "no") && hit.start == clause.tokens.start && hit.len() > 1);
    let mut ids: Vec<String> = Vec::new();
    for (_, id) in &hits {
        if !ids.iter().any(|known| known == id) {
            ids.push((*id).to_owned());
        }
    }
    if let (true, Some((_, id)), false) = (ids.len() > 1, opening, clause.excepts) {
        ids = vec![(*id).to_owned()];
    }
    (ids, hits.iter().map(|(hit, _)| hit.way.written.clone()).collect())
}

/// Whether one of two choices of a fact goes with the other, and then whether the later is the one that is meant: the
/// more careful of the two.
fn holds_other(
    message: &Message<'_>,
    (fact, earlier): (FactKey, &Chosen),
    (later, ids): (usize, &[String]),
) -> Option<bool> {
    let ([first], [second], FactKind::Choice(all)) = (earlier.ids.as_slice(), ids, fact.kind()) else {
        return None;
    };
    let goes_with = |clause: usize, id: &str| {
        let plain = |hit: &Hit<'_>| matches!(hit.means, Means::Choice(of, own, Aspect::Safe | Aspect::Within | Aspect::Along) if *of == fact && own == id);
        message.clauses.get(clause).is_some_and(|clause| {
            clause.is_plain() && message.covered(&clause.tokens, |hit| plain(hit) || hit.is(Tag::Filler))
        })
    };
    let place = |id: &str| all.iter().position(|choice| *choice == id);
    let both = goes_with(later, first) || goes_with(earlier.clause, second);
    both.then(|| place(second) > place(first))
}

/// Whether something is put right between one clause and a later one.
fn corrected(message: &Message<'_>, earlier: usize, later: usize) -> bool {
    let between = earlier..=later;
    message.hits.iter().any(|hit| {
        hit.is(Tag::Corrects) && message.clause_of(hit.start).is_some_and(|clause| between.contains(&clause))
    })
}

/// Whether all that a clause says is a choice of this fact, and of no other: "boards".
fn is_all_of(message: &Message<'_>, clause: &Clause, fact: FactKey) -> bool {
    let of = |hit: &Hit<'_>, fact: FactKey| matches!(hit.means, Means::Choice(of, _, Aspect::Asked) if *of == fact);
    let covers = |fact: FactKey| message.covered(&clause.tokens, |hit| of(hit, fact) || hit.is(Tag::Filler));
    let others = FactKey::ALL.iter().filter(|other| **other != fact);
    let yes_or_no = message
        .covered(&clause.tokens, |hit| hit.is(Tag::Agrees) || hit.is(Tag::Refuses) || hit.is(Tag::Filler));
    let named_else = message
        .hits
        .iter()
        .any(|hit| clause.holds(hit.start) && matches!(hit.means, Means::Names(of, _) if *of != fact));
    covers(fact)
        && !named_else
        && !yes_or_no
        && !others
            .clone()
            .any(|other| message.hits.iter().any(|hit| clause.holds(hit.start) && of(hit, *other)))
}

/// Whether what a hit names is denied by the words before it: "no rot", "not the same".
///
/// What a hit denies itself is its own: "and not a soft spot". Nobody is denied by being spoken to: "no mate, all clear".
fn is_denied(message: &Message<'_>, hit: &Hit<'_>) -> bool {
    let starts = |tag: Tag, at: usize| message.hits.iter().any(|one| one.is(tag) && one.start == at);
    let denies_itself = starts(Tag::Denies, hit.start);
    message.hits.iter().any(|denial| {
        let denies = denial.is(Tag::Denies) || denial.is(Tag::Instead) || denial.is(Tag::Recorded);
        let small = |at: usize| {
            let word = message.tokens.get(at);
            word.is_some_and(|token| token.is_word() && token.word.len() <= 4) && !starts(Tag::Address, at)
        };
        // "No sag in the ridge": what is denied stands between.
        let spent = message.hits.iter().any(|other| {
            matches!(other.means, Means::Choice(..)) && other.start == denial.start && other.end == hit.start
        });
        let reaches = (denial.end >= hit.start && !(denies_itself && denial.end > hit.start))
            || (denial.end + 1 == hit.start && small(denial.end) && !spent);
        denies
            && denial.start < hit.start
            && reaches
            && denial.end <= hit.end
            && !(denial.start <= hit.start && hit.end <= denial.end)
    })
}

/// "Wind not from the left": words that may be any hold a denial.
fn swallows_a_denial(message: &Message<'_>, hit: &Hit<'_>) -> bool {
    let inside = |denial: &Hit<'_>| denial.start > hit.start && denial.end < hit.end;
    let harmless =
        matches!(hit.means, Means::Choice(_, id, _) if matches!(id.as_str(), "none" | "no" | "nothing"));
    let side = matches!(hit.means, Means::Choice(FactKey::WindFrom | FactKey::WallSide, _, _));
    side && !harmless
        && hit.way.is_open()
        && message.hits.iter().any(|one| one.is(Tag::Denies) && inside(one))
}

/// Whether what a hit names is only where something is, or what somebody works on: "along the boards".
fn is_landmark(message: &Message<'_>, hit: &Hit<'_>, fact: FactKey) -> bool {
    matches!(fact, FactKey::Base | FactKey::WindFrom)
        && message
            .hits
            .iter()
            .any(|place| place.is(Tag::Landmark) && place.start < hit.end && hit.start < place.end)
}

/// Whether a longer name, or a longer choice, holds a hit: the "left" of "wind from the left".
fn is_within_another(message: &Message<'_>, hit: &Hit<'_>, fact: FactKey, named: Named) -> bool {
    // "On both sides" answers where the walls are, where that is asked.
    let of_shape = |of: FactKey| named == Named::Open && matches!(of, FactKey::Form | FactKey::SlopesEqual);
    message.hits.iter().any(|other| {
        let longer = other.start <= hit.start && hit.end <= other.end && other.len() > hit.len();
        longer
            && match (other.means, hit.means) {
                (Means::Choice(of, id, aspect), Means::Choice(_, own, _)) => {
                    !matches!(aspect, Aspect::Within | Aspect::Along)
                        && (*of != fact || id != own)
                        && (*of == fact || !of_shape(*of))
                }
                // "Rafters at 600" names their spacing, and says what there is.
                (Means::Names(of, _), _) => *of != fact && fact != FactKey::Base && !of_shape(*of),
                _ => false,
            }
    })
}

/// "OSB, rafters at 400": what carries a deck is no other base, unless it is said to lie open.
fn bases(view: &View<'_, '_>, found: &[Chosen], mut ids: Vec<String>, spaced: bool) -> Vec<String> {
    let is_deck = |id: &str| matches!(id, "boards" | "plywood" | "osb");
    let deck_heard =
        found.iter().any(|one| one.fact == FactKey::Base && one.ids.iter().any(|id| is_deck(id)));
    let deck_known = view.session.facts().choice(FactKey::Base).is_some_and(is_deck);
    if deck_heard || (spaced && deck_known) || ids.iter().any(|id| is_deck(id)) {
        ids.retain(|id| is_deck(id));
    }
    // "Plywood boards" are plywood.
    if ids.len() > 1 && ids.iter().any(|id| id != "boards" && is_deck(id)) {
        ids.retain(|id| id != "boards");
    }
    ids
}

/// A yes or a no, alone or before something else, where the question is one of those.
fn by_yes_or_no(question: &Question, message: &Message<'_>) -> Option<Chosen> {
    let asked = message.lexicon.asked(question.fact)?;
    let clause = message.clauses.first().filter(|clause| clause.is_plain())?;
    let small = |at: usize| {
        let small =
            message.hits.iter().filter(|hit| hit.start == at && hit.is(Tag::Filler) && !agrees(message, at));
        small.map(|hit| hit.end).max()
    };
    let mut at = clause.tokens.start;
    while let Some(end) = small(at) {
        at = end;
    }
    let says =
        |tag: Tag| message.hits.iter().filter(|hit| hit.is(tag) && hit.start == at).map(|hit| hit.end).max();
    let (id, end) = match (says(Tag::PlainYes), says(Tag::PlainNo)) {
        (Some(yes), no) if no.is_none_or(|no| yes >= no) => (&asked.yes, yes),
        (_, Some(no)) => (&asked.no, no),
        _ => return None,
    };
    let Some(id) = id.clone() else { return either(question, message, end) };
    let goes_on =
        [Tag::Filler, Tag::AroundNumber, Tag::Denies, Tag::PlainYes, Tag::PlainNo, Tag::Joins, Tag::But];
    let ends = end >= clause.tokens.end
        || message.hits.iter().any(|hit| hit.start == end && goes_on.iter().any(|tag| hit.is(*tag)));
    ends.then(|| whole(question.fact, id))
}

fn agrees(message: &Message<'_>, at: usize) -> bool {
    message.hits.iter().any(|hit| hit.start == at && (hit.is(Tag::PlainYes) || hit.is(Tag::PlainNo)))
}

/// A yes or a no that may mean more than one thing, where it is all that is said: it is asked which.
fn either(question: &Question, message: &Message<'_>, end: usize) -> Option<Chosen> {
    let rest = message.covered(&(end..message.tokens.len()), |hit| {
        hit.is(Tag::Filler) || hit.is(Tag::PlainNo) || hit.is(Tag::PlainYes)
    });
    let ids = question.choices.iter().map(|choice| choice.id.clone()).filter(|id| id != "not_sure").collect();
    let chosen = Chosen { ids, ..whole(question.fact, String::new()) };
    (rest || end >= message.tokens.len()).then_some(chosen)
}

/// A sheet of the list by its name, the first of them by pointing, or one's own.
fn sheet(view: &View<'_, '_>, asked: bool, message: &Message<'_>) -> Option<Chosen> {
    let speaks = |clause: &Clause| clause.mood == Mood::States && !clause.others && !clause.conditional;
    if !message.clauses.iter().all(speaks) {
        return None;
    }
    let typed = message.text.trim().to_lowercase();
    let sheets = &view.guide.handbook.catalogue.sheets;
    let named = sheets.iter().find(|sheet| sheet.item.id == typed || sheet.item.name.to_lowercase() == typed);
    if let Some(sheet) = named {
        return Some(whole(FactKey::Sheet, sheet.item.id.clone()));
    }
    // "Long one, 3000 x 960".
    let sized = |length| {
        message.figures.iter().any(|figure| {
            super::readings::length(crate::units::Quantity::SheetLength, &figure.text) == Some(length)
        })
    };
    let speaks_of_sheets = asked || message.has(Tag::OfSheets);
    if let Some(sheet) =
        sheets.iter().find(|sheet| speaks_of_sheets && sized(sheet.length) && sized(sheet.width))
    {
        return Some(whole(FactKey::Sheet, sheet.item.id.clone()));
    }
    // "The 3 metre ones".
    for figure in &message.figures {
        let length = super::readings::length(crate::units::Quantity::SheetLength, &figure.text);
        let sheet = sheets.iter().find(|sheet| Some(sheet.length) == length);
        let says_sheet =
            !asked || message.clauses.len() == 1 && figure.tokens.end + 2 >= message.tokens.len();
        if let Some(sheet) = sheet.filter(|_| says_sheet && !message.has(Tag::OwnSheet)) {
            return Some(whole(FactKey::Sheet, sheet.item.id.clone()));
        }
    }
    if asked && (message.has(Tag::OwnSheet) || message.has(Tag::OfSheets)) {
        // Of which covering an own sheet is must be said too, where there are several.
        let own = own_sheets(&view.guide.handbook.catalogue);
        let named = own.iter().find(|(_, covering)| typed.contains(&covering.name.to_lowercase()));
        return match (own.as_slice(), named) {
            ([(only, _)], _) | (_, Some((only, _))) => Some(whole(FactKey::Sheet, only.clone())),
            _ => None,
        };
    }
    let long = [Tag::LongSheet, Tag::Second, Tag::Last, Tag::More].into_iter().any(|tag| message.has(tag));
    let last = sheets.last().filter(|_| long && sheets.len() == 2);
    let first = sheets.first().filter(|_| asked && (message.has(Tag::FirstSheet) || message.has(Tag::First)));
    last.or(first).map(|sheet| whole(FactKey::Sheet, sheet.item.id.clone()))
}
