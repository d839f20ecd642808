//! `lapwise check`: whether the roof of a site file holds, with every step, for an engineer to follow.

use std::process::ExitCode;

use lapwise::conversation::saying::Voice;
use lapwise::export::checks::{checks_json, page};
use lapwise::roofing::note::Note;
use lapwise::roofing::plan::plan_on;
use lapwise::roofing::roof::covering;

use super::tools::{facts_of, no_plan};
use super::{CheckArguments, Form, open_book, print, today};

/// Prints every check. A refusal is an answer, but ends with 2 so that scripts notice.
pub(super) fn run(arguments: &CheckArguments) -> anyhow::Result<ExitCode> {
    let book = open_book(&arguments.book)?;
    let facts = facts_of(&arguments.site)?;
    let handbook = book.on(today());
    let language = book.language("en", covering(&facts, handbook));
    let voice = Voice { words: &book.words, language, units: arguments.units.into() };
    let say = |note: &Note| voice.say(note);
    let plan = match plan_on(today(), &facts, handbook) {
        Ok(plan) => plan,
        Err(unplanned) => return no_plan(unplanned, &arguments.site, arguments.form, &voice),
    };
    let checks = plan.checks(&handbook.rules);
    print(&match arguments.form {
        Form::Json => serde_json::to_string_pretty(&checks_json(&checks, &say))?,
        Form::Text => page(&checks, &say),
    })?;
    Ok(ExitCode::SUCCESS)
}
