//! What a book holds, in plain text for the adviser's terminal.

use std::fmt::{self, Write};

use super::Book;
use crate::roofing::catalogue::{Catalogue, Item};
use crate::roofing::rules::{Condition, DoubtBand, Effect, Handover, Limit, Phase, Rule, RuleBook, Support};

/// Says what a book holds: its goods, its rules with their values and sources, its questions, its languages.
pub fn describe(book: &Book) -> String {
    let mut text = String::new();
    // Writing to a String cannot fail.
    let _ = write_book(&mut text, book);
    text
}

fn write_book(out: &mut String, book: &Book) -> fmt::Result {
    let short: String = book.version.chars().take(12).collect();
    writeln!(out, "This book is whole. Its fingerprint is {short}.\n")?;
    write_catalogue(out, &book.handbook.catalogue)?;
    write_rules(out, book)?;
    writeln!(out, "\nQuestions, in the order of asking (script {}):", book.script.version)?;
    for question in &book.script.questions {
        writeln!(out, "  {} fills {}", question.id, question.fact.key())?;
    }
    let languages: Vec<String> =
        book.words.languages().map(|tag| format!("{tag} ({})", book.words.ids_in(tag).count())).collect();
    writeln!(out, "\nSentences by language: {}", languages.join(", "))?;
    let hearing: Vec<&str> = book.hearing.offered().collect();
    writeln!(out, "Languages that are understood, and offered: {}", hearing.join(", "))?;
    for (tag, lacking) in book.hearing.incomplete() {
        writeln!(
            out,
            "{tag} is not whole yet, and not offered: it lacks {lacking} kinds of words and orders."
        )?;
    }
    Ok(())
}

fn write_catalogue(out: &mut String, catalogue: &Catalogue) -> fmt::Result {
    let demo = if catalogue.demo { ", an invented demo range" } else { "" };
    writeln!(out, "Catalogue {}{demo}, prices from {}:", catalogue.version, catalogue.prices_from)?;
    for sheet in &catalogue.sheets {
        let (length, width) = (sheet.length.mm(), sheet.width.mm());
        let (count, pitch) = (sheet.corrugations, sheet.corrugation_pitch.mm());
        write_item(out, &sheet.item)?;
        writeln!(
            out,
            "    {length} x {width} mm, {count} corrugations of {pitch} mm, for {}",
            sheet.covering
        )?;
    }
    let fasteners = catalogue.fasteners.iter().map(|fastener| &fastener.item);
    let edges = catalogue.edges.iter().map(|piece| &piece.item);
    let timbers = catalogue.timbers.iter().map(|timber| &timber.item);
    let areas = catalogue.areas.iter().map(|piece| &piece.item);
    for item in fasteners.chain(edges).chain(timbers).chain(areas).chain([&catalogue.finial]) {
        write_item(out, item)?;
    }
    Ok(())
}

fn write_item(out: &mut String, item: &Item) -> fmt::Result {
    write!(out, "  {}: {}", item.id, item.name)?;
    if item.pack > 1 {
        write!(out, ", {} to a pack", item.pack)?;
    }
    if let Some(price) = item.price {
        write!(out, ", {} {}", price.currency.code(), price.amount)?;
    }
    writeln!(out)
}

/// The rules as they will be once every entry has taken over, each with the earlier entries that it takes over from.
fn write_rules(out: &mut String, book: &Book) -> fmt::Result {
    let rules = &book.handbook.rules;
    writeln!(out, "\nRules:")?;
    for rule in &rules.rules {
        let mut entries: Vec<&Rule> =
            book.editions.iter().filter_map(|(_, one)| one.rules.rule(&rule.id)).collect();
        entries.dedup_by_key(|entry| entry.since);
        for (entry, next) in entries.iter().zip(entries.iter().skip(1)) {
            writeln!(out, "  {} (since {}, until {})", entry.id, entry.since, next.since)?;
            write_rule(out, rules, entry)?;
        }
        writeln!(out, "  {} (since {})", rule.id, rule.since)?;
        write_rule(out, rules, rule)?;
    }
    Ok(())
}

fn write_rule(out: &mut String, rules: &RuleBook, rule: &Rule) -> fmt::Result {
    if !rule.when.is_empty() {
        let when: Vec<String> = rule.when.iter().map(condition).collect();
        writeln!(out, "    when {}", when.join(" and "))?;
    }
    for said in rule.then.iter().map(effect).chain(doubts(rules, rule)) {
        writeln!(out, "    {said}")?;
    }
    let source = rules.source(&rule.source);
    let title = source.map_or(rule.source.as_str(), |source| source.title.as_str());
    let edition = source.and_then(|source| source.edition.as_deref());
    let edition = edition.map(|edition| format!(" ({edition})")).unwrap_or_default();
    writeln!(out, "    source: {title}{edition}")
}

fn condition(condition: &Condition) -> String {
    let fact = condition.fact().key();
    match condition {
        Condition::Angle { from, to, .. } => band(fact, from.as_ref(), to.as_ref()),
        Condition::Length { from, to, .. } => band(fact, from.as_ref(), to.as_ref()),
        Condition::OneOf { any, .. } => format!("{fact} is {}", any.join(" or ")),
        Condition::NoneOf { any, .. } => format!("{fact} is not, or not yet, {}", any.join(" or ")),
        Condition::Told { known: true, .. } => format!("{fact} is told"),
        Condition::Told { known: false, .. } => format!("{fact} is not told"),
    }
}

fn band<T: fmt::Display>(fact: &str, from: Option<&T>, to: Option<&T>) -> String {
    match (from, to) {
        (Some(from), Some(to)) => format!("{fact} is from {from} up to {to}"),
        (Some(from), None) => format!("{fact} is {from} or more"),
        (None, Some(to)) => format!("{fact} is under {to}"),
        (None, None) => format!("{fact} is known"),
    }
}

fn effect(effect: &Effect) -> String {
    match effect {
        Effect::Require(requirement, limit) => format!("{} = {}", requirement.key(), value(*limit)),
        Effect::Check => "says what a check of strength asks for".to_owned(),
        Effect::Advise => "advises".to_owned(),
        Effect::Caution(Phase::Plan) => "cautions with the plan".to_owned(),
        Effect::Caution(Phase::Work) => "cautions with the plan and before the work".to_owned(),
        Effect::Refuse => "refuses the plan".to_owned(),
        Effect::Stop(Handover::Emergency) => "stops the plan: the emergency services".to_owned(),
        Effect::Stop(Handover::LicensedPro) => "stops the plan: a licensed professional".to_owned(),
        Effect::Stop(Handover::Adviser) => "stops the plan: the adviser".to_owned(),
    }
}

fn value(limit: Limit) -> String {
    match limit {
        Limit::Length(length) => length.mm().to_string(),
        Limit::Count(count) => count.to_string(),
        Limit::Support(Support::Purlins) => "purlins".to_owned(),
        Limit::Support(Support::FullDeck) => "full_deck".to_owned(),
    }
}

fn doubts(rules: &RuleBook, rule: &Rule) -> Option<String> {
    let worth =
        |band: &DoubtBand| format!("is worth {} or {} in a thousand", band.angle, band.length_per_mille);
    [&rules.about, &rules.by_phone, &rules.agree].into_iter().find(|band| band.source == rule.id).map(worth)
}
