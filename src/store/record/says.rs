//! How messages that wait to be sent are written for keeping.

use serde::{Deserialize, Serialize};

use super::RecordError;
use crate::message::{Attachment, Choice, Recipe, Say};

#[derive(Serialize, Deserialize)]
#[serde(tag = "v")]
enum VersionedSay {
    #[serde(rename = "1")]
    V1(StoredSay),
}

#[derive(Serialize, Deserialize)]
struct StoredSay {
    id: String,
    text: String,
    #[serde(default)]
    choices: Vec<(String, String)>,
    #[serde(default)]
    prompt: Option<u64>,
    #[serde(default)]
    files: Vec<StoredFile>,
}

#[derive(Serialize, Deserialize)]
struct StoredFile {
    name: String,
    media_type: String,
    alt: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    base64: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    recipe: Option<StoredRecipe>,
}

/// How a file is made when it is wanted: written by the records of messages and of transcripts alike.
#[derive(Serialize, Deserialize)]
pub(in crate::store) struct StoredRecipe {
    what: String,
    events: u64,
    at: u64,
}

impl StoredRecipe {
    pub(in crate::store) fn from_recipe(recipe: &Recipe) -> Self {
        Self { what: recipe.what.clone(), events: recipe.events, at: recipe.at }
    }

    pub(in crate::store) fn into_recipe(self) -> Recipe {
        Recipe { what: self.what, events: self.events, at: self.at }
    }
}

/// Writes a message that waits to be sent.
pub fn write_say(say: &Say) -> Result<Vec<u8>, RecordError> {
    let files = say.files.iter().map(|file| StoredFile {
        name: file.name.clone(),
        media_type: file.media_type.clone(),
        alt: file.alt.clone(),
        base64: data_encoding::BASE64.encode(&file.bytes),
        recipe: file.recipe.as_ref().map(StoredRecipe::from_recipe),
    });
    let choices = say.choices.iter().map(|choice| (choice.id.clone(), choice.label.clone()));
    let stored = StoredSay {
        id: say.id.clone(),
        text: say.text.clone(),
        choices: choices.collect(),
        prompt: say.prompt,
        files: files.collect(),
    };
    Ok(serde_json::to_vec(&VersionedSay::V1(stored))?)
}

/// Reads a message of any version.
pub fn read_say(bytes: &[u8]) -> Result<Say, RecordError> {
    let VersionedSay::V1(stored) = serde_json::from_slice(bytes)?;
    let files = stored.files.into_iter().map(|file| {
        let bytes = data_encoding::BASE64.decode(file.base64.as_bytes());
        let bytes = bytes.map_err(|_| RecordError::Unknown(file.name.clone()))?;
        let recipe = file.recipe.map(StoredRecipe::into_recipe);
        Ok(Attachment { name: file.name, media_type: file.media_type, alt: file.alt, bytes, recipe })
    });
    Ok(Say {
        id: stored.id,
        text: stored.text,
        choices: stored.choices.into_iter().map(|(id, label)| Choice { id, label }).collect(),
        prompt: stored.prompt,
        files: files.collect::<Result<_, RecordError>>()?,
    })
}
