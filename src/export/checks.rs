//! The checks of a roof as others read them: JSON, a page of text, and blocks of a document.

use serde::Serialize;

use crate::drawing::document::Block;
use crate::roofing::checks::{Check, Step, unmeasured};
use crate::roofing::note::{Arg, Note};

/// Says a note in words.
pub type Say<'a> = &'a dyn Fn(&Note) -> String;

/// All checks.
#[derive(Serialize, schemars::JsonSchema)]
pub struct ChecksJson {
    /// Each check.
    pub checks: Vec<CheckJson>,
    /// What was not looked at, because nobody has measured it.
    pub not_looked_at: Vec<String>,
}

/// One check.
#[derive(Serialize, schemars::JsonSchema)]
pub struct CheckJson {
    /// `wind`, `snow`, `purlins`, `deck`, `rafters`, `uplift`, `purlin_screws`, `gutter`, `damp` or `access`.
    pub id: &'static str,
    /// The slope it is about, from 0; absent where it is about the whole roof.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub slope: Option<usize>,
    /// `fine`, `more` or `beyond`.
    pub result: &'static str,
    /// How much of its strength is used, 1 is all; null for a load.
    pub utilisation: Option<f64>,
    /// The standard and its clause.
    pub clause: &'static str,
    /// The sum, line by line.
    pub steps: Vec<StepJson>,
    /// What it says to the person.
    pub says: String,
    /// What it never looks at.
    pub not_looked_at: Vec<String>,
}

/// One line of a sum.
#[derive(Serialize, schemars::JsonSchema)]
pub struct StepJson {
    /// What it is.
    pub what: String,
    /// Its symbol in the standard.
    pub symbol: &'static str,
    /// The formula in the standard's symbols; empty for what goes in.
    pub formula: &'static str,
    /// What it comes to.
    pub value: f64,
    /// In what unit; empty for a plain number.
    pub unit: &'static str,
}

/// The checks as JSON.
pub fn checks_json(checks: &[Check], say: Say<'_>) -> serde_json::Value {
    let json = ChecksJson {
        checks: checks.iter().map(|check| check_json(check, say)).collect(),
        not_looked_at: unmeasured(checks).iter().map(say).collect(),
    };
    super::facts::tidy(serde_json::to_value(json).unwrap_or(serde_json::Value::Null))
}

fn check_json(check: &Check, say: Say<'_>) -> CheckJson {
    let step = |step: &Step| StepJson {
        what: say(&Note::new(step.what)),
        symbol: step.symbol,
        formula: step.formula,
        value: rounded(step.value),
        unit: step.unit,
    };
    CheckJson {
        id: check.kind.key(),
        slope: check.slope,
        result: check.finds.key(),
        utilisation: check.utilisation.map(rounded),
        clause: check.kind.clause(),
        steps: check.steps.iter().map(step).collect(),
        says: said(check, say).join(" "),
        not_looked_at: check.kind.unseen().iter().map(|id| say(&Note::new(*id))).collect(),
    }
}

/// To six figures behind the point: what is beyond is noise of the machine.
fn rounded(value: f64) -> f64 {
    libm::round(value * 1e6) / 1e6
}

fn said(check: &Check, say: Say<'_>) -> Vec<String> {
    check.says.iter().map(|note| one_line(&say(note))).collect()
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn title(check: &Check, say: Say<'_>) -> String {
    let Some(slope) = check.slope else { return say(&Note::new(check.kind.title())) };
    let name = if slope == 0 { "drawing-slope-front" } else { "drawing-slope-back" };
    say(&Note::new("check-of-slope").word("check", check.kind.title()).word("slope", name))
}

/// What it found, in a line.
fn result(check: &Check, say: Say<'_>) -> String {
    let finds = format!("check-finds-{}", check.finds.key());
    match check.utilisation {
        Some(_) => say(&Note::new("check-result").word("finds", finds).with("used", check.percent())),
        None => say(&Note::new("check-result-plain").word("finds", finds)),
    }
}

/// A line of a sum: `qp = (1 + 7 Iv) ρ (cr co vb)² / 2 = 0.673 kN/m²`.
fn sum(step: &Step) -> String {
    let value = figure(step.value);
    let unit = if step.unit.is_empty() { String::new() } else { format!(" {}", step.unit) };
    if step.formula.is_empty() {
        format!("{} = {value}{unit}", step.symbol)
    } else {
        format!("{} = {} = {value}{unit}", step.symbol, step.formula)
    }
}

/// Three figures that tell.
fn figure(value: f64) -> String {
    match value.abs() {
        size if size >= 100.0 => format!("{value:.0}"),
        size if size >= 10.0 => format!("{value:.1}"),
        size if size >= 1.0 => format!("{value:.2}"),
        _ => format!("{value:.3}"),
    }
}

fn unseen(check: &Check, say: Say<'_>) -> String {
    let unseen = check.kind.unseen().iter().map(|id| Note::new(*id)).collect();
    one_line(&say(&Note::new("check-unseen").with("unseen", Arg::Notes(unseen))))
}

fn clause(check: &Check, say: Say<'_>) -> String {
    say(&Note::new("check-clause").text("clause", check.kind.clause()))
}

/// The checks as a page of text.
pub fn page(checks: &[Check], say: Say<'_>) -> String {
    if checks.is_empty() {
        return say(&Note::new("check-nothing"));
    }
    let mut parts = vec![one_line(&say(&Note::new("check-intro")))];
    for check in checks {
        let mut lines = vec![
            format!("{}. {}", title(check, say), result(check, say)),
            format!("  {}", clause(check, say)),
        ];
        lines.extend(said(check, say).into_iter().map(|line| format!("  {line}")));
        lines.extend(
            check.steps.iter().map(|step| format!("    {}: {}", say(&Note::new(step.what)), sum(step))),
        );
        lines.push(format!("  {}", unseen(check, say)));
        parts.push(lines.join("\n"));
    }
    parts.extend(unmeasured(checks).iter().map(|note| one_line(&say(note))));
    parts.join("\n\n")
}

/// The checks as blocks of a document.
pub fn blocks(checks: &[Check], say: Say<'_>) -> Vec<Block> {
    if checks.is_empty() {
        return Vec::new();
    }
    let mut blocks = vec![Block::Notice(one_line(&say(&Note::new("check-intro"))))];
    for check in checks {
        blocks.push(Block::Subheading(format!("{}: {}", title(check, say), result(check, say))));
        blocks.extend(said(check, say).into_iter().map(Block::Paragraph));
        let sums: Vec<String> =
            check.steps.iter().map(|step| format!("{}: {}", say(&Note::new(step.what)), sum(step))).collect();
        let small = [clause(check, say), sums.join("; "), unseen(check, say)];
        blocks.extend(small.into_iter().filter(|line| !line.is_empty()).map(Block::Small));
    }
    blocks.extend(unmeasured(checks).iter().map(|note| Block::Paragraph(one_line(&say(note)))));
    blocks
}
