//! A look at sled's files before sled sees them: whether it may open them where they are.
//!
//! At opening sled reads its log up to the first record it cannot read, and zeroes what comes after. After a kill
//! that is what was never acknowledged; after damage it may be a great deal. So the log is read here as sled 0.34
//! reads it, changing nothing: where it reaches what was acknowledged, sled may have the files as they are, and no
//! copy of them is needed first.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{self, Read, Seek, SeekFrom};
use std::path::Path;

/// The size of sled's segments, and of what stands in front of each.
const SEGMENT: u64 = 512 << 10;
const SEGMENT_HEADER: usize = 20;
/// No record begins in the last bytes of a segment.
const RED_ZONE: usize = 32;

/// What sled would do with the files.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Verdict {
    /// It reads all that was acknowledged, and destroys nothing.
    Whole,
    /// It reads on, but something is not as it should be: better to have a copy.
    Doubtful,
    /// It would destroy what may still be of use.
    Broken,
}

/// Judges the files of a generation whose log must reach `reached` (0: not known).
pub(super) fn judge(generation: &Path, reached: u64) -> io::Result<Verdict> {
    let (begun, half_written) = match newest_snapshot(generation)? {
        Snapshot::Broken => return Ok(Verdict::Broken),
        Snapshot::HalfWritten => (0, true),
        Snapshot::Whole(at) => (at, false),
        Snapshot::None => (0, false),
    };
    let mut log = File::open(generation.join("db"))?;
    let read = Segments::read(&mut log, begun)?;
    let doubtful = half_written || read.unreadable || reached == 0;
    Ok(match read.end {
        None => Verdict::Broken,
        Some(end) if end < reached => Verdict::Broken,
        Some(_) if doubtful => Verdict::Doubtful,
        Some(_) => Verdict::Whole,
    })
}

enum Snapshot {
    None,
    /// It holds the log up to here.
    Whole(u64),
    Broken,
    HalfWritten,
}

/// The snapshot that sled would begin with. Behind its bytes stand their length and their checksum.
fn newest_snapshot(generation: &Path) -> io::Result<Snapshot> {
    let mut names = Vec::new();
    for entry in fs::read_dir(generation)? {
        let name = entry?.file_name().to_string_lossy().into_owned();
        if name.starts_with("snap.") {
            names.push(name);
        }
    }
    if names.iter().any(|name| name.ends_with(".generating")) {
        return Ok(Snapshot::HalfWritten);
    }
    let Some(newest) = names.into_iter().max() else { return Ok(Snapshot::None) };
    let bytes = fs::read(generation.join(&newest))?;
    let at = newest.strip_prefix("snap.").and_then(|at| u64::from_str_radix(at, 16).ok());
    let parts =
        bytes.len().checked_sub(12).and_then(|end| Some((bytes.get(..end)?, bytes.last_chunk::<4>()?)));
    let is_whole = parts.is_some_and(|(body, sum)| crc32fast::hash(body) == u32::from_le_bytes(*sum));
    Ok(at.filter(|_| is_whole).map_or(Snapshot::Broken, Snapshot::Whole))
}

/// What the log holds.
struct Segments {
    /// The last byte of the log that sled would read, as it counts them; `None` where it would read none.
    end: Option<u64>,
    /// Whether a record of an older segment, or a header, is not readable.
    unreadable: bool,
}

/// How the records of one segment end.
enum Ending {
    /// At this place in the segment nothing more can be read; nothing stands there, or something does.
    Open { at: usize, empty: bool },
    /// The segment is full.
    Full,
}

impl Segments {
    /// `begun`: up to where a snapshot holds the log.
    fn read(log: &mut File, begun: u64) -> io::Result<Self> {
        let length = log.metadata()?.len();
        let mut headers = BTreeMap::new();
        let (mut stable, mut unreadable) = (begun, false);
        for offset in (0..length).step_by(usize::try_from(SEGMENT).unwrap_or(usize::MAX)) {
            let bytes = read_at(log, offset, SEGMENT_HEADER)?;
            match header(&bytes) {
                Some((lsn, max_stable)) => {
                    if lsn >= begun / SEGMENT * SEGMENT {
                        stable = stable.max(max_stable);
                    }
                    unreadable |= headers.insert(lsn, offset).is_some();
                }
                None => unreadable |= bytes.iter().any(|byte| *byte != 0),
            }
        }
        // Behind this segment sled demands each one after the other, and stops at the first that is not there.
        let tail = stable / SEGMENT * SEGMENT;
        let mut end = None;
        let mut next = tail;
        for (lsn, offset) in &headers {
            let ending = ending(&read_at(log, *offset, usize::try_from(SEGMENT).unwrap_or_default())?, *lsn);
            if *lsn < tail {
                unreadable |= matches!(ending, Ending::Open { empty: false, .. });
                continue;
            }
            if *lsn != next {
                break;
            }
            match ending {
                Ending::Full => {
                    next = lsn.saturating_add(SEGMENT);
                    end = Some(next - 1);
                }
                Ending::Open { at, .. } => {
                    end = Some(lsn.saturating_add(u64::try_from(at).unwrap_or_default()).saturating_sub(1));
                    break;
                }
            }
        }
        Ok(Self { end, unreadable })
    }
}

/// At most so many bytes from a place on; fewer at the end of the file.
fn read_at(file: &mut File, offset: u64, bytes: usize) -> io::Result<Vec<u8>> {
    file.seek(SeekFrom::Start(offset))?;
    let mut read = Vec::with_capacity(bytes);
    file.take(u64::try_from(bytes).unwrap_or_default()).read_to_end(&mut read)?;
    Ok(read)
}

/// Where a segment stands in the log, and up to where the log was stable when it was begun.
fn header(bytes: &[u8]) -> Option<(u64, u64)> {
    let (sum, rest) = bytes.split_first_chunk::<4>()?;
    let (lsn, rest) = rest.split_first_chunk::<8>()?;
    let stable = rest.first_chunk::<8>()?;
    if u32::from_le_bytes(*sum) ^ u32::MAX != crc32fast::hash(bytes.get(4..SEGMENT_HEADER)?) {
        return None;
    }
    let number = |bytes: &[u8; 8]| i64::from_le_bytes(*bytes) ^ i64::MAX;
    // Before the first byte is stable, sled writes -1.
    Some((u64::try_from(number(lsn)).ok()?, u64::try_from(number(stable)).unwrap_or_default()))
}

/// Follows the records of a segment.
fn ending(segment: &[u8], lsn: u64) -> Ending {
    let mut at = SEGMENT_HEADER;
    loop {
        if at + RED_ZONE > usize::try_from(SEGMENT).unwrap_or_default() {
            return Ending::Full;
        }
        let rest = segment.get(at..).unwrap_or_default();
        match record(rest, lsn / SEGMENT) {
            Some((CAP, _)) => return Ending::Full,
            Some((_, length)) => at = at.saturating_add(length),
            None => return Ending::Open { at, empty: rest.iter().all(|byte| *byte == 0) },
        }
    }
}

/// The kind of a record that fills up a segment.
const CAP: u8 = 2;
/// The highest kind there is; 0 is none.
const LAST_KIND: u8 = 11;

/// The record at the front of some bytes: its kind and its whole length, where it is readable.
fn record(bytes: &[u8], segment: u64) -> Option<(u8, usize)> {
    let (sum, rest) = bytes.split_first_chunk::<4>()?;
    let (kind, rest) = rest.split_first()?;
    let (length, rest) = varint(rest)?;
    let (number, rest) = varint(rest)?;
    let (_, rest) = varint(rest)?;
    let head = bytes.len() - rest.len();
    let length = usize::try_from(length).ok()?;
    let body = rest.get(..length)?;
    let mut hasher = crc32fast::Hasher::new();
    hasher.update(body);
    hasher.update(bytes.get(4..head)?);
    let fits = (1..=LAST_KIND).contains(kind)
        && hasher.finalize() ^ u32::MAX == u32::from_le_bytes(*sum)
        && number == segment;
    fits.then_some((*kind, head.checked_add(length)?))
}

/// A number as sled writes them, small ones short.
fn varint(bytes: &[u8]) -> Option<(u64, &[u8])> {
    let (first, rest) = bytes.split_first()?;
    match first {
        0..=240 => Some((u64::from(*first), rest)),
        241..=248 => {
            let (second, rest) = rest.split_first()?;
            Some((240 + 256 * (u64::from(*first) - 241) + u64::from(*second), rest))
        }
        249 => {
            let ([high, low], rest) = rest.split_first_chunk::<2>()?;
            Some((2_288 + 256 * u64::from(*high) + u64::from(*low), rest))
        }
        250.. => {
            let length = usize::from(*first) - 247;
            let mut number = [0; 8];
            number.get_mut(..length)?.copy_from_slice(rest.get(..length)?);
            Some((u64::from_le_bytes(number), rest.get(length..)?))
        }
    }
}
