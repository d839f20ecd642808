//! `lapwise check`: whether the roof of a site file holds, with every step, for an engineer to follow.

use std::process::ExitCode;

use lapwise::conversation::saying::Voice;
use lapwise::export::checks::{checks_json, page};
use lapwise::roofing::note::Note;
use lapwise::roofing::plan::{Unplanned, plan_on};
use lapwise::roofing::roof::covering;

use super::tools::facts_of;
use super::{CheckArguments, Form, open_book, print, today};

/// Prints every check. A refusal is an answer, but ends with 2 so that scripts notice.
pub(super) fn run(arguments: &CheckArguments) -> anyhow::Result<ExitCode> {
    let book = open_book(&arguments.book)?;
    let facts = facts_of(&arguments.site)?;
    let handbook = book.on(today());
    let language = book.language("en", covering(&facts, handbook));
    let voice = Voice { words: &book.words, language, units: arguments.units.into() };
    let say = |note: &Note| voice.say(note);
    match plan_on(today(), &facts, handbook) {
        Ok(plan) => {
            let checks = plan.checks(&handbook.rules);
            let said = match arguments.form {
                Form::Json => serde_json::to_string_pretty(&checks_json(&checks, &say))?,
                Form::Text => page(&checks, &say),
            };
            print(&said)?;
            Ok(ExitCode::SUCCESS)
        }
        Err(Unplanned::Refused(refusals)) => {
            let said = refusals.iter().map(|refusal| (refusal.id.as_str(), voice.say(&refusal.note)));
            let out = match arguments.form {
                Form::Json => {
                    let list: Vec<_> =
                        said.map(|(id, text)| serde_json::json!({ "id": id, "text": text })).collect();
                    serde_json::json!({ "refused": list }).to_string()
                }
                Form::Text => said.map(|(_, text)| text).collect::<Vec<_>>().join("\n\n"),
            };
            print(&out)?;
            Ok(ExitCode::from(2))
        }
        Err(Unplanned::Missing(missing)) => {
            let keys: Vec<&str> = missing.0.iter().map(|fact| fact.key()).collect();
            anyhow::bail!(
                "{} lacks {}; `lapwise schema` says what each takes",
                arguments.site.display(),
                keys.join(", ")
            );
        }
        Err(Unplanned::Fault(fault)) => {
            anyhow::bail!("the plan did not pass its check `{}`: {}", fault.check, fault.detail)
        }
    }
}
