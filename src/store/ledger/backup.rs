//! Backups: every pair of the map as a JSON line, between a line that says what it is and one that proves it whole.
//!
//! What is sealed stays sealed: a backup is as private as the store, and needs the same key.

use std::io::{BufRead, Write};

use data_encoding::{BASE64, HEXLOWER};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use super::place::kind;
use super::value::LAYOUT;
use super::{AT_A_TIME, Pair, Shelf};
use crate::store::{BackedUp, StoreError};

/// The version of the lines.
const VERSION: u32 = 1;

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct First {
    lapwise_backup: u32,
    layout: u32,
}

#[derive(Serialize, Deserialize)]
#[serde(untagged, deny_unknown_fields)]
enum Line {
    Pair { k: String, v: String },
    Last { records: u64, sha256: String },
}

struct Summing<W> {
    to: W,
    sum: Sha256,
}

impl<W: Write> Summing<W> {
    fn line(&mut self, line: &impl Serialize) -> Result<(), StoreError> {
        let mut text = serde_json::to_vec(line).map_err(|error| StoreError::Io(error.to_string()))?;
        text.push(b'\n');
        self.sum.update(&text);
        self.to.write_all(&text).map_err(|error| unwritten(&error))
    }
}

fn unwritten(error: &std::io::Error) -> StoreError {
    StoreError::Io(format!("the backup: {error}"))
}

/// Writes every pair of a map that stands still meanwhile.
pub(in crate::store) fn export(shelf: &dyn Shelf, to: impl Write) -> Result<BackedUp, StoreError> {
    let mut out = Summing { to, sum: Sha256::new() };
    out.line(&First { lapwise_backup: VERSION, layout: LAYOUT })?;
    let mut done = BackedUp::default();
    shelf.each(&[], &mut |key, value| {
        done.chats += u64::from(key.first() == Some(&kind::CHAT));
        done.records += 1;
        out.line(&Line::Pair { k: BASE64.encode(key), v: BASE64.encode(value) })
    })?;
    let sha256 = HEXLOWER.encode(&out.sum.clone().finalize());
    out.line(&Line::Last { records: done.records, sha256 })?;
    out.to.flush().map_err(|error| unwritten(&error))?;
    Ok(done)
}

/// Reads a backup and hands its pairs on, some at a time.
///
/// Nothing that was handed on may count before this returns: only then is the backup known to be whole.
pub(in crate::store) fn import(
    mut from: impl BufRead,
    mut each: impl FnMut(Vec<Pair>) -> Result<(), StoreError>,
) -> Result<BackedUp, StoreError> {
    let mut sum = Sha256::new();
    let mut done = BackedUp::default();
    let mut pairs = Vec::new();
    let first = next_line(&mut from)?;
    match serde_json::from_slice::<First>(&first) {
        Ok(First { lapwise_backup: VERSION, layout: LAYOUT }) => sum.update(&first),
        Ok(_) => return Err(StoreError::Foreign("the backup is of another version of lapwise".to_owned())),
        Err(_) => return Err(StoreError::Foreign("it is not a lapwise backup".to_owned())),
    }
    loop {
        let text = next_line(&mut from)?;
        let line = serde_json::from_slice(&text).map_err(|_| broken("line", done.records))?;
        match line {
            Line::Pair { k, v } => {
                let decode = |text: String| BASE64.decode(text.as_bytes()).ok();
                let (Some(key), Some(value)) = (decode(k), decode(v)) else {
                    return Err(broken("record", done.records));
                };
                sum.update(&text);
                done.records += 1;
                done.chats += u64::from(key.first() == Some(&kind::CHAT));
                pairs.push((key, value));
                if pairs.len() == AT_A_TIME {
                    each(std::mem::take(&mut pairs))?;
                }
            }
            Line::Last { records, sha256 } => {
                if records != done.records || sha256 != HEXLOWER.encode(&sum.finalize()) {
                    return Err(StoreError::Damaged("the checksum of the backup is wrong".to_owned()));
                }
                if !from.fill_buf().map_err(|error| unwritten(&error))?.is_empty() {
                    return Err(StoreError::Damaged(
                        "something stands behind the end of the backup".to_owned(),
                    ));
                }
                each(pairs)?;
                return Ok(done);
            }
        }
    }
}

fn broken(what: &str, after: u64) -> StoreError {
    StoreError::Damaged(format!("a {what} of the backup is not readable (after {after} records)"))
}

fn next_line(from: &mut impl BufRead) -> Result<Vec<u8>, StoreError> {
    let mut line = Vec::new();
    from.read_until(b'\n', &mut line).map_err(|error| unwritten(&error))?;
    if line.last() == Some(&b'\n') {
        Ok(line)
    } else {
        Err(StoreError::Damaged("the backup ends too early".to_owned()))
    }
}
