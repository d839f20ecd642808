//! Who is to be told that something was said in a chat: the open pages that listen for it.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use tokio::sync::watch;

use crate::message::ChatId;

/// Open pages by chat.
#[derive(Default)]
pub(super) struct Hub {
    chats: Mutex<HashMap<ChatId, watch::Sender<()>>>,
}

impl Hub {
    /// Listens in a chat; `None` where so many pages listen already.
    pub(super) fn listen(self: &Arc<Self>, chat: &ChatId, most: usize) -> Option<Ear> {
        let mut chats = self.chats.lock().unwrap_or_else(PoisonError::into_inner);
        let sender = chats.entry(chat.clone()).or_insert_with(|| watch::channel(()).0);
        if sender.receiver_count() >= most {
            return None;
        }
        let receiver = Some(sender.subscribe());
        Some(Ear { hub: Arc::clone(self), chat: chat.clone(), receiver })
    }

    /// Something was said.
    pub(super) fn tell(&self, chat: &ChatId) {
        let chats = self.chats.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(sender) = chats.get(chat) {
            sender.send_replace(());
        }
    }
}

/// One page that listens; it is forgotten when dropped.
pub(super) struct Ear {
    hub: Arc<Hub>,
    chat: ChatId,
    receiver: Option<watch::Receiver<()>>,
}

impl Ear {
    /// Waits until something was said since the last time; false where nothing can be any more.
    pub(super) async fn heard(&mut self) -> bool {
        match &mut self.receiver {
            Some(receiver) => receiver.changed().await.is_ok(),
            None => false,
        }
    }
}

impl Drop for Ear {
    fn drop(&mut self) {
        self.receiver = None;
        let mut chats = self.hub.chats.lock().unwrap_or_else(PoisonError::into_inner);
        if chats.get(&self.chat).is_some_and(|sender| sender.receiver_count() == 0) {
            chats.remove(&self.chat);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[tokio::test]
    async fn only_the_pages_of_a_chat_hear_it_and_none_is_remembered_for_ever() {
        let hub = Arc::new(Hub::default());
        let (mine, yours) = (ChatId::new("web:me").unwrap(), ChatId::new("web:you").unwrap());
        let mut ear = hub.listen(&mine, 1).unwrap();
        assert!(hub.listen(&mine, 1).is_none());
        hub.tell(&yours);
        hub.tell(&mine);
        assert!(ear.heard().await);
        drop(ear);
        assert!(hub.chats.lock().unwrap().is_empty());
    }
}
