//! Who is to be told that something was said in a chat: the open pages that listen for it, so many of a chat, of a
//! client and in all.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use tokio::sync::{OwnedSemaphorePermit, Semaphore, watch};

use super::Limits;
use crate::channel::client::Client;
use crate::channel::listen::{Counted, Counts};
use crate::message::ChatId;

/// Open pages by chat.
pub(super) struct Hub {
    chats: Mutex<HashMap<ChatId, watch::Sender<()>>>,
    clients: Counts,
    places: Arc<Semaphore>,
}

impl Hub {
    pub(super) fn new(limits: &Limits) -> Self {
        let places = Arc::new(Semaphore::new(limits.watchers));
        Self { chats: Mutex::default(), clients: Counts::default(), places }
    }

    /// Listens in a chat; `None` where so many pages listen already.
    pub(super) fn listen(self: &Arc<Self>, chat: &ChatId, client: Client, limits: &Limits) -> Option<Ear> {
        let counted = self.clients.one_more(client, limits.watchers_of_client)?;
        let place = Arc::clone(&self.places).try_acquire_owned().ok()?;
        let mut chats = self.chats.lock().unwrap_or_else(PoisonError::into_inner);
        let sender = chats.entry(chat.clone()).or_insert_with(|| watch::channel(()).0);
        if sender.receiver_count() >= limits.watchers_each {
            return None;
        }
        let receiver = Some(sender.subscribe());
        Some(Ear { hub: Arc::clone(self), chat: chat.clone(), receiver, _counted: (counted, place) })
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
    _counted: (Counted, OwnedSemaphorePermit),
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

    fn limits(watchers: usize, watchers_of_client: usize, watchers_each: usize) -> Limits {
        Limits { watchers_each, watchers_of_client, watchers, ..Limits::default() }
    }

    fn client(last: u8) -> Client {
        Client::of([192, 0, 2, last].into())
    }

    fn chat(name: &str) -> ChatId {
        ChatId::new(name).unwrap()
    }

    #[tokio::test]
    async fn only_the_pages_of_a_chat_hear_it_and_none_is_remembered_for_ever() {
        let limits = limits(9, 9, 1);
        let hub = Arc::new(Hub::new(&limits));
        let (mine, yours) = (chat("web:me"), chat("web:you"));
        let mut ear = hub.listen(&mine, client(1), &limits).unwrap();
        assert!(hub.listen(&mine, client(1), &limits).is_none());
        hub.tell(&yours);
        hub.tell(&mine);
        assert!(ear.heard().await);
        drop(ear);
        assert!(hub.chats.lock().unwrap().is_empty());
    }

    #[test]
    fn one_client_with_many_chats_leaves_room_for_others_and_gets_it_back() {
        let limits = limits(5, 3, 2);
        let hub = Arc::new(Hub::new(&limits));
        let listen = |name: &str, of| hub.listen(&chat(name), client(of), &limits);
        let mut ears: Vec<_> = (0..3).map(|number| listen(&format!("web:{number}"), 1).unwrap()).collect();
        assert!(listen("web:9", 1).is_none());
        ears.extend([listen("web:a", 2).unwrap(), listen("web:a", 3).unwrap()]);
        assert!(listen("web:b", 4).is_none(), "so many in all");
        ears.clear();
        assert!(listen("web:9", 1).is_some());
    }
}
