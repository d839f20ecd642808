//! Plans that are kept beside their chats, for as long as somebody may build by them.
//!
//! An event names its plan by what it was made by and of; what is named so is always the same plan, so that keeping
//! it twice does no harm.

use data_encoding::HEXLOWER;
use sha2::{Digest, Sha256};

use super::{App, AppError, Thought};
use crate::conversation::session::Session;
use crate::export::kept;
use crate::message::ChatId;
use crate::roofing::handbook::Made;
use crate::roofing::plan::Plan;
use crate::store::{Other, Store};

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
        let by_now = &self.handbook().version;
        let mut named = session.made().into_iter().chain(session.made_before());
        let Some(made) = named.find(|made| made.by != *by_now) else { return Ok(None) };
        let kept = self.store.get_other(name_of(chat, made)).await?;
        let plan = kept.and_then(|other| kept::read(&other.value));
        if plan.is_none() {
            tracing::error!(book = made.by.short(), planner = made.by.planner, "a kept plan cannot be read");
        }
        Ok(plan)
    }

    /// Keeps the plan that stands after a turn, before the turn itself is kept: an event never names what is not there.
    pub(super) async fn keep_plan(&self, chat: &ChatId, thought: &Thought) -> Result<(), AppError> {
        let Some(plan) = &thought.plan else { return Ok(()) };
        let other =
            Other { name: name_of(chat, &plan.made), owner: Some(chat.clone()), value: kept::write(plan)? };
        Ok(self.store.put_other(other).await?)
    }

    /// Forgets what nobody can come back to: while nothing is built, every plan but the one that stands. On the job
    /// a change may be taken back, so its plans stay.
    pub(super) async fn forget_plans(
        &self,
        chat: &ChatId,
        before: &Session,
        after: &Session,
    ) -> Result<(), AppError> {
        if before.made() == after.made() || after.progress().begun() {
            return Ok(());
        }
        let stands = after.made().map(|made| name_of(chat, made));
        for other in self.store.list_other(Some(chat.clone())).await? {
            if other.name.starts_with(NAME) && stands.as_ref() != Some(&other.name) {
                self.store.remove_other(other.name).await?;
            }
        }
        Ok(())
    }
}
