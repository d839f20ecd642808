//! What never happens, held by a test: who may import whom, how long a file may grow, and that the map in
//! DEVELOPERS.md is true.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a test may stop loudly, and says what it counted"
)]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// The longest a source file may be, in lines.
const LONGEST_FILE: usize = 500;
/// The most entries a source folder may hold.
const FULLEST_FOLDER: usize = 12;

/// Which of our own modules each module may import (beside itself), and which crates. What is not listed is
/// forbidden.
const ALLOWED: &[(&str, &[&str], &[&str])] = &[
    ("units", &[], &["std", "libm", "rust_decimal"]),
    ("roofing", &["units"], &["std"]),
    ("message", &[], &["std"]),
    (
        "conversation",
        &["roofing", "units", "message"],
        &["std", "regex", "fluent_bundle", "fluent_syntax", "unic_langid", "tracing", "strsim"],
    ),
    (
        "book",
        &["roofing", "units", "conversation"],
        &[
            "std",
            "serde",
            "toml",
            "regex",
            "sha2",
            "data_encoding",
            "fluent_bundle",
            "fluent_syntax",
            "rust_decimal",
            "unic_langid",
            "tracing",
            "thiserror",
        ],
    ),
    ("drawing", &["roofing", "units"], &["std", "libm"]),
    (
        "render",
        &["drawing", "units"],
        &[
            "std",
            "libm",
            "resvg",
            "dejavu",
            "png",
            "krilla",
            "krilla_svg",
            "skrifa",
            "thiserror",
            "tracing",
            "serde_json",
        ],
    ),
    (
        "export",
        &["roofing", "units", "conversation", "message", "drawing"],
        &["std", "serde", "serde_json", "schemars", "toml", "sha2", "data_encoding", "libm", "thiserror"],
    ),
    // The contract and the engines know bytes; `record.rs` alone knows what an event is.
    (
        "store",
        &["message", "conversation", "roofing", "units"],
        &[
            "std",
            "serde",
            "serde_json",
            "sled",
            "crc32fast",
            "rustix",
            "tokio",
            "tracing",
            "thiserror",
            "chacha20poly1305",
            "hmac",
            "sha2",
            "rand",
            "data_encoding",
            "subtle",
            "zeroize",
        ],
    ),
    (
        "channel",
        &["message"],
        &[
            "std",
            "serde",
            "serde_json",
            "tokio",
            "tracing",
            "thiserror",
            "teloxide",
            "axum",
            "minijinja",
            "regex",
            "data_encoding",
            "subtle",
            "hmac",
            "sha2",
            "governor",
            "futures_util",
            "hyper",
            "hyper_util",
            "tower",
        ],
    ),
    (
        "app",
        &[
            "book",
            "channel",
            "conversation",
            "drawing",
            "export",
            "message",
            "render",
            "roofing",
            "store",
            "units",
            "serve",
        ],
        &[
            "std",
            "serde_json",
            "tracing",
            "thiserror",
            "tokio",
            "chrono",
            "data_encoding",
            "lru",
            "sha2",
            "qrcode",
        ],
    ),
    (
        "serve",
        &["app", "book", "channel", "message", "store", "conversation", "units", "roofing"],
        &[
            "std",
            "serde",
            "serde_json",
            "tokio",
            "tracing",
            "thiserror",
            "teloxide",
            "axum",
            "governor",
            "lru",
            "backon",
            "metrics",
            "metrics_exporter_prometheus",
            "rand",
            "tokio_util",
            "hmac",
            "sha2",
            "subtle",
            "data_encoding",
        ],
    ),
];

fn sources(dir: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(dir).expect("src is readable") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
}

fn all_sources() -> Vec<(PathBuf, String)> {
    let mut paths = Vec::new();
    sources(Path::new("src"), &mut paths);
    paths.sort();
    assert!(paths.len() > 30, "the walk found the sources");
    paths.into_iter().map(|path| (path.clone(), fs::read_to_string(path).expect("a source"))).collect()
}

/// The module a file belongs to: the first part of its path below `src`.
fn module(path: &Path) -> String {
    let below = path.strip_prefix("src").expect("below src");
    let first = below.components().next().expect("a part").as_os_str().to_string_lossy();
    first.trim_end_matches(".rs").to_owned()
}

/// The first segment of every path a file imports or names after `crate::`.
fn imports(text: &str) -> Vec<(bool, String)> {
    let word =
        |rest: &str| -> String { rest.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect() };
    let mut found = Vec::new();
    // Code only: doc comments may point anywhere, and tests inside a file may use what they like.
    let code: Vec<&str> = text
        .lines()
        .take_while(|line| !line.starts_with("#[cfg(test)]"))
        .filter(|line| !line.trim_start().starts_with("//"))
        .collect();
    for line in &code {
        for (index, _) in line.match_indices("crate::") {
            let ours = word(&line[index + 7..]);
            // `crate::{a, b}` would slip through, so it is not allowed at all.
            assert!(!ours.is_empty(), "write one `use crate::…` a module: {line}");
            found.push((true, ours));
        }
        let trimmed = line.trim_start();
        if let Some(rest) = trimmed.strip_prefix("use ").or_else(|| trimmed.strip_prefix("pub use ")) {
            let first = word(rest.trim_start_matches("::"));
            if !["crate", "super", "self"].contains(&first.as_str()) {
                found.push((false, first));
            }
        }
    }
    found
}

#[test]
fn nobody_imports_what_they_must_not() {
    let table: BTreeMap<&str, (&[&str], &[&str])> =
        ALLOWED.iter().map(|(name, ours, crates)| (*name, (*ours, *crates))).collect();
    let files = all_sources();
    // Items a module declares itself or imports by name start a path too: only known crates are judged.
    let manifest = fs::read_to_string("Cargo.toml").expect("the manifest");
    let crates: Vec<String> = manifest
        .lines()
        .filter_map(|line| line.split_once(" = ").map(|(name, _)| name.trim().replace('-', "_")))
        .chain(["std".to_owned(), "core".to_owned()])
        .collect();
    let mut broken = Vec::new();
    for (path, text) in &files {
        let module = module(path);
        if ["lib", "main", "cli"].contains(&module.as_str()) {
            continue;
        }
        let Some((ours, theirs)) = table.get(module.as_str()) else {
            broken.push(format!("{}: no row in the table for `{module}`", path.display()));
            continue;
        };
        for (is_ours, name) in imports(text) {
            let allowed = if is_ours {
                name == module || ours.contains(&name.as_str())
            } else {
                !crates.contains(&name) || theirs.contains(&name.as_str())
            };
            if !allowed {
                broken.push(format!("{}: imports `{name}`", path.display()));
            }
        }
    }
    assert!(broken.is_empty(), "{}", broken.join("\n"));
}

#[test]
fn only_record_knows_the_conversation_in_the_store() {
    for (path, text) in all_sources() {
        if path.starts_with("src/store") && !path.ends_with("record.rs") {
            for name in ["conversation", "roofing", "units"] {
                let imported = imports(&text).iter().any(|(ours, imported)| *ours && imported == name);
                assert!(!imported, "{} imports {name}", path.display());
            }
        }
    }
}

#[test]
fn files_and_folders_stay_readable() {
    let files = all_sources();
    let mut folders: BTreeMap<PathBuf, usize> = BTreeMap::new();
    for (path, text) in &files {
        let lines = text.lines().count();
        assert!(lines <= LONGEST_FILE, "{} has {lines} lines: split it by trade concept", path.display());
        assert!(text.starts_with("//!"), "{} opens without saying what it is for", path.display());
        *folders.entry(path.parent().expect("a folder").to_owned()).or_default() += 1;
    }
    for (folder, count) in folders {
        assert!(
            folder == Path::new("src") || count <= FULLEST_FOLDER,
            "{} holds {count} files: split it",
            folder.display()
        );
    }
}

#[test]
fn the_map_is_true() {
    let map = fs::read_to_string("DEVELOPERS.md").expect("DEVELOPERS.md");
    for entry in fs::read_dir("src").expect("src") {
        let name = entry.expect("an entry").file_name().to_string_lossy().into_owned();
        assert!(map.contains(&name), "DEVELOPERS.md does not mention src/{name}");
    }
    // Every path named in the map exists.
    for part in map.split('`').skip(1).step_by(2) {
        let is_path = ["src/", "tests/", "dialogs/", "deploy/"].iter().any(|root| part.starts_with(root));
        if is_path && !part.contains(['*', '<', ' ', '…']) {
            assert!(Path::new(part).exists(), "DEVELOPERS.md names {part}, which is not there");
        }
    }
}

#[test]
fn the_readmes_chat_was_had() {
    let readme = fs::read_to_string("README.md").expect("README.md");
    let chat = fs::read_to_string("tests/chats/shed_with_thin_boards.md").expect("the chat");
    let mut rest = chat.as_str();
    let quoted = readme.lines().filter(|line| line.starts_with("you>") || line.starts_with("bot>"));
    for line in quoted {
        let at =
            rest.find(line).unwrap_or_else(|| panic!("README.md quotes {line:?}, which nobody said there"));
        rest = &rest[at + line.len()..];
    }
    assert!(rest.len() < chat.len(), "README.md quotes no chat");
}
