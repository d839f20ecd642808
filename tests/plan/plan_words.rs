//! What planning says and what the English sentences ask for are the same.

#![expect(clippy::expect_used, clippy::panic, reason = "helpers of tests")]

use crate::common;

use std::collections::{BTreeMap, BTreeSet};

use common::{Answers, handbook};
use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement};
use lapwise::roofing::messages::{MESSAGES, WORDS};
use lapwise::roofing::note::{Arg, Note};
use lapwise::roofing::plan::{Unplanned, difference, plan};
use lapwise::roofing::roof::FactKey;
use lapwise::roofing::rules::Requirement;
use lapwise::roofing::work::work_order;
use lapwise::units::Doubt;

const PLAN: &str = include_str!("../../dialogs/words/en/plan.ftl");

/// Each sentence of the file with the figures and the other sentences it names.
fn sentences() -> BTreeMap<String, BTreeSet<String>> {
    let resource = fluent_syntax::parser::parse(PLAN).expect("plan.ftl is Fluent");
    let mut sentences = BTreeMap::new();
    for entry in &resource.body {
        if let Entry::Message(message) = entry {
            let mut names = BTreeSet::new();
            collect(message.value.as_ref().expect("a sentence"), &mut names);
            assert!(
                sentences.insert(message.id.name.to_owned(), names).is_none(),
                "{} twice",
                message.id.name
            );
        }
    }
    sentences
}

fn collect(pattern: &Pattern<&str>, names: &mut BTreeSet<String>) {
    for element in &pattern.elements {
        let PatternElement::Placeable { expression } = element else { continue };
        let inline = match expression {
            Expression::Inline(inline) => inline,
            Expression::Select { selector, variants } => {
                for variant in variants {
                    collect(&variant.value, names);
                }
                selector
            }
        };
        if let InlineExpression::StringLiteral { value: "" } = inline {
            // Nothing is said in this case.
        } else if let InlineExpression::VariableReference { id } = inline {
            names.insert(format!("${}", id.name));
        } else if let InlineExpression::MessageReference { id, .. } = inline {
            names.insert(id.name.to_owned());
        } else {
            panic!("{inline:?} is more than a sentence needs");
        }
    }
}

#[test]
fn every_sentence_has_the_figures_it_asks_for_and_none_is_missing_or_unused() {
    let sentences = sentences();
    let mut expected: BTreeSet<String> = WORDS.iter().map(|word| (*word).to_owned()).collect();
    expected
        .extend(Requirement::ALL.iter().map(|one| format!("requirement-{}", one.name().replace('_', "-"))));
    expected.insert("contradiction-slip".to_owned());
    for (id, figures) in MESSAGES {
        expected.insert((*id).to_owned());
        for name in sentences.get(*id).unwrap_or_else(|| panic!("no sentence for {id}")) {
            let known = name.strip_prefix('$').is_none_or(|name| figures.contains(&name));
            assert!(known, "{id} asks for {name}, which it is not given");
        }
    }
    let written: BTreeSet<String> = sentences.keys().cloned().collect();
    assert_eq!(written, expected);
}

fn check(note: &Note) {
    // What the job says stands in work.ftl, the book's own rules and tools in its files.
    if ["rule-", "tool-", "work-"].iter().any(|of| note.message.starts_with(of)) {
        return;
    }
    let (_, figures) = MESSAGES
        .iter()
        .find(|(id, _)| *id == note.message)
        .unwrap_or_else(|| panic!("{note:?} is not listed"));
    let given: BTreeSet<&str> = note.args.keys().map(AsRef::as_ref).collect();
    assert_eq!(given, figures.iter().copied().collect(), "{}", note.message);
    for arg in note.args.values() {
        if let Arg::Word(word) = arg {
            let fact =
                FactKey::ALL.iter().any(|key| *word == format!("fact-{}", key.key().replace('_', "-")));
            assert!(fact || sentences().contains_key(word), "{} says {word}", note.message);
        }
    }
}

/// The step that a sentence says more of.
fn step_within(note: &Note) -> Option<&Note> {
    let Some(Arg::Note(inside)) = note.args.get("step") else { return None };
    Some(&**inside)
}

/// Roofs that are chosen to say nearly everything.
fn talkative_roofs() -> Vec<Answers> {
    vec![
        Answers::shed(),
        Answers::shed().choose(FactKey::Structure, "repaired"),
        Answers::shed().on_deck(12).choose(FactKey::Insulation, "yes").choose(FactKey::WallTop, "yes"),
        Answers::shed().on_deck(15).choose(FactKey::Insulation, "yes"),
        Answers::shed().length(FactKey::Length, 2_800),
        Answers::shed().length(FactKey::Length, 2_800).choose(FactKey::WallSide, "left"),
        Answers::shed().choose(FactKey::Insulation, "yes"),
        Answers::shed().on_deck(15).doubt(FactKey::DeckThickness, Doubt::About),
        Answers::shed().on_deck(12).angle(FactKey::Pitch, 8.0),
        Answers::shed().on_deck(15).doubt(FactKey::DeckThickness, Doubt::About).angle(FactKey::Pitch, 8.0),
        Answers::shed().angle(FactKey::Pitch, 15.2).doubt(FactKey::Pitch, Doubt::ByPhone),
        Answers::shed().angle(FactKey::Pitch, 5.2).doubt(FactKey::Pitch, Doubt::ByPhone),
        Answers::shed().angle(FactKey::Pitch, 8.0).choose(FactKey::Base, "purlins"),
        Answers::shed().choose(FactKey::Base, "purlins").choose(FactKey::WallSide, "both"),
        Answers::shed().choose(FactKey::Base, "purlins").angle(FactKey::Pitch, 12.0),
        Answers::shed().choose(FactKey::WallSide, "both").length(FactKey::Length, 2_450),
        Answers::shed().choose(FactKey::WindFrom, "front").on_deck(15),
        Answers::shed().choose(FactKey::WallSide, "left").choose(FactKey::WindFrom, "front"),
        Answers::shed()
            .choose(FactKey::Sheet, "label")
            .length(FactKey::SheetLength, 2_200)
            .length(FactKey::SheetWidth, 950)
            .count(FactKey::SheetCorrugations, 10)
            .length(FactKey::CorrugationHeight, 38),
        Answers::barn(),
        Answers::barn().choose(FactKey::WindFrom, "front").length(FactKey::Rise, 4_000),
        Answers::barn()
            .choose(FactKey::SlopesEqual, "no")
            .angle(FactKey::PitchBack, 40.0)
            .length(FactKey::SlopeLength, 5_000)
            .length(FactKey::SlopeLengthBack, 2_000)
            .without(FactKey::Span),
    ]
}

#[test]
fn every_note_of_these_roofs_is_listed_with_its_figures() {
    let (mut plans, mut said) = (Vec::new(), BTreeSet::new());
    for roof in talkative_roofs() {
        match plan(&roof.0, &handbook()) {
            Ok(plan) => plans.push(plan),
            Err(Unplanned::Refused(refusals)) => {
                for refusal in &refusals {
                    check(&refusal.note);
                }
                said.extend(refusals.into_iter().map(|refusal| refusal.note.message));
            }
            Err(other) => panic!("{other:?}"),
        }
    }
    for plan in &plans {
        let steps: Vec<Note> =
            work_order(plan).iter().flat_map(|step| [step.note.clone(), step.whole()]).collect();
        let changes = difference(&plans[0], plan).notes(2);
        let findings = plan.findings.iter().map(|finding| &finding.note);
        let picking = plan.picking();
        let told = plan.materials.lines.iter().flat_map(|line| {
            let names = [picking.name(line), picking.name_to_order(line)].into_iter();
            let names = names.filter_map(|name| if let Arg::Note(note) = name { Some(*note) } else { None });
            names.chain(picking.details(line)).chain([picking.or_equal(line)])
        });
        let told: Vec<Note> = told.collect();
        let inside: Vec<&Note> = steps.iter().filter_map(step_within).collect();
        for note in findings.chain(&steps).chain(&changes).chain(&told).chain(inside) {
            check(note);
            said.insert(note.message.clone());
            // Some are said within others.
            for arg in note.args.values() {
                if let Arg::Word(word) = arg {
                    said.insert(word.clone());
                } else if let Arg::Notes(notes) = arg {
                    said.extend(notes.iter().map(|note| note.message.clone()));
                }
            }
        }
    }
    // These roofs are chosen to say nearly everything; what is left are things the catalogue could lack.
    let unsaid: Vec<&str> = MESSAGES.iter().map(|(id, _)| *id).filter(|id| !said.contains(*id)).collect();
    let never = |id: &&str| !id.starts_with("refused-no-") && !id.starts_with("contradiction-");
    let unsaid: Vec<&str> = unsaid.into_iter().filter(never).collect();
    assert_eq!(
        unsaid,
        [
            "refused-timber-too-short",
            "refused-sheet-does-not-fit",
            "refused-purlins-carry",
            "refused-deck-carries",
            "advice-no-edge-piece",
            "advice-sheets-best-found",
            "step-strip"
        ]
    );
}
