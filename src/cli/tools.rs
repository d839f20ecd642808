//! The commands that answer once and end: `read`, `plan`, `schema`, `book`.

use std::io::Read as _;
use std::path::Path;
use std::process::ExitCode;

use anyhow::Context as _;
use lapwise::book;
use lapwise::conversation::Guide;
use lapwise::conversation::saying::{Voice, report};
use lapwise::export::{self, ask::Asking};
use lapwise::roofing::plan::{self, Unplanned};
use lapwise::roofing::roof::{Facts, covering};
use lapwise::units::reading::{Context, read as read_measurement};

use super::{AskArguments, BookArguments, Form, PlanArguments, ReadArguments, open_book, print, today};

/// Prints the verdict on one measurement.
pub(super) fn read(arguments: &ReadArguments) -> anyhow::Result<ExitCode> {
    let book = open_book(&arguments.book)?;
    let quantity = arguments.quantity.into();
    let boundaries = lapwise::conversation::ears::readings::boundaries_of(book.on(today()), quantity);
    let context = Context { quantity, usual: arguments.usual.map(Into::into), boundaries: &boundaries };
    let verdict = read_measurement(&arguments.text.join(" "), &context);
    let units = arguments.usual.map_or(lapwise::units::UsualUnit::M, Into::into);
    let voice = Voice { words: &book.words, language: "en", units };
    let json = export::reading::verdict_json(&verdict, |why| {
        voice.say(&lapwise::conversation::ears::readings::note_of(why))
    });
    print(&json.to_string())?;
    Ok(ExitCode::SUCCESS)
}

/// Prints the plan of a site file. A refusal is an answer, but ends with 2 so that scripts notice.
pub(super) fn plan(arguments: &PlanArguments) -> anyhow::Result<ExitCode> {
    let book = open_book(&arguments.book)?;
    let facts = facts_of(&arguments.site)?;
    let language = book.language("en", covering(&facts, book.on(today())));
    let voice = Voice { words: &book.words, language, units: arguments.units.into() };
    let guide = Guide {
        handbook: book.on(today()),
        today: today(),
        earlier: None,
        script: &book.script,
        words: &book.words,
        ears: book.hearing.of("en"),
        hearing: &book.hearing,
        topics: &book.topics,
        asks: &book.asks,
        language: "en",
        kept: "kept-on-this-computer",
        keep_days: None,
        link: None,
    };
    let outcome = plan::plan_on(guide.today, &facts, guide.handbook);
    #[cfg(feature = "pdf")]
    if let Ok(plan) = &outcome {
        super::papers::write(&arguments.papers, plan, &guide, &voice)?;
    }
    let plan = match outcome {
        Ok(plan) => plan,
        Err(unplanned) => return no_plan(unplanned, &arguments.site, arguments.form, &voice),
    };
    print(&match arguments.form {
        Form::Json => serde_json::to_string_pretty(&export::plan::plan_json(&plan, guide.handbook, &voice))?,
        Form::Text => {
            let says: Vec<String> =
                report::whole(&guide, &plan).iter().map(|draft| voice.speak(draft, 0).text).collect();
            says.join("\n\n")
        }
    })?;
    Ok(ExitCode::SUCCESS)
}

/// Says why the roof of a site file has no plan.
///
/// # Errors
/// What only the writer of the file, or of the program, can mend.
pub(super) fn no_plan(
    unplanned: Unplanned,
    site: &Path,
    form: Form,
    voice: &Voice<'_>,
) -> anyhow::Result<ExitCode> {
    match unplanned {
        Unplanned::Refused(refusals) => {
            let said = refusals.iter().map(|refusal| (refusal.id.as_str(), voice.say(&refusal.note)));
            print(&match form {
                Form::Json => {
                    let list: Vec<_> =
                        said.map(|(id, text)| serde_json::json!({ "id": id, "text": text })).collect();
                    serde_json::json!({ "refused": list }).to_string()
                }
                Form::Text => said.map(|(_, text)| text).collect::<Vec<_>>().join("\n\n"),
            })?;
            Ok(ExitCode::from(2))
        }
        Unplanned::Missing(missing) => {
            let keys: Vec<&str> = missing.0.iter().map(|fact| fact.key()).collect();
            anyhow::bail!(
                "{} lacks {}; `lapwise schema` says what each takes",
                site.display(),
                keys.join(", ")
            )
        }
        Unplanned::Fault(fault) => {
            anyhow::bail!("the plan did not pass its check `{}`: {}", fault.check, fault.detail)
        }
    }
}

/// The largest site file, in bytes: a whole one has some two thousand.
const LARGEST_SITE: u64 = 100_000;

/// What stands in a site file; one without an end is not read to it.
fn read_some(site: &Path) -> anyhow::Result<String> {
    let path = site.display();
    let file = std::fs::File::open(site).with_context(|| format!("cannot read {path}"))?;
    let mut bytes = Vec::new();
    let read = file.take(LARGEST_SITE + 1).read_to_end(&mut bytes);
    let read = read.with_context(|| format!("cannot read {path}"))?;
    anyhow::ensure!(
        u64::try_from(read).is_ok_and(|read| read <= LARGEST_SITE),
        "{path} has more than {LARGEST_SITE} bytes: that is no roof"
    );
    String::from_utf8(bytes).map_err(|_| anyhow::anyhow!("cannot read {path}: it is no text"))
}

/// The facts of a site file; every fault is named with its line.
pub(super) fn facts_of(site: &Path) -> anyhow::Result<Facts> {
    let path = site.display();
    let text = read_some(site)?;
    export::site::read_site(&text).map_err(|faults| {
        let list: Vec<String> = faults.iter().map(|fault| format!("{path}, {fault}")).collect();
        anyhow::anyhow!("{}", list.join("\n"))
    })
}

/// Answers one question about the roof of a site file.
pub(super) fn ask(arguments: &AskArguments) -> anyhow::Result<ExitCode> {
    let book = open_book(&arguments.book)?;
    let facts = facts_of(&arguments.site)?;
    let asking = Asking {
        asks: &book.asks,
        understander: book.topics.understander(),
        handbook: book.on(today()),
        words: &book.words,
        language: "en",
        unit: arguments.units.into(),
    };
    print(&export::ask::ask_json(&asking, &facts, &arguments.text.join(" ")).to_string())?;
    Ok(ExitCode::SUCCESS)
}

/// Lists what can be asked.
pub(super) fn topics(arguments: &BookArguments) -> anyhow::Result<ExitCode> {
    let book = open_book(arguments)?;
    print(&serde_json::to_string_pretty(&export::ask::topics_json(book.topics.understander()))?)?;
    Ok(ExitCode::SUCCESS)
}

/// Prints the JSON Schemas.
pub(super) fn schema() -> anyhow::Result<ExitCode> {
    print(&serde_json::to_string_pretty(&export::schema::schemas())?)?;
    Ok(ExitCode::SUCCESS)
}

/// Checks a book and prints what it holds.
pub(super) fn book(arguments: &BookArguments) -> anyhow::Result<ExitCode> {
    let found = open_book(arguments)?;
    print(&book::describe(&found))?;
    if let Some(dir) = &arguments.book {
        let lately = super::learn::lately(dir)?;
        if !lately.is_empty() {
            print(&lately)?;
        }
    }
    Ok(ExitCode::SUCCESS)
}
