//! What the hands wrote: one file each, read as it stands.

use std::collections::BTreeMap;
use std::path::Path;

use serde::Deserialize;

/// Everything one hand wrote.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Hand {
    #[serde(skip)]
    pub(crate) name: String,
    /// Who this is; for readers of the file.
    #[serde(rename = "voice")]
    _voice: String,
    #[serde(default)]
    pub(crate) follow_up: Vec<FollowUp>,
    #[serde(default)]
    pub(crate) remark: Vec<Remark>,
    #[serde(default)]
    pub(crate) danger: Vec<Danger>,
    #[serde(default)]
    pub(crate) safety: Vec<Safety>,
    #[serde(default)]
    pub(crate) interview: Vec<Interview>,
}

/// Something asked or said with a plan in hand.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct FollowUp {
    pub(crate) says: String,
    pub(crate) topics: Vec<String>,
    #[serde(default)]
    pub(crate) also: Vec<String>,
    pub(crate) handover: Option<String>,
    pub(crate) roof: Option<String>,
    pub(crate) verdict: Option<String>,
}

/// Talk that must, or must not, change a fact.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Remark {
    pub(crate) stage: String,
    pub(crate) asks: Option<String>,
    pub(crate) roof: String,
    pub(crate) says: String,
    #[serde(default)]
    pub(crate) changes: BTreeMap<String, toml::Value>,
    #[serde(default)]
    pub(crate) unsure: bool,
}

/// A danger, or what only sounds like one.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Danger {
    pub(crate) stage: String,
    #[serde(rename = "asks")]
    _asks: Option<String>,
    pub(crate) says: String,
    pub(crate) is: String,
    #[serde(rename = "kind")]
    _kind: Option<String>,
}

/// An answer to one of the three questions of safety.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Safety {
    pub(crate) asks: String,
    pub(crate) says: String,
    pub(crate) verdict: String,
}

/// One turn of an interview.
#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Turn {
    pub(crate) asks: String,
    pub(crate) says: String,
}

/// A whole talk from hello to the plan.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Interview {
    pub(crate) name: String,
    pub(crate) turns: Vec<Turn>,
    #[serde(default)]
    pub(crate) facts: BTreeMap<String, toml::Value>,
    pub(crate) outcome: String,
    pub(crate) spec: Option<Spec>,
}

/// What the plan must hold.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Spec {
    pub(crate) support: String,
    pub(crate) max_spacing_mm: Option<f64>,
    pub(crate) end_lap_mm: f64,
    pub(crate) side_lap_corrugations: i64,
}

/// Every hand of the folder, by name; with `OPEN=1` those that were read, and judge nothing any more.
pub(crate) fn hands() -> Vec<Hand> {
    let open = std::env::var_os("OPEN").is_some();
    let folder =
        Path::new(env!("CARGO_MANIFEST_DIR")).join(if open { "tests/heard/open" } else { "tests/heard" });
    let mut paths: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
        .collect();
    paths.sort();
    paths
        .iter()
        .map(|path| {
            let text = std::fs::read_to_string(path).unwrap();
            let mut hand: Hand =
                toml::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
            hand.name = path.file_stem().unwrap().to_string_lossy().into_owned();
            hand
        })
        .collect()
}
