//! A TOML file taken apart entry by entry, so that one bad entry does not hide the next.

use serde::de::DeserializeOwned;
use toml::Spanned;
use toml::de::{DeTable, DeValue, Error, ValueDeserializer};

use super::fault::{Faults, Place};
use super::files::BookFile;

/// A file being read.
pub(super) struct Document<'f> {
    file: &'f BookFile,
    table: DeTable<'f>,
}

/// Something read, and where it stands.
#[derive(Clone, Debug)]
pub(super) struct Entry<'f, T> {
    pub(super) value: T,
    pub(super) place: Place<'f>,
}

impl<'f, T> Entry<'f, T> {
    /// The place of a part of this entry.
    pub(super) fn at<P>(&self, part: &Spanned<P>) -> Place<'f> {
        Place { offset: part.span().start, ..self.place }
    }
}

impl<'f> Document<'f> {
    /// Takes a file apart; every fault of the writing itself is noted.
    pub(super) fn open(file: &'f BookFile, faults: &mut Faults) -> Self {
        let (table, errors) = DeTable::parse_recoverable(&file.text);
        for error in errors {
            let offset = error.span().map_or(0, |span| span.start);
            let what = format!(
                "this line cannot be read ({}). Compare it with the lines around it.",
                error.message()
            );
            faults.unreadable(Place { file, offset }, what);
        }
        Self { file, table: table.into_inner() }
    }

    /// Whether the file has a `key` that nobody asked for yet.
    pub(super) fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    /// Every `[[key]]` of the file; those that cannot be read are noted as faults of a `what`.
    pub(super) fn entries<T: DeserializeOwned>(
        &mut self,
        key: &str,
        what: &str,
        faults: &mut Faults,
    ) -> Vec<Entry<'f, T>> {
        let Some(value) = self.table.remove(key) else { return Vec::new() };
        let offset = value.span().start;
        match value.into_inner() {
            DeValue::Array(array) => {
                array.into_iter().filter_map(|value| self.read(value, what, faults)).collect()
            }
            DeValue::String(_)
            | DeValue::Integer(_)
            | DeValue::Float(_)
            | DeValue::Boolean(_)
            | DeValue::Datetime(_)
            | DeValue::Table(_) => {
                let what =
                    format!("write `[[{key}]]`, with two brackets: there may be more than one {what}.");
                faults.at(Place { file: self.file, offset }, what);
                Vec::new()
            }
        }
    }

    /// The one `key` of the file, where it has it.
    pub(super) fn entry<T: DeserializeOwned>(
        &mut self,
        key: &str,
        what: &str,
        faults: &mut Faults,
    ) -> Option<Entry<'f, T>> {
        let value = self.table.remove(key)?;
        self.read(value, what, faults)
    }

    /// Notes whatever nobody asked for; `may_hold` says what the file may hold.
    pub(super) fn close(self, may_hold: &str, faults: &mut Faults) {
        for (key, _) in self.table {
            let place = Place { file: self.file, offset: key.span().start };
            faults.at(
                place,
                format!("`{key}` means nothing here. This file may hold {may_hold}.", key = key.get_ref()),
            );
        }
    }

    fn read<T: DeserializeOwned>(
        &self,
        value: Spanned<DeValue<'f>>,
        what: &str,
        faults: &mut Faults,
    ) -> Option<Entry<'f, T>> {
        let place = Place { file: self.file, offset: value.span().start };
        match T::deserialize(ValueDeserializer::from(value)) {
            Ok(value) => Some(Entry { value, place }),
            Err(error) => {
                let offset = error.span().map_or(place.offset, |span| span.start);
                faults.at(Place { offset, ..place }, in_plain_words(&error, what));
                None
            }
        }
    }
}

/// Turns the reader's message into what to do about it.
fn in_plain_words(error: &Error, what: &str) -> String {
    let message = error.message();
    if let Some(field) = message.strip_prefix("missing field ") {
        return format!("this {what} has no {field}: add it.");
    }
    if let Some(rest) = message.strip_prefix("unknown field ") {
        let (field, known) = rest.split_once(", ").unwrap_or((rest, ""));
        let known = known.strip_prefix("expected one of ").or_else(|| known.strip_prefix("expected "));
        return match known {
            Some(known) => format!("{field} means nothing in a {what}. It may have {known}."),
            None => format!("{field} means nothing in a {what}."),
        };
    }
    format!("this part of the {what} cannot be used: {message}.")
}
