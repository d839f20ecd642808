//! The topics of a book, made ready when the first message asks for them: starting does not wait.

use std::fmt;
use std::sync::OnceLock;

use super::{TopicId, Understander, Understanding};

/// What can be asked, by the adviser's book.
pub struct Topics {
    make: Box<dyn Fn() -> Understander + Send + Sync>,
    ready: OnceLock<Understander>,
}

impl Topics {
    /// Topics that are made ready on first use.
    pub fn new(make: impl Fn() -> Understander + Send + Sync + 'static) -> Self {
        Self { make: Box::new(make), ready: OnceLock::new() }
    }

    /// Whoever understands.
    pub fn understander(&self) -> &Understander {
        self.ready.get_or_init(&self.make)
    }

    /// What a message asks.
    pub fn understand(&self, text: &str) -> Understanding {
        self.understander().understand(text)
    }

    /// How somebody may ask about a topic.
    pub fn example(&self, topic: TopicId) -> Option<&str> {
        let topics = self.understander().topics().iter();
        topics.filter(|known| known.id == topic).map(|known| known.example.as_str()).next()
    }
}

impl fmt::Debug for Topics {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Topics").field("ready", &self.ready.get().is_some()).finish_non_exhaustive()
    }
}
