//! Drawings: what stands on them is the plan's, nothing lies over anything, and files read back.
#![cfg(feature = "pdf")]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::as_conversions,
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_possible_wrap,
    reason = "a fault fails the test"
)]

#[path = "../support/common.rs"]
mod common;
mod figures;
mod files;
mod marks;
mod reading;
mod roofs;
mod scene;
mod screen;
mod section;
mod words;

use lapwise::drawing::picture::Picture;
use lapwise::drawing::{of_plan, whole_roof};
use words::English;

/// Every drawing of every roof.
fn all(english: &English) -> Vec<(String, Picture)> {
    let mut all = Vec::new();
    for (roof, plan) in roofs::all(&english.0.handbook) {
        assert_eq!(whole_roof(&plan.site, english).title, "Your roof, as I understand it");
        let pictures = of_plan(&plan, english);
        all.extend(pictures.into_iter().map(|picture| (format!("{roof}: {}", picture.name), picture)));
    }
    all
}
