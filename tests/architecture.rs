//! What never happens, held by a test: who may name whom, in which order folders read, how long a file may grow, and
//! that the map in DEVELOPERS.md is true.
//!
//! Every path of the code counts, wherever it stands: in an import, in the middle of a line, in a macro. Only what is
//! compiled for tests alone does not.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a test may stop loudly, and says what it counted"
)]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use proc_macro2::{Delimiter, TokenStream, TokenTree};

/// The longest a source file may be, in lines.
const LONGEST_FILE: usize = 500;
/// The most entries a source folder may hold.
const FULLEST_FOLDER: usize = 12;

/// The rooms that see no clock, no files, no chance: the same in is the same out.
const PURE: &[&str] = &["units", "roofing", "message", "conversation", "drawing"];
/// What they therefore never name.
const IMPURE: &[&str] = &["fs", "net", "time", "env", "thread", "process"];

/// `src/roofing` reads in one direction: each may name those before it, and nobody those behind.
const ROOFING: &[&str] = &[
    "note",
    "messages",
    "catalogue",
    "facts",
    "rules",
    "handbook",
    "findings",
    "roof",
    "requirements",
    "layout",
    "fixings",
    "laid",
    "checks",
    "materials",
    "plan",
    "work",
];

/// Which of our own modules each module may name (beside itself), and which crates. What is not listed is
/// forbidden.
const ALLOWED: &[(&str, &[&str], &[&str])] = &[
    ("units", &[], &["std", "libm", "rust_decimal"]),
    ("roofing", &["units"], &["std", "libm"]),
    ("message", &[], &["std"]),
    (
        "conversation",
        &["roofing", "units", "message"],
        &["std", "libm", "regex", "fluent_bundle", "fluent_syntax", "unic_langid", "tracing", "strsim"],
    ),
    (
        "book",
        &["roofing", "units", "conversation"],
        &[
            "std",
            "strsim",
            "serde",
            "toml",
            "sha2",
            "data_encoding",
            "fluent_bundle",
            "fluent_syntax",
            "rust_decimal",
        ],
    ),
    ("drawing", &["roofing", "units"], &["std", "libm"]),
    (
        "render",
        &["drawing"],
        &["std", "libm", "resvg", "dejavu", "png", "krilla", "krilla_svg", "skrifa", "thiserror"],
    ),
    (
        "export",
        &["roofing", "units", "conversation", "drawing"],
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
            "metrics",
        ],
    ),
    (
        "serve",
        &["channel", "message", "store"],
        &[
            "std",
            "serde",
            "reqwest",
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

/// Where a file stands in the tree of modules: `src/roofing/plan/slope.rs` is `roofing`, `plan`, `slope`.
fn place(path: &Path) -> Vec<String> {
    let below = path.strip_prefix("src").expect("below src").with_extension("");
    let mut parts: Vec<String> =
        below.components().map(|part| part.as_os_str().to_string_lossy().into_owned()).collect();
    if parts.last().is_some_and(|last| last == "mod") {
        parts.pop();
    }
    parts
}

/// Every path that a file names, each written out from its first segment: of ours from the crate's root, others from
/// their crate.
struct Named {
    ours: BTreeSet<Vec<String>>,
    others: BTreeSet<Vec<String>>,
}

struct Reader<'a> {
    here: Vec<String>,
    modules: &'a BTreeSet<Vec<String>>,
    crates: &'a BTreeSet<String>,
    named: Named,
}

impl Reader<'_> {
    fn read(&mut self, stream: TokenStream) {
        let tokens: Vec<TokenTree> = stream.into_iter().collect();
        let mut at = 0;
        while at < tokens.len() {
            if let Some(after) = test_item(&tokens, at) {
                at = after;
                continue;
            }
            match &tokens[at] {
                TokenTree::Ident(ident) if ident == "use" => {
                    at = self.tree(&tokens, at + 1, &[]);
                }
                TokenTree::Ident(_) => {
                    let (path, after) = path_at(&tokens, at);
                    self.keep(&path);
                    at = after;
                }
                TokenTree::Group(group) => {
                    self.read(group.stream());
                    at += 1;
                }
                TokenTree::Punct(_) | TokenTree::Literal(_) => at += 1,
            }
        }
    }

    /// One branch of an import, with all that stands in its braces.
    fn tree(&mut self, tokens: &[TokenTree], at: usize, before: &[String]) -> usize {
        let mut path = before.to_vec();
        let mut at = at;
        while at < tokens.len() {
            match &tokens[at] {
                TokenTree::Ident(ident) if ident == "as" => at += 1,
                TokenTree::Ident(ident) => path.push(ident.to_string()),
                TokenTree::Group(group) if group.delimiter() == Delimiter::Brace => {
                    let inner: Vec<TokenTree> = group.stream().into_iter().collect();
                    let mut within = 0;
                    while within < inner.len() {
                        within = self.tree(&inner, within, &path);
                    }
                    return after_branch(tokens, at + 1);
                }
                TokenTree::Punct(punct) if [',', ';'].contains(&punct.as_char()) => break,
                TokenTree::Group(_) | TokenTree::Punct(_) | TokenTree::Literal(_) => {}
            }
            at += 1;
        }
        self.keep(&path);
        at + 1
    }

    fn keep(&mut self, path: &[String]) {
        let Some(first) = path.first() else { return };
        let mut rest = &path[1..];
        match first.as_str() {
            // `pub(crate)` is no path.
            "crate" if rest.is_empty() => {}
            "crate" => drop(self.named.ours.insert(rest.to_vec())),
            "self" | "super" => {
                let mut base = self.here.clone();
                if first == "super" {
                    base.pop();
                }
                while rest.first().is_some_and(|next| next == "super") {
                    base.pop();
                    rest = &rest[1..];
                }
                self.named.ours.insert([base.as_slice(), rest].concat());
            }
            other if path.len() > 1 => {
                let child: Vec<String> = self.here.iter().cloned().chain([other.to_owned()]).collect();
                if self.modules.contains(&child) {
                    self.named.ours.insert([self.here.as_slice(), path].concat());
                } else if self.crates.contains(other) {
                    self.named.others.insert(path.to_vec());
                }
            }
            _ => {}
        }
    }
}

/// Past an item that is compiled for tests alone.
fn test_item(tokens: &[TokenTree], at: usize) -> Option<usize> {
    let [TokenTree::Punct(hash), TokenTree::Group(attribute), ..] = &tokens[at..] else { return None };
    let written = attribute.stream().to_string().replace(' ', "");
    if hash.as_char() != '#' || !written.starts_with("cfg(test)") {
        return None;
    }
    let ends = |token: &TokenTree| match token {
        TokenTree::Group(group) => group.delimiter() == Delimiter::Brace,
        TokenTree::Punct(punct) => punct.as_char() == ';',
        TokenTree::Ident(_) | TokenTree::Literal(_) => false,
    };
    let end = tokens[at + 2..].iter().position(ends)?;
    Some(at + 2 + end + 1)
}

/// Past the comma or semicolon that ends a branch of an import.
fn after_branch(tokens: &[TokenTree], at: usize) -> usize {
    match tokens.get(at) {
        Some(TokenTree::Punct(punct)) if [',', ';'].contains(&punct.as_char()) => at + 1,
        Some(_) | None => at,
    }
}

/// The segments of a path that starts here, and what comes after it.
fn path_at(tokens: &[TokenTree], at: usize) -> (Vec<String>, usize) {
    let mut path = Vec::new();
    let mut at = at;
    loop {
        match tokens.get(at) {
            Some(TokenTree::Ident(ident)) => path.push(ident.to_string()),
            Some(_) | None => return (path, at),
        }
        at += 1;
        let colon =
            |at: usize| matches!(tokens.get(at), Some(TokenTree::Punct(punct)) if punct.as_char() == ':');
        if !(colon(at) && colon(at + 1)) {
            return (path, at);
        }
        at += 2;
    }
}

/// Every crate the manifest names, and those that come with the language.
fn crates() -> BTreeSet<String> {
    let manifest = fs::read_to_string("Cargo.toml").expect("the manifest");
    let named = manifest
        .lines()
        .filter_map(|line| line.split_once(" = ").map(|(name, _)| name.trim().replace('-', "_")));
    named.chain(["std".to_owned(), "core".to_owned(), "alloc".to_owned()]).collect()
}

fn named() -> Vec<(PathBuf, Vec<String>, Named)> {
    let files = all_sources();
    let crates = crates();
    let mut modules: BTreeSet<Vec<String>> = BTreeSet::new();
    for (path, _) in &files {
        let place = place(path);
        modules.extend((1..=place.len()).map(|long| place[..long].to_vec()));
    }
    let read = files.iter().map(|(path, text)| {
        let stream: TokenStream = text.parse().unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        let here = place(path);
        let named = Named { ours: BTreeSet::new(), others: BTreeSet::new() };
        let mut reader = Reader { here: here.clone(), modules: &modules, crates: &crates, named };
        reader.read(stream);
        (path.clone(), here, reader.named)
    });
    read.collect()
}

#[test]
fn the_reader_of_paths_sees_every_form() {
    let text = r#"
        use std::fs::{self, File as Handle};
        pub(crate) use super::super::app::{rooms::{A, B}, C};
        macro_rules! m { () => { $crate::store::put() } }
        fn f() { let _ = serde_json::json!({ "a": crate::book::x() }); super::near::y(); cutting::z() }
        #[cfg(test)] mod tests { use crate::cli; }
        #[cfg(test)] use tokio::time;
        // crate::serve
        /// [`crate::render`]
        const S: &str = "crate::render::svg";
    "#;
    let path = |written: &str| written.split("::").map(str::to_owned).collect::<Vec<_>>();
    let here = path("roofing::layout");
    let modules: BTreeSet<_> = [path("roofing::layout::cutting")].into_iter().collect();
    let crates: BTreeSet<_> = ["std", "serde_json", "tokio"].map(str::to_owned).into_iter().collect();
    let named = Named { ours: BTreeSet::new(), others: BTreeSet::new() };
    let mut reader = Reader { here, modules: &modules, crates: &crates, named };
    reader.read(text.parse().expect("tokens"));
    let ours = [
        "app::C",
        "app::rooms::A",
        "app::rooms::B",
        "book::x",
        "roofing::layout::cutting::z",
        "roofing::near::y",
        "store::put",
    ];
    assert_eq!(reader.named.ours, ours.map(path).into_iter().collect());
    let others = ["serde_json::json", "std::fs::File", "std::fs::self"];
    assert_eq!(reader.named.others, others.map(path).into_iter().collect());
}

#[test]
fn nobody_names_what_they_must_not_and_every_permission_is_used() {
    let table: BTreeMap<&str, (&[&str], &[&str])> =
        ALLOWED.iter().map(|(name, ours, crates)| (*name, (*ours, *crates))).collect();
    let mut broken = Vec::new();
    let mut used: BTreeSet<(String, bool, String)> = BTreeSet::new();
    for (path, here, named) in named() {
        let module = &here.first().map_or("lib", String::as_str).to_owned();
        if ["lib", "main", "cli"].contains(&module.as_str()) {
            continue;
        }
        let Some((ours, theirs)) = table.get(module.as_str()) else {
            broken.push(format!("{}: no row in the table for `{module}`", path.display()));
            continue;
        };
        let first = |path: &Vec<String>| path.first().cloned().unwrap_or_default();
        for name in named.ours.iter().map(first).filter(|name| name != module) {
            if !ours.contains(&name.as_str()) {
                broken.push(format!("{}: names `crate::{name}`", path.display()));
            }
            used.insert((module.clone(), true, name));
        }
        for name in named.others.iter().map(first) {
            if !theirs.contains(&name.as_str()) {
                broken.push(format!("{}: names `{name}`", path.display()));
            }
            used.insert((module.clone(), false, name));
        }
        if PURE.contains(&module.as_str()) {
            let impure = |path: &&Vec<String>| {
                path.first().is_some_and(|first| first == "std")
                    && path.get(1).is_some_and(|second| IMPURE.contains(&second.as_str()))
            };
            for name in named.others.iter().filter(impure) {
                broken.push(format!("{}: names `{}`", path.display(), name.join("::")));
            }
        }
    }
    for (module, ours, theirs) in ALLOWED {
        let all = ours.iter().map(|name| (true, *name)).chain(theirs.iter().map(|name| (false, *name)));
        for (is_ours, name) in all {
            if !used.contains(&((*module).to_owned(), is_ours, name.to_owned())) {
                broken.push(format!("`{module}` may name `{name}` and never does: take it out of the table"));
            }
        }
    }
    assert!(broken.is_empty(), "{}", broken.join("\n"));
}

/// Who names whom within one folder, by the part of the path that follows the folder's. What the folder's own file
/// hands on under a name of its own (`pub use chat::event`) counts as the part that it comes from.
fn within(folder: &[String], all: &[(PathBuf, Vec<String>, Named)]) -> BTreeMap<String, BTreeSet<String>> {
    let part = |path: &[String]| path.strip_prefix(folder).and_then(|rest| rest.first().cloned());
    let parts: BTreeSet<String> = all.iter().filter_map(|(_, here, _)| part(here)).collect();
    let own = all.iter().filter(|(_, here, _)| here.as_slice() == folder);
    let handed_on: BTreeMap<String, String> = own
        .flat_map(|(_, _, named)| &named.ours)
        .filter_map(|path| Some((path.last()?.clone(), part(path)?)))
        .filter(|(name, part)| !parts.contains(name) && parts.contains(part))
        .collect();
    let mut graph: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for (_, here, named) in all {
        let Some(from) = part(here) else { continue };
        let to = named.ours.iter().filter_map(|path| part(path));
        let to = to.filter_map(|to| if parts.contains(&to) { Some(to) } else { handed_on.get(&to).cloned() });
        let to = to.filter(|to| *to != from);
        graph.entry(from.clone()).or_default().extend(to);
    }
    graph
}

/// The parts that lie on a circle.
fn circle(graph: &BTreeMap<String, BTreeSet<String>>) -> BTreeSet<String> {
    let reaches = |from: &str| {
        let (mut seen, mut next) = (BTreeSet::new(), vec![from.to_owned()]);
        while let Some(one) = next.pop() {
            for to in graph.get(&one).into_iter().flatten() {
                if seen.insert(to.clone()) {
                    next.push(to.clone());
                }
            }
        }
        seen
    };
    graph.keys().filter(|part| reaches(part).contains(*part)).cloned().collect()
}

#[test]
fn folders_read_without_circles() {
    let all = named();
    let mut folders: BTreeSet<Vec<String>> = [Vec::new()].into_iter().collect();
    for (_, here, _) in &all {
        folders.extend((1..here.len()).map(|long| here[..long].to_vec()));
    }
    let mut tangled = BTreeMap::new();
    for folder in folders {
        let circle = circle(&within(&folder, &all));
        if !circle.is_empty() {
            tangled.insert(folder.join("/"), circle);
        }
    }
    assert!(tangled.is_empty(), "{tangled:#?}");
}

#[test]
fn roofing_reads_in_the_order_it_promises() {
    let graph = within(&["roofing".to_owned()], &named());
    let parts: BTreeSet<&str> = graph.keys().map(String::as_str).collect();
    assert_eq!(parts, ROOFING.iter().copied().collect(), "the order names every part of src/roofing");
    let rank = |part: &str| ROOFING.iter().position(|one| *one == part);
    for (from, to) in &graph {
        for to in to {
            assert!(rank(to) < rank(from), "roofing/{from} names roofing/{to}, which stands behind it");
        }
    }
    let words = fs::read_to_string("src/roofing/mod.rs").expect("src/roofing");
    let promised: Vec<&str> = words.lines().take_while(|line| line.starts_with("//!")).collect();
    let promised = promised.join("\n");
    let mut said: Vec<&str> =
        promised.split("[`").skip(1).filter_map(|rest| rest.split('`').next()).collect();
    said.retain(|part| ROOFING.contains(part));
    assert!(
        said.is_sorted_by_key(|part| rank(part)) && said.len() > 8,
        "src/roofing/mod.rs says another order: {said:?}"
    );
}

#[test]
fn only_record_knows_the_conversation_in_the_store() {
    for (path, here, named) in named() {
        if here.first().is_some_and(|room| room == "store") && here.get(1).is_none_or(|part| part != "record")
        {
            for name in ["conversation", "roofing", "units"] {
                let names = named.ours.iter().any(|path| path.first().is_some_and(|first| first == name));
                assert!(!names, "{} names {name}", path.display());
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

/// The rows of a table in DEVELOPERS.md: the paths in the first column.
fn rows(map: &str) -> Vec<Vec<String>> {
    let rows = map.lines().filter_map(|line| line.strip_prefix("| `")?.split(" | ").next());
    rows.map(|first| first.split('`').step_by(2).map(str::to_owned).filter(|path| !path.is_empty()).collect())
        .collect()
}

#[test]
fn the_map_is_true() {
    let map = fs::read_to_string("DEVELOPERS.md").expect("DEVELOPERS.md");
    let mapped: Vec<String> =
        rows(&map).into_iter().flatten().filter(|path| path.starts_with("src/")).collect();
    let mut there: Vec<String> = fs::read_dir("src")
        .expect("src")
        .map(|entry| format!("src/{}", entry.expect("an entry").file_name().to_string_lossy()))
        .collect();
    let mut listed = mapped;
    listed.sort();
    there.sort();
    assert_eq!(listed, there, "the map has one row for each part of src, and no other");
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
