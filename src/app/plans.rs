//! Plans that are kept beside their chats, for as long as somebody may build by them.
//!
//! An event names its plan by what it was made by and of; what is named so is always the same plan, so that keeping
//! it twice does no harm.

use data_encoding::HEXLOWER;
use sha2::{Digest, Sha256};

use super::think::Thought;
use super::{App, AppError};
use crate::conversation::session::Session;
use crate::export::kept;
use crate::message::ChatId;
use crate::roofing::handbook::Made;
use crate::roofing::plan::Plan;
use crate::store::{Beside, Other, Store};
use crate::units::Day;

/// What every name of a kept plan begins with.
const NAME: &str = "plan/";

fn name_of(chat: &ChatId, made: &Made) -> String {
    let mut hash = Sha256::new();
    for part in [chat.as_str(), &made.by.book, &made.by.planner.to_string(), &made.facts.to_string()] {
        hash.update(part.len().to_le_bytes());
        hash.update(part.as_bytes());
    }
    format!("{NAME}{}", HEXLOWER.encode(&hash.finalize()))
}

impl<S: Store> App<S> {
    /// The plan a chat was given last, where another book or planner than today's made it; else the one that taking
    /// back the last answer would lead to, where such a one made that.
    pub(super) async fn earlier(&self, chat: &ChatId, session: &Session) -> Result<Option<Plan>, AppError> {
        self.earlier_on(chat, session, self.today()).await
    }

    /// The same, as of some day.
    pub(super) async fn earlier_on(
        &self,
        chat: &ChatId,
        session: &Session,
        today: Day,
    ) -> Result<Option<Plan>, AppError> {
        let by_now = &self.book.on(today).version;
        let mut named = session.made().into_iter().chain(session.made_before());
        let Some(made) = named.find(|made| made.by != *by_now) else { return Ok(None) };
        let kept = self.store.get_other(name_of(chat, made)).await?;
        let plan = kept.and_then(|other| kept::read(&other.value));
        if plan.is_none() {
            tracing::error!(book = made.by.short(), planner = made.by.planner, "a kept plan cannot be read");
        }
        Ok(plan)
    }

    /// What a turn changes in the plans that are kept: in its own transaction, so that an event never names what is not
    /// there. Forgotten is what nobody can come back to: while nothing is built, every plan but the one that stands.
    /// On the job a change may be taken back, so its plans stay.
    pub(super) async fn plans_of(
        &self,
        chat: &ChatId,
        before: &Session,
        thought: &Thought,
    ) -> Result<Vec<Beside>, AppError> {
        let mut changes = Vec::new();
        let after = &thought.after;
        if before.made() != after.made() && !after.progress().begun() {
            let stands = after.made().map(|made| name_of(chat, made));
            let others = self.store.list_other(Some(chat.clone())).await?.into_iter();
            let outlived =
                others.filter(|other| other.name.starts_with(NAME) && stands.as_ref() != Some(&other.name));
            changes.extend(outlived.map(|other| Beside::Remove(other.name)));
        }
        if let Some(plan) = &thought.plan {
            let (name, value) = (name_of(chat, &plan.made), kept::write(plan)?);
            changes.push(Beside::Put(Other { name, owner: Some(chat.clone()), value }));
        }
        Ok(changes)
    }
}
