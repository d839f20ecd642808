//! A share, as it is kept: the supplier sheet that was shown and agreed to, until when, and what was answered.

use serde::{Deserialize, Serialize};

use super::SupplierSheet;

/// What a link leads to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Share {
    /// When it was made, in seconds since 1970.
    pub made: u64,
    /// When the link stops working, in seconds since 1970.
    pub expires: u64,
    /// How often a supplier has answered.
    pub answers: u32,
    /// Exactly what was agreed to.
    pub sheet: SupplierSheet,
    /// What was marked last, line by line, as it was typed: stock, what instead, price.
    pub marks: Vec<[String; 3]>,
}

#[derive(Serialize, Deserialize)]
#[serde(tag = "v")]
enum Versioned {
    #[serde(rename = "1")]
    V1(Share),
}

/// Writes a share.
pub fn write(share: &Share) -> Result<Vec<u8>, serde_json::Error> {
    serde_json::to_vec(&Versioned::V1(share.clone()))
}

/// Reads a share of any version.
pub fn read(bytes: &[u8]) -> Result<Share, serde_json::Error> {
    let Versioned::V1(share) = serde_json::from_slice(bytes)?;
    Ok(share)
}
