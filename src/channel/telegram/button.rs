//! What a button carries: the token of its question, whose question it is in a group, and the choice.
//!
//! The choice travels by its id, not by its place in the row: a script that changes while a question stands
//! open cannot give an old button a new meaning.

/// The most bytes a button may carry (Bot API, `InlineKeyboardButton.callback_data`: 1 to 64 bytes).
const MOST_BYTES: usize = 64;

/// Stands between the parts; the id comes last, so that it may hold anything.
const PART: char = '~';

/// What comes back when a button is pressed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Button {
    /// The token of the question; `None` where the message asked nothing.
    pub prompt: Option<u64>,
    /// The person in a group whose question it is: others may press, but do not answer.
    pub owner: Option<i64>,
    /// The id of the choice.
    pub id: String,
}

impl Button {
    /// As callback data; `None` where it does not fit in 64 bytes. Such a choice can still be typed.
    pub fn write(&self) -> Option<String> {
        let prompt = self.prompt.map(|token| token.to_string()).unwrap_or_default();
        let owner = self.owner.map(|person| person.to_string()).unwrap_or_default();
        let data = format!("{prompt}{PART}{owner}{PART}{}", self.id);
        (!self.id.is_empty() && data.len() <= MOST_BYTES).then_some(data)
    }

    /// From callback data; `None` where it is none of ours.
    pub fn read(data: &str) -> Option<Self> {
        let (prompt, rest) = data.split_once(PART)?;
        let (owner, id) = rest.split_once(PART)?;
        if id.is_empty() {
            return None;
        }
        Some(Self { prompt: number(prompt).ok()?, owner: number(owner).ok()?, id: id.to_owned() })
    }
}

/// Nothing, or a number.
fn number<N: std::str::FromStr>(part: &str) -> Result<Option<N>, N::Err> {
    if part.is_empty() { Ok(None) } else { part.parse().map(Some) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn a_button_that_fits_comes_back_whole(
            prompt in proptest::option::of(any::<u64>()),
            owner in proptest::option::of(any::<i64>()),
            id in ".{1,30}",
        ) {
            let button = Button { prompt, owner, id };
            if let Some(data) = button.write() {
                prop_assert!(data.len() <= 64);
                prop_assert_eq!(Button::read(&data), Some(button));
            }
        }

        #[test]
        fn any_other_data_is_refused_or_harmless(data in ".{0,80}") {
            let _ = Button::read(&data);
        }
    }

    #[test]
    fn the_longest_tokens_leave_room_for_an_id() {
        let button =
            Button { prompt: Some(u64::MAX), owner: Some(9_999_999_999), id: "not-sure-show-me-how".into() };
        assert!(button.write().is_some());
    }

    #[test]
    fn an_id_too_long_makes_no_button() {
        assert_eq!(Button { prompt: Some(1), owner: None, id: "x".repeat(62) }.write(), None);
    }
}
