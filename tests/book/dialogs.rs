//! The adviser's book: the shipped one is whole, and every fault of a broken one is named where it stands.
//!
//! A folder in `tests/books/` is laid over a copy of `dialogs/`; `expected.txt` says what is found there. Its
//! `change.txt` names a shipped file, the lines to take out of it (`- `) and those to put in their place (`+ `).
//! `UPDATE=1 cargo test --test book dialogs` writes the expectations anew, for a person to read.

#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test fails by panicking")]

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use lapwise::book::{Book, describe};
use lapwise::conversation::script::Question;
use lapwise::roofing::facts::{FactKey, FactValue, Facts, Words};
use lapwise::roofing::rules::{Condition, Effect, Handover, Outcome, Rule, evaluate};
use lapwise::units::{Length, Measured, UsualUnit};
use proptest::prelude::*;
use regex::Regex;

fn in_repository(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

/// Every file below a folder.
fn files_below(dir: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(dir).unwrap().map(|entry| entry.unwrap().path());
    let (dirs, mut files): (Vec<PathBuf>, Vec<PathBuf>) = entries.partition(|path| path.is_dir());
    files.extend(dirs.iter().flat_map(|dir| files_below(dir)));
    files.sort();
    files
}

fn copy_below(from: &Path, to: &Path) {
    for file in files_below(from) {
        let target = to.join(file.strip_prefix(from).unwrap());
        fs::create_dir_all(target.parent().unwrap()).unwrap();
        fs::copy(&file, target).unwrap();
    }
}

/// Carries out `change.txt` on a copy of the book.
fn change(broken: &Path, dir: &Path) {
    let Ok(wanted) = fs::read_to_string(broken.join("change.txt")) else { return };
    let (name, lines) = wanted.split_once('\n').unwrap();
    let side = |sign: &str| -> String {
        let own = lines.lines().filter_map(|line| line.strip_prefix(sign));
        own.flat_map(|line| [line.strip_prefix(' ').unwrap_or(line), "\n"]).collect()
    };
    let text = fs::read_to_string(dir.join(name)).unwrap();
    assert!(text.contains(&side("-")), "{} does not fit {name} any more", broken.display());
    fs::write(dir.join(name), text.replacen(&side("-"), &side("+"), 1)).unwrap();
}

#[test]
fn the_shipped_book_is_whole_and_part_of_the_program() {
    let read = Book::load(&in_repository("dialogs")).unwrap_or_else(|faults| {
        panic!("{}", faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))
    });
    assert_eq!(Book::shipped().version, read.version, "list every file of dialogs/ in src/book/files.rs");
}

#[test]
fn every_fault_of_a_broken_book_is_named_with_its_line() {
    let mut wrong = String::new();
    let mut books: Vec<PathBuf> =
        fs::read_dir(in_repository("tests/books")).unwrap().map(|entry| entry.unwrap().path()).collect();
    books.sort();
    for broken in &books {
        let place = tempfile::tempdir().unwrap();
        let dir = place.path().join("dialogs");
        copy_below(&in_repository("dialogs"), &dir);
        copy_below(broken, &dir);
        change(broken, &dir);
        let faults = Book::load(&dir).err().unwrap_or_default();
        let found: String = faults.iter().fold(String::new(), |mut said, fault| {
            writeln!(said, "{fault}").unwrap();
            said
        });
        let found = found.replace(&format!("{}/", place.path().display()), "");
        let expected_file = broken.join("expected.txt");
        if std::env::var_os("UPDATE").is_some() {
            fs::write(&expected_file, &found).unwrap();
        }
        let expected = fs::read_to_string(&expected_file).unwrap_or_default();
        if found.is_empty() || found != expected {
            writeln!(wrong, "{}\nexpected:\n{expected}found:\n{found}", broken.display()).unwrap();
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
    assert!(books.len() >= 20, "the broken books are gone");
}

#[test]
fn a_book_over_a_limit_names_it() {
    let place = tempfile::tempdir().unwrap();
    let dir = place.path().join("dialogs");
    let refused = |dir: &Path| Book::load(dir).unwrap_err()[0].to_string();
    copy_below(&in_repository("dialogs"), &dir);
    fs::write(dir.join("words/en/long.ftl"), format!("# {}\n", "x".repeat(1_000_000))).unwrap();
    assert!(
        refused(&dir).contains("long.ftl: a file of a book has at most 1000000 bytes"),
        "{}",
        refused(&dir)
    );
    fs::remove_file(dir.join("words/en/long.ftl")).unwrap();
    for number in 0..500 {
        fs::write(dir.join(format!("words/en/more-{number}.ftl")), "").unwrap();
    }
    assert!(refused(&dir).contains("a book has at most 500 files"), "{}", refused(&dir));
}

#[test]
fn a_folder_that_is_no_book_is_refused() {
    let empty = tempfile::tempdir().unwrap();
    let said: Vec<String> = Book::load(empty.path()).unwrap_err().iter().map(ToString::to_string).collect();
    assert!(said.iter().any(|fault| fault.contains("there is no script.toml")), "{said:?}");
    let nowhere = Book::load(&empty.path().join("nowhere")).unwrap_err();
    assert!(nowhere[0].what.starts_with("the book cannot be read"), "{nowhere:?}");
}

/// The ids that the program itself names: whole string literals, and those with a part left open.
struct Named {
    whole: BTreeSet<String>,
    open: Vec<Regex>,
}

fn named_in_the_program() -> Named {
    let literal = Regex::new(r#""([a-z][a-z0-9{}_-]*)""#).unwrap();
    let part = Regex::new(r"\{[^}]*\}").unwrap();
    let mut named = Named { whole: BTreeSet::new(), open: Vec::new() };
    for file in files_below(&in_repository("src")) {
        let text = fs::read_to_string(&file).unwrap();
        for found in literal.captures_iter(&text) {
            let id = &found[1];
            if part.is_match(id) && id.contains('-') {
                named.open.push(Regex::new(&format!("^{}$", part.replace_all(id, ".+"))).unwrap());
            } else {
                named.whole.insert(id.to_owned());
            }
        }
    }
    named
}

#[test]
fn every_sentence_is_used() {
    let book = Book::shipped();
    let named = named_in_the_program();
    let mut used: BTreeSet<String> = book.script.questions.iter().flat_map(Question::messages).collect();
    used.extend(book.handbook.rules.rules.iter().map(|rule| rule.message.clone()));
    let again = book.handbook.rules.rules.iter().filter_map(|rule| rule.again.as_ref());
    used.extend(again.map(|again| again.message.clone()));
    used.extend(book.script.holds.iter().map(|hold| hold.recalled.clone()));
    used.extend(book.script.holds.iter().flat_map(|hold| &hold.answers).map(|answer| answer.says.clone()));
    used.extend(book.handbook.rules.paces.iter().filter_map(|pace| pace.caution.clone()));
    used.extend(book.handbook.catalogue.tools.iter().chain(&book.handbook.catalogue.protective).cloned());
    let quoted: BTreeSet<String> =
        book.words.ids().flat_map(|id| book.words.parts("en", id).quotes).collect();
    let unused: Vec<&str> = book
        .words
        .ids()
        .filter(|id| !used.contains(*id) && !quoted.contains(*id) && !named.whole.contains(*id))
        .filter(|id| !named.open.iter().any(|open| open.is_match(id)))
        .collect();
    assert!(unused.is_empty(), "nobody says {unused:?}: delete them");
}

#[test]
fn every_sentence_the_program_names_is_there() {
    let book = Book::shipped();
    let names =
        Regex::new(r#"(?:Note::new|Arg::Word)\(\s*"([^"{}]+)"|\.word\(\s*"[^"]+",\s*"([^"{}]+)""#).unwrap();
    let mut missing = BTreeSet::new();
    for file in files_below(&in_repository("src")) {
        let text = fs::read_to_string(&file).unwrap();
        let code = text.split("#[cfg(test)]").next().unwrap_or_default();
        for found in names.captures_iter(code) {
            let id = found.get(1).or_else(|| found.get(2)).unwrap().as_str();
            if !book.words.has("en", id) {
                missing.insert(format!("{}: {id}", file.display()));
            }
        }
    }
    assert!(missing.is_empty(), "add to dialogs/words/en/: {missing:#?}");
}

#[test]
fn every_source_is_cited_and_every_rule_can_speak() {
    let book = Book::shipped();
    let rules = &book.handbook.rules;
    for source in &rules.sources {
        // The demo range cites its own: that every figure in it is invented.
        let cited = rules.rules.iter().any(|rule| rule.source == source.id)
            || rules.bases.iter().any(|based| based.source == source.id)
            || source.id == "demo";
        assert!(cited, "nothing cites {}", source.id);
    }
    for rule in rules.rules.iter().filter(|rule| !rule.then.is_empty()) {
        let outcome = evaluate(rules, rule.covering.as_deref(), &facts_for(rule));
        assert!(speaks(&outcome, rule), "{} never speaks", rule.id);
    }
}

#[test]
fn every_rule_explains_itself_with_its_own_figures() {
    let book = Book::shipped();
    let rules = &book.handbook.rules;
    for rule in &rules.rules {
        let note = rule.note(&facts_for(rule)).length("limit", Length::from_mm(50));
        let said = book.words.say("en", &note, UsualUnit::Mm);
        assert!(!said.contains(['{', '}', '$']) && said != rule.message, "{}: {said}", rule.id);
    }
    let rule = rules.rule("slope-10-to-15").unwrap();
    let said = book.words.say("en", &rule.note(&Facts::default()), UsualUnit::Mm);
    for figure in ["10°", "15°", "450 mm", "200 mm", "1 corrugation."] {
        assert!(said.contains(figure), "{figure}: {said}");
    }
}

/// Facts under which a rule speaks: the lower end of each band, the first of each choice.
fn facts_for(rule: &Rule) -> Facts {
    let mut facts = Facts::default();
    if let Some(sheet) = &rule.sheet {
        facts.set(FactKey::Sheet, FactValue::Choice(sheet.clone()));
    }
    for condition in &rule.when {
        let (fact, value) = match condition {
            Condition::Angle { fact, from, .. } => {
                (*fact, FactValue::Angle(Measured::stated(from.unwrap_or_default())))
            }
            Condition::Length { fact, from, .. } => {
                (*fact, FactValue::Length(Measured::stated(from.unwrap_or(Length::from_mm(1)))))
            }
            Condition::OneOf { fact, any } => (*fact, FactValue::Choice(any[0].clone())),
            Condition::Told { fact, known: true } => {
                (*fact, FactValue::Words(Words::new("3 November, 6 m").unwrap()))
            }
            Condition::NoneOf { .. } | Condition::Told { known: false, .. } => continue,
        };
        assert!(facts.set(fact, value), "{}", rule.id);
    }
    facts
}

fn speaks(outcome: &Outcome, rule: &Rule) -> bool {
    rule.then.iter().all(|effect| match effect {
        Effect::Require(requirement, _) => {
            outcome.requirements.contributions(*requirement).iter().any(|said| said.rule == rule.id)
        }
        // A check speaks of a roof that is planned: `tests/plan/checks.rs` hears each.
        Effect::Check => true,
        Effect::Advise => outcome.advice.contains(&rule.id),
        Effect::Caution(phase) => outcome.cautions.contains(&(rule.id.clone(), *phase)),
        Effect::Refuse => outcome.refusals.contains(&rule.id),
        Effect::Stop(handover) => outcome.stops.contains(&(rule.id.clone(), *handover)),
    })
}

fn stops_at(answers: &[(FactKey, &str)]) -> Vec<(String, Handover)> {
    let mut facts = Facts::default();
    for (fact, answer) in answers {
        assert!(facts.set(*fact, FactValue::Choice((*answer).to_owned())), "{answer}");
    }
    evaluate(&Book::shipped().handbook.rules, Some("corrugated_bitumen"), &facts).stops
}

#[test]
fn only_a_clear_test_lifts_the_suspicion_of_asbestos() {
    use FactKey::{AsbestosTest, CoveringNow};
    for suspect in ["grey_cement_sheets", "not_sure"] {
        assert_eq!(stops_at(&[(CoveringNow, suspect)]).len(), 1, "{suspect}");
        assert_eq!(stops_at(&[(CoveringNow, suspect), (AsbestosTest, "not_tested")]).len(), 1, "{suspect}");
        assert_eq!(stops_at(&[(CoveringNow, suspect), (AsbestosTest, "tested_clear")]), [], "{suspect}");
    }
    let found = stops_at(&[(CoveringNow, "felt"), (AsbestosTest, "contains_asbestos")]);
    assert_eq!(found, [("asbestos-found".to_owned(), Handover::LicensedPro)]);
    assert_eq!(stops_at(&[(CoveringNow, "felt")]), []);
}

#[test]
fn every_dangerous_answer_stops_the_plan() {
    use FactKey::{CoveringNow, OverheadLines, Structure};
    for (fact, answer) in [
        (Structure, "rotten_or_sagging"),
        (Structure, "might_not_hold_weight"),
        (Structure, "not_sure"),
        (OverheadLines, "near"),
        (OverheadLines, "not_sure"),
        (CoveringNow, "plastic_or_glass"),
    ] {
        assert_eq!(stops_at(&[(fact, answer)]).len(), 1, "{answer}");
    }
    assert_eq!(stops_at(&[(Structure, "sound"), (OverheadLines, "none"), (CoveringNow, "nothing")]), []);
}

#[test]
fn a_cleared_line_counts_only_with_a_day_and_a_distance() {
    let with = |told: &[(FactKey, &str)]| {
        let mut facts = Facts::default();
        assert!(facts.set(FactKey::OverheadLines, FactValue::Choice("cleared".to_owned())));
        for (fact, words) in told {
            assert!(facts.set(*fact, FactValue::Words(Words::new(words).unwrap())), "{words}");
        }
        evaluate(&Book::shipped().handbook.rules, Some("corrugated_bitumen"), &facts)
    };
    let (when, how_far) = ((FactKey::LinesClearedWhen, "3 November"), (FactKey::LinesDistance, "6 m"));
    assert_eq!(with(&[]).stops.len(), 2);
    assert_eq!(with(&[when]).stops[0].0, "overhead-lines-cleared-how-far");
    assert_eq!(with(&[how_far]).stops[0].0, "overhead-lines-cleared-when");
    let cleared = with(&[when, how_far]);
    assert_eq!(cleared.stops, []);
    assert!(cleared.cautions.iter().any(|(rule, _)| rule == "caution-line-cleared"));
    // Nothing stands for a day or a distance that is not known.
    for fact in [FactKey::LinesClearedWhen, FactKey::LinesDistance] {
        assert!(!Facts::default().set(fact, FactValue::Choice("not_sure".to_owned())));
    }
}

/// What is asked while a stop holds, in other words than the book's, and what answers it.
#[test]
fn a_stop_answers_what_belongs_to_it() {
    let text = fs::read_to_string(in_repository("tests/holds.toml")).unwrap();
    let cases: toml::Table = toml::from_str(&text).unwrap();
    let script = &Book::shipped().script;
    let mut wrong = String::new();
    let mut answered = BTreeSet::new();
    for (stop, asked) in &cases {
        for (says, questions) in asked.as_table().unwrap() {
            for question in questions.as_array().unwrap().iter().filter_map(toml::Value::as_str) {
                let corrects = says.contains("misheard") || says.ends_with("-felt");
                let said = match lapwise::conversation::holds::correction(&script.holds, stop, question) {
                    Some(note) if corrects => vec![note.message],
                    _ => lapwise::conversation::holds::answer(&script.holds, stop, question)
                        .into_iter()
                        .map(|note| note.message)
                        .collect(),
                };
                let expected: Vec<String> =
                    says.split('+').filter(|one| *one != "nothing").map(str::to_owned).collect();
                if said != expected {
                    writeln!(wrong, "{stop}: {question}: {said:?}, not {expected:?}").unwrap();
                }
                answered.extend(expected);
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
    let all: BTreeSet<String> =
        script.holds.iter().flat_map(|hold| &hold.answers).map(|one| one.says.clone()).collect();
    let untried: Vec<&String> = all.difference(&answered).collect();
    assert!(untried.is_empty(), "nobody asks for {untried:?}");
}

#[test]
fn the_description_names_every_rule_sheet_and_question() {
    let book = Book::shipped();
    let said = describe(&book);
    let rules = book.handbook.rules.rules.iter().map(|rule| rule.id.as_str());
    let sheets = book.handbook.catalogue.sheets.iter().map(|sheet| sheet.item.id.as_str());
    let questions = book.script.questions.iter().map(|question| question.id.as_str());
    for id in rules.chain(sheets).chain(questions) {
        assert!(said.contains(id), "{id}");
    }
    for value in ["when pitch is from 10° up to 15°", "max_purlin_spacing_mm = 450", "support = full_deck"]
    {
        assert!(said.contains(value), "{value}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, ..ProptestConfig::default() })]

    /// Whatever is torn out of a book, or pasted into it, is read or named: nothing panics.
    #[test]
    fn a_damaged_book_is_read_or_refused(
        which in 0_usize..1_000,
        from in 0_usize..1_000,
        length in 0_usize..200,
        pasted in "[\\[\\]{}=\"# a-z0-9.\n-]{0,12}",
    ) {
        let place = tempfile::tempdir().unwrap();
        let dir = place.path().join("dialogs");
        copy_below(&in_repository("dialogs"), &dir);
        let files = files_below(&dir);
        let file = &files[which % files.len()];
        let text: Vec<char> = fs::read_to_string(file).unwrap().chars().collect();
        let start = text.len() * from / 1_000;
        let end = (start + length).min(text.len());
        let damaged: String = text[..start].iter().copied().chain(pasted.chars()).chain(text[end..].iter().copied()).collect();
        fs::write(file, damaged).unwrap();
        for fault in Book::load(&dir).err().unwrap_or_default() {
            prop_assert!(fault.line >= 1 && !fault.what.is_empty());
        }
    }
}
