//! Where in Telegram a chat of ours is.

use crate::message::ChatId;

/// A Telegram chat, and in a group the one person there whom we talk with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Address {
    /// Telegram's chat id: positive for a person, negative for a group.
    pub chat: i64,
    /// The person, where the chat is a group.
    pub person: Option<i64>,
}

impl Address {
    /// A private chat.
    pub fn private(chat: i64) -> Self {
        Self { chat, person: None }
    }

    /// One person in a group.
    pub fn in_group(chat: i64, person: i64) -> Self {
        Self { chat, person: Some(person) }
    }

    /// Whether this is a person in a group.
    pub fn is_group(self) -> bool {
        self.person.is_some()
    }

    /// The address a chat id was made of; `None` for a chat of another channel.
    pub fn of(chat: &ChatId) -> Option<Self> {
        let place = chat.as_str().strip_prefix("telegram:")?;
        match place.split_once('/') {
            Some((group, person)) => Some(Self::in_group(group.parse().ok()?, person.parse().ok()?)),
            None => Some(Self::private(place.parse().ok()?)),
        }
    }

    /// The chat id; `None` never happens in practice, for two numbers always fit one.
    pub fn chat_id(self) -> Option<ChatId> {
        match self.person {
            Some(person) => ChatId::new(format!("telegram:{}/{person}", self.chat)),
            None => ChatId::new(format!("telegram:{}", self.chat)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_survives_being_a_chat_id() {
        for address in [Address::private(42), Address::in_group(-100_123, 42), Address::private(i64::MAX)] {
            assert_eq!(Address::of(&address.chat_id().unwrap()), Some(address));
        }
    }

    #[test]
    fn chats_of_other_channels_have_no_address() {
        for other in ["terminal:default", "telegram:", "telegram:x", "telegram:1/x"] {
            assert_eq!(Address::of(&ChatId::new(other).unwrap()), None, "{other}");
        }
    }
}
