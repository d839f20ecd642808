//! The transcript of a page's chat: read whole, written as far as a turn changed it, in the turn's own transaction.

use data_encoding::HEXLOWER;
use sha2::{Digest, Sha256};

use super::super::think::Thought;
use super::super::{App, AppError, Goes};
use crate::message::{ChatId, Say};
use crate::store::transcript::{self, Line, Transcript, Written};
use crate::store::{Beside, Other, Revision, Store};

impl<S: Store> App<S> {
    /// A transcript without its lines.
    pub(super) async fn head(&self, chat: &ChatId) -> Result<Transcript, AppError> {
        match self.store.get_other(head_of(chat)).await? {
            Some(other) => Ok(transcript::read(&other.value)?),
            None => Ok(Transcript::default()),
        }
    }

    /// A whole transcript.
    pub(in super::super) async fn transcript(&self, chat: &ChatId) -> Result<Transcript, AppError> {
        let mut transcript = self.head(chat).await?;
        for leaf in transcript.leaves() {
            if let Some(leaf) = self.store.get_other(leaf_of(chat, leaf)).await? {
                transcript.bind(&leaf.value)?;
            }
        }
        Ok(transcript)
    }

    /// What a turn adds to the page, where that is where it goes.
    pub(in super::super) async fn written(
        &self,
        chat: &ChatId,
        goes: &Goes,
        thought: &Thought,
        read_at: Revision,
    ) -> Result<Vec<Beside>, AppError> {
        let Goes::Page(heard) = goes else { return Ok(Vec::new()) };
        let mut transcript = self.transcript(chat).await?;
        transcript.revision = read_at.0.saturating_add(1);
        for (index, say) in thought.says.iter().enumerate() {
            if index == thought.greeting
                && let Some(heard) = heard
            {
                transcript.add(Line::You(heard.shown.clone()));
            }
            transcript.add(Line::Bot(named(chat, say)));
        }
        if let Some(heard) = heard {
            if thought.says.len() <= thought.greeting {
                transcript.add(Line::You(heard.shown.clone()));
            }
            transcript.worked(heard.id.clone());
        }
        transcript_changes(chat, &transcript)
    }

    /// The number of the last line of a page's chat.
    pub(in super::super) async fn last_line(&self, chat: &ChatId, goes: &Goes) -> Result<u64, AppError> {
        match goes {
            Goes::Page(_) => Ok(self.head(chat).await?.last),
            Goes::Out | Goes::Back => Ok(0),
        }
    }
}

/// What a page shows of a chat whose everything was deleted: what is said of it is all that stays.
pub(in super::super) fn begun_anew(
    chat: &ChatId,
    goes: &Goes,
    last: u64,
    says: &[Say],
) -> Result<Vec<Beside>, AppError> {
    let Goes::Page(heard) = goes else { return Ok(Vec::new()) };
    let mut transcript = Transcript::after_line(last);
    transcript.revision = 1;
    for say in says {
        transcript.add(Line::Bot(named(chat, say)));
    }
    if let Some(heard) = heard {
        transcript.worked(heard.id.clone());
    }
    transcript_changes(chat, &transcript)
}

/// What is kept of a transcript as it stands now.
pub(in super::super) fn transcript_changes(
    chat: &ChatId,
    transcript: &Transcript,
) -> Result<Vec<Beside>, AppError> {
    let Written { head, leaves, fallen } = transcript::write(transcript)?;
    let put = |name, value| Beside::Put(Other { name, owner: Some(chat.clone()), value });
    let leaves = leaves.into_iter().map(|(leaf, value)| put(leaf_of(chat, leaf), value));
    let fallen = fallen.map(|leaf| Beside::Remove(leaf_of(chat, leaf)));
    Ok([put(head_of(chat), head)].into_iter().chain(leaves).chain(fallen).collect())
}

/// A message whose files have names to ask for them by, that nobody else's have.
fn named(chat: &ChatId, say: &Say) -> Say {
    let mut say = say.clone();
    for file in &mut say.files {
        if let Some(recipe) = &file.recipe {
            let made_of = format!("{chat}\n{}\n{}\n{}\n{}", recipe.what, recipe.events, recipe.at, file.name);
            file.name = format!("{}/{}", HEXLOWER.encode(&Sha256::digest(made_of)), file.name);
        }
    }
    say
}

fn head_of(chat: &ChatId) -> String {
    format!("transcript/{chat}")
}

fn leaf_of(chat: &ChatId, leaf: u64) -> String {
    format!("transcript/{chat}/{leaf}")
}
