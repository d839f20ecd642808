//! A Bot API server of our own that does what no emulator does: it limits, fails, stalls, repeats and reorders.
//!
//! Written from the public description of the Bot API. It keeps real state: updates until they are
//! acknowledged, every message sent, edited, and when. People are driven through [`Server::says`] and
//! [`Server::presses`]; what the bot did is read from [`Server::messages`].

mod body;
mod faults;
mod limits;
mod methods;
pub mod poison;
mod push;

use std::collections::{BTreeMap, HashMap, VecDeque};
use std::net::SocketAddr;
use std::sync::{Arc, Mutex, MutexGuard};
use std::time::{Duration, Instant};

use serde_json::{Value, json};
use tokio::sync::Notify;
use tokio::sync::mpsc::{UnboundedReceiver, UnboundedSender, unbounded_channel};

pub use faults::Faults;
pub use limits::Published;

/// The token the server knows.
pub const TOKEN: &str = "700:TEST-token_of_the_test_server";
/// The bot's own id and name.
pub const BOT: i64 = 700;
pub const BOT_NAME: &str = "lapwise_test_bot";

/// A message the bot sent.
#[derive(Clone, Debug)]
pub struct Message {
    pub id: i64,
    pub text: String,
    /// Label and data of each button, row by row.
    pub buttons: Vec<Vec<(String, String)>>,
    pub file: Option<(String, usize)>,
    pub parse_mode: Option<String>,
    pub reply_to: Option<i64>,
    pub thread: Option<i64>,
    pub edits: u32,
    /// When it was sent.
    pub at: Instant,
}

#[derive(Default)]
struct State {
    next_update: i64,
    next_message: i64,
    /// Updates not yet acknowledged, by number.
    updates: VecDeque<(i64, Value)>,
    chats: HashMap<i64, Vec<Message>>,
    calls: BTreeMap<String, u64>,
    refused: BTreeMap<u16, u64>,
    webhook: Option<(String, String)>,
    pushed: u64,
    answered_callbacks: Vec<String>,
    notices: Vec<String>,
    commands: Vec<Value>,
    blocked: Vec<i64>,
    faults: Faults,
    limits: limits::Meter,
    ear: Option<UnboundedSender<(i64, Instant)>>,
}

/// A running server. Cloning gives another handle to the same one.
#[derive(Clone)]
pub struct Server {
    pub address: SocketAddr,
    inner: Arc<Inner>,
}

struct Inner {
    state: Mutex<State>,
    arrived: Notify,
    sent: Notify,
}

impl Inner {
    fn lock(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap()
    }
}

impl Server {
    /// Starts a server on a free port.
    pub async fn start(faults: Faults, published: Option<Published>) -> Self {
        let state = State {
            next_update: 1_000,
            next_message: 10,
            faults,
            limits: limits::Meter::new(published),
            ..State::default()
        };
        let inner = Arc::new(Inner { state: Mutex::new(state), arrived: Notify::new(), sent: Notify::new() });
        let listener = tokio::net::TcpListener::bind("127.0.0.1:0").await.unwrap();
        let address = listener.local_addr().unwrap();
        let routes = methods::routes(Arc::clone(&inner));
        tokio::spawn(async move { axum::serve(listener, routes).await.unwrap() });
        push::start(Arc::clone(&inner));
        Self { address, inner }
    }

    pub fn url(&self) -> String {
        format!("http://{}", self.address)
    }

    /// Tells of every message the bot sends from now on: to which chat, and when.
    pub fn listen(&self) -> UnboundedReceiver<(i64, Instant)> {
        let (ear, heard) = unbounded_channel();
        self.inner.lock().ear = Some(ear);
        heard
    }

    /// From now on the server behaves so.
    pub fn behave(&self, faults: Faults) {
        self.inner.lock().faults = faults;
    }

    /// A person types; answers the update's number.
    pub fn says(&self, chat: i64, text: &str) -> i64 {
        self.sends(chat, &json!({ "text": text }))
    }

    /// A person sends something; `content` is what the message holds besides chat and sender.
    pub fn sends(&self, chat: i64, content: &Value) -> i64 {
        let mut state = self.inner.lock();
        state.next_message += 1;
        let mut message = json!({
            "message_id": state.next_message,
            "date": 1_700_000_000,
            "chat": { "id": chat, "type": "private", "first_name": "Wren <b>" },
            "from": { "id": chat, "is_bot": false, "first_name": "Wren <b>", "language_code": "en" },
        });
        for (key, value) in content.as_object().unwrap() {
            message[key] = value.clone();
        }
        drop(state);
        self.update(json!({ "message": message }))
    }

    /// A person presses the button with that label on the latest message that has it.
    pub fn presses(&self, chat: i64, label: &str) -> i64 {
        let messages = self.messages(chat);
        let with = |message: &&Message| message.buttons.iter().flatten().any(|(text, _)| text == label);
        let message = messages.iter().rev().find(with).expect("no such button").clone();
        self.presses_on(chat, chat, &message, label)
    }

    /// A person presses the latest button of a choice, or one that stands nowhere any more.
    pub fn presses_id(&self, chat: i64, id: &str) -> i64 {
        let messages = self.messages(chat);
        let ours = |data: &str| data.rsplit('~').next() == Some(id);
        let shown = |message: &&Message| message.buttons.iter().flatten().any(|(_, data)| ours(data));
        let mut message = messages.iter().rev().find(shown).or(messages.last()).expect("no message").clone();
        if !message.buttons.iter().flatten().any(|(_, data)| ours(data)) {
            message.buttons = vec![vec![(id.to_owned(), format!("~~{id}"))]];
        }
        let (label, _) = message.buttons.iter().flatten().find(|(_, data)| ours(data)).unwrap().clone();
        self.presses_on(chat, chat, &message, &label)
    }

    /// Somebody presses a button of a message, which may have lost it meanwhile.
    pub fn presses_on(&self, chat: i64, person: i64, message: &Message, label: &str) -> i64 {
        let (_, data) = message.buttons.iter().flatten().find(|(text, _)| text == label).unwrap();
        let row = |row: &Vec<(String, String)>| -> Vec<Value> {
            row.iter().map(|(text, data)| json!({ "text": text, "callback_data": data })).collect()
        };
        self.update(json!({ "callback_query": {
            "id": format!("callback-{person}-{}-{data}", message.id),
            "from": { "id": person, "is_bot": false, "first_name": "Wren" },
            "chat_instance": "1",
            "data": data,
            "message": {
                "message_id": message.id,
                "date": 1_700_000_000,
                "chat": { "id": chat, "type": if chat < 0 { "supergroup" } else { "private" } },
                "from": { "id": BOT, "is_bot": true, "first_name": "lapwise" },
                "text": message.text,
                "reply_markup": { "inline_keyboard": message.buttons.iter().map(row).collect::<Vec<_>>() },
            },
        }}))
    }

    /// Puts any update in line; its number is added.
    pub fn update(&self, mut update: Value) -> i64 {
        let mut state = self.inner.lock();
        state.next_update += 1;
        let id = state.next_update;
        update["update_id"] = json!(id);
        state.updates.push_back((id, update.clone()));
        if state.faults.repeats() {
            state.updates.push_back((id, update));
        }
        drop(state);
        self.inner.arrived.notify_waiters();
        id
    }

    /// The person blocked the bot.
    pub fn blocks(&self, chat: i64) {
        self.inner.lock().blocked.push(chat);
    }

    pub fn unblocks(&self, chat: i64) {
        self.inner.lock().blocked.retain(|blocked| *blocked != chat);
    }

    /// All messages the bot sent to a chat, as they stand now.
    pub fn messages(&self, chat: i64) -> Vec<Message> {
        self.inner.lock().chats.get(&chat).cloned().unwrap_or_default()
    }

    /// Waits until the chat has `count` messages that satisfy `seen`.
    pub async fn until(&self, chat: i64, what: &str, seen: impl Fn(&[Message]) -> bool) -> Vec<Message> {
        let deadline = Instant::now() + Duration::from_mins(1);
        loop {
            let woken = self.inner.sent.notified();
            let messages = self.messages(chat);
            if seen(&messages) {
                return messages;
            }
            assert!(Instant::now() < deadline, "never came: {what}; there is {messages:#?}");
            let _ = tokio::time::timeout(Duration::from_millis(500), woken).await;
        }
    }

    /// Waits for the `count`th message and answers it.
    pub async fn message(&self, chat: i64, count: usize) -> Message {
        let messages =
            self.until(chat, &format!("message {count}"), |messages| messages.len() >= count).await;
        messages[count - 1].clone()
    }

    /// Updates that wait to be acknowledged.
    pub fn unacknowledged(&self) -> usize {
        self.inner.lock().updates.len()
    }

    /// The number of the oldest update that waits to be acknowledged, or of the one to come.
    pub fn oldest_unacknowledged(&self) -> i64 {
        let state = self.inner.lock();
        state.updates.front().map_or(state.next_update + 1, |(id, _)| *id)
    }

    /// How often a method was called.
    pub fn calls(&self, method: &str) -> u64 {
        self.inner.lock().calls.get(&method.to_lowercase()).copied().unwrap_or_default()
    }

    /// How often a call was answered with an error code.
    pub fn refused(&self, code: u16) -> u64 {
        self.inner.lock().refused.get(&code).copied().unwrap_or_default()
    }

    /// The callbacks answered, and the notices shown with them.
    pub fn callbacks(&self) -> (Vec<String>, Vec<String>) {
        let state = self.inner.lock();
        (state.answered_callbacks.clone(), state.notices.clone())
    }

    pub fn commands(&self) -> Vec<Value> {
        self.inner.lock().commands.clone()
    }

    pub fn webhook(&self) -> Option<(String, String)> {
        self.inner.lock().webhook.clone()
    }

    /// Every chat the bot wrote to.
    pub fn chats(&self) -> Vec<i64> {
        self.inner.lock().chats.keys().copied().collect()
    }
}
