//! What an update says, read leniently: only the fields needed are looked at, and what is unknown is ignored,
//! so that a newer Bot API never breaks the intake.

use serde_json::Value;

use super::address::Address;
use super::button::Button;
use super::text::{units, visible};
use crate::message::{Content, Inbound};

/// The most UTF-16 units one Telegram message holds; more than that is no message a person typed there.
const LONGEST_TEXT: usize = 4096;

/// The kinds of update that are asked for and read. All others are acknowledged and let go.
pub const KINDS: [&str; 4] = ["message", "edited_message", "callback_query", "my_chat_member"];

/// Content that comes without words for us, by the field that marks it.
pub const WORDLESS: [&str; 20] = [
    "photo",
    "voice",
    "video",
    "video_note",
    "audio",
    "animation",
    "document",
    "sticker",
    "location",
    "venue",
    "contact",
    "poll",
    "dice",
    "game",
    "story",
    "paid_media",
    "checklist",
    "users_shared",
    "chat_shared",
    "web_app_data",
];

/// Notices that Telegram itself puts into a chat: nobody said anything, so nobody is answered.
const NOTICES: [&str; 16] = [
    "pinned_message",
    "new_chat_members",
    "left_chat_member",
    "new_chat_title",
    "new_chat_photo",
    "delete_chat_photo",
    "group_chat_created",
    "supergroup_chat_created",
    "message_auto_delete_timer_changed",
    "migrate_to_chat_id",
    "migrate_from_chat_id",
    "forum_topic_created",
    "forum_topic_edited",
    "forum_topic_closed",
    "forum_topic_reopened",
    "write_access_allowed",
];

/// Who the bot is, as `getMe` tells.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Me {
    /// Its id.
    pub id: i64,
    /// Its name without the `@`.
    pub username: String,
}

/// What an update asks of us.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Reading {
    /// A message to work.
    Work(Box<Arrival>),
    /// Somebody pressed a button of another person's question: the callback to answer.
    NotTheirs {
        /// The callback's id.
        callback: String,
    },
    /// The person blocked the bot or left: stop sending.
    Gone(Address),
    /// The person came back.
    Back(Address),
    /// Nothing to do, and why: the label of a metric.
    Ignore(&'static str),
}

/// A message to work, with what the reply needs to know of where it came from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Arrival {
    /// The message as the conversation sees it.
    pub inbound: Inbound,
    /// Where to reply.
    pub address: Address,
    /// The message's id in its chat: in a group the reply points at it.
    pub message: Option<i64>,
    /// The topic of a forum.
    pub thread: Option<i64>,
    /// The button, where one was pressed.
    pub press: Option<Press>,
}

/// A pressed button, as far as the message that carried it tells.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Press {
    /// The callback to answer, so that the button stops spinning.
    pub callback: String,
    /// The words of the message, where Telegram still shows them.
    pub words: Option<String>,
    /// What stood on the button.
    pub label: Option<String>,
}

/// The update's number: unique for a bot, rising.
pub fn update_id(update: &Value) -> Option<i64> {
    update.get("update_id")?.as_i64()
}

/// What the update asks of us.
pub fn read(update: &Value, me: &Me) -> Reading {
    let Some(id) = update_id(update) else { return Reading::Ignore("unnumbered") };
    if let Some(message) = update.get("message") {
        return read_message(id, message, me, false);
    }
    if let Some(message) = update.get("edited_message") {
        return read_message(id, message, me, true);
    }
    if let Some(query) = update.get("callback_query") {
        return read_press(id, query);
    }
    if let Some(change) = update.get("my_chat_member") {
        return read_membership(change);
    }
    if update.get("channel_post").is_some() || update.get("edited_channel_post").is_some() {
        return Reading::Ignore("channel");
    }
    Reading::Ignore("unknown")
}

fn read_message(update: i64, message: &Value, me: &Me, edited: bool) -> Reading {
    let Some(chat) = number(message, "/chat/id") else { return Reading::Ignore("nowhere") };
    let Some(person) = number(message, "/from/id") else { return Reading::Ignore("nobody") };
    if message.pointer("/from/is_bot").and_then(Value::as_bool) == Some(true) {
        return Reading::Ignore("bot");
    }
    if NOTICES.iter().any(|notice| message.get(notice).is_some()) {
        return Reading::Ignore("notice");
    }
    let group = match message.pointer("/chat/type").and_then(Value::as_str) {
        Some("channel") => return Reading::Ignore("channel"),
        Some("group" | "supergroup") => true,
        _ => false,
    };
    let typed = message.get("text").and_then(Value::as_str);
    let words = match typed.map(|text| addressed(text, message, me, group)) {
        Some(None) => return Reading::Ignore("not-to-us"),
        Some(Some(words)) => Some(words),
        None => None,
    };
    if group && (edited || (words.is_none() && !replies_to_us(message, me))) {
        return Reading::Ignore("not-to-us");
    }
    let content = match words {
        _ if edited => Content::Other("edit".to_owned()),
        Some(words) if units(&words) > LONGEST_TEXT => Content::Other("long-text".to_owned()),
        Some(words) => Content::Text(words),
        None => Content::Other(wordless(message).to_owned()),
    };
    let address = if group { Address::in_group(chat, person) } else { Address::private(chat) };
    work(update, address, content, message, None)
}

fn work(update: i64, address: Address, content: Content, message: &Value, press: Option<Press>) -> Reading {
    let Some(chat) = address.chat_id() else { return Reading::Ignore("nowhere") };
    Reading::Work(Box::new(Arrival {
        inbound: Inbound { chat, id: update.to_string(), content },
        address,
        message: number(message, "/message_id"),
        thread: number(message, "/message_thread_id").filter(|_| in_topic(message)),
        press,
    }))
}

/// In an ordinary group a reply carries a thread id too, which must not be sent back.
fn in_topic(message: &Value) -> bool {
    message.get("is_topic_message").and_then(Value::as_bool) == Some(true)
}

/// The words without our name, or `None` where they are meant for somebody else.
fn addressed(text: &str, message: &Value, me: &Me, group: bool) -> Option<String> {
    let text = visible(text);
    let text = text.trim();
    if let Some(command) = text.strip_prefix('/') {
        let (name, rest) = command.split_once(char::is_whitespace).unwrap_or((command, ""));
        let (name, to) = name.split_once('@').map_or((name, None), |(name, to)| (name, Some(to)));
        let ours = match to {
            Some(to) => to.eq_ignore_ascii_case(&me.username),
            None => !group || replies_to_us(message, me),
        };
        let rest = rest.trim();
        let gap = if rest.is_empty() { "" } else { " " };
        return ours.then(|| format!("/{name}{gap}{rest}"));
    }
    if !group {
        return Some(text.to_owned());
    }
    match without_mention(text, &me.username) {
        Some(rest) => Some(rest),
        None => replies_to_us(message, me).then(|| text.to_owned()),
    }
}

/// The text without a first `@name` as a word of its own; `None` where there is none.
fn without_mention(text: &str, name: &str) -> Option<String> {
    let ours = |word: &str| {
        let word = word.trim_end_matches([',', ':', '.', '!', '?']);
        word.strip_prefix('@').is_some_and(|mentioned| mentioned.eq_ignore_ascii_case(name))
    };
    let mut found = false;
    let rest: String = text
        .split_inclusive(char::is_whitespace)
        .filter(|word| {
            let here = !found && ours(word.trim_end());
            found |= here;
            !here
        })
        .collect();
    found.then(|| rest.trim().to_owned())
}

fn replies_to_us(message: &Value, me: &Me) -> bool {
    number(message, "/reply_to_message/from/id") == Some(me.id)
}

fn wordless(message: &Value) -> &'static str {
    WORDLESS.into_iter().find(|kind| message.get(kind).is_some()).unwrap_or("unknown")
}

fn read_press(update: i64, query: &Value) -> Reading {
    let Some(callback) = query.get("id").and_then(Value::as_str) else {
        return Reading::Ignore("unnumbered");
    };
    let Some(person) = number(query, "/from/id") else { return Reading::Ignore("nobody") };
    let button = query.get("data").and_then(Value::as_str).and_then(Button::read);
    let Some(message) = query.get("message") else { return Reading::Ignore("inline") };
    let Some(chat) = number(message, "/chat/id") else { return Reading::Ignore("nowhere") };
    let group = chat < 0;
    if group && button.as_ref().and_then(|button| button.owner) != Some(person) {
        return Reading::NotTheirs { callback: callback.to_owned() };
    }
    let press = Press {
        callback: callback.to_owned(),
        words: message.get("text").and_then(Value::as_str).map(str::to_owned),
        label: query.get("data").and_then(Value::as_str).and_then(|data| label_of(message, data)),
    };
    // A button that is none of ours (an older bot of the same name) still shows the current question.
    let content = button.map_or_else(
        || Content::Other("unknown-button".to_owned()),
        |button| Content::Choice { prompt: button.prompt, id: button.id },
    );
    let address = if group { Address::in_group(chat, person) } else { Address::private(chat) };
    work(update, address, content, message, Some(press))
}

fn label_of(message: &Value, data: &str) -> Option<String> {
    let rows = message.pointer("/reply_markup/inline_keyboard")?.as_array()?;
    let mut buttons = rows.iter().filter_map(Value::as_array).flatten();
    let pressed = buttons.find(|button| button.get("callback_data").and_then(Value::as_str) == Some(data))?;
    pressed.get("text").and_then(Value::as_str).map(str::to_owned)
}

fn read_membership(change: &Value) -> Reading {
    let Some(chat) = number(change, "/chat/id").filter(|chat| *chat > 0) else {
        return Reading::Ignore("group");
    };
    match change.pointer("/new_chat_member/status").and_then(Value::as_str) {
        Some("kicked" | "left") => Reading::Gone(Address::private(chat)),
        Some("member") => Reading::Back(Address::private(chat)),
        _ => Reading::Ignore("unknown"),
    }
}

fn number(value: &Value, pointer: &str) -> Option<i64> {
    value.pointer(pointer)?.as_i64()
}
