//! The ears: what one message says, in one language. Pure: the same message, the same view and the same ears give
//! the same interpretation, byte for byte.
//!
//! A message passes each stage once, in one direction: [`normal`] (tokens with their bytes), [`lexicon`] (what the
//! words mean), [`figures`] (where the figures stand and of what kind), [`clauses`] (what each part does, of whose
//! roof and when), then `matching`, `choices` and [`orders`] find what may be meant, and `acts`
//! makes acts of it. What follows from an act is not decided here but in `deciding`.

mod acts;
pub mod asked;
mod choices;
mod languages;
pub mod lexicon;
pub mod normal;
pub mod orders;
pub mod readings;
pub mod sentence;

use std::ops::Range;

pub use acts::interpret;
pub use languages::{Hearing, Make};
pub use orders::{Job, Order, Orders, Part};
pub use sentence::{clauses, figures};

use self::clauses::Clause;
use self::figures::Figure;
use self::lexicon::{Entries, Hit, Lexicon, Tag};
use self::normal::Token;
use super::Guide;
use super::event::Offer;
use super::interview::question_for;
use super::script::Question;
use super::session::Session;
use crate::roofing::note::Note;
use crate::roofing::roof::{FactKey, FactValue};
use crate::units::UsualUnit;
use crate::units::reading::WrittenUnit;

/// The ears of one language.
#[derive(Clone, Debug, Default)]
pub struct Ears {
    lexicon: Lexicon,
}

/// A message as the stages read it.
#[derive(Debug)]
pub struct Message<'e> {
    /// As it was typed.
    pub text: &'e str,
    /// Its tokens.
    pub tokens: Vec<Token>,
    /// What its words mean.
    pub hits: Vec<Hit<'e>>,
    /// Its figures.
    pub figures: Vec<Figure>,
    /// Its clauses.
    pub clauses: Vec<Clause>,
    /// Its words alone, and those without the small words around them, with how many were left out in front.
    bare: Vec<(Vec<Token>, usize)>,
    lexicon: &'e Lexicon,
}

impl Ears {
    /// Ears that know these entries.
    pub fn new(entries: Entries) -> Self {
        Self { lexicon: Lexicon::new(entries) }
    }

    /// What they know.
    pub fn lexicon(&self) -> &Lexicon {
        &self.lexicon
    }

    /// Reads a message through the first stages.
    pub fn hear<'e>(&'e self, text: &'e str) -> Message<'e> {
        let tokens = self.lexicon.tokens(text);
        let hits = self.lexicon.hits(&tokens);
        let figures = figures::figures(text, &tokens, &hits);
        let clauses = clauses::clauses(&tokens, &hits, &figures);
        let bare = orders::bare(&tokens, &hits);
        Message { text, tokens, hits, figures, clauses, bare, lexicon: &self.lexicon }
    }

    /// The units a word names.
    pub fn says(&self, text: &str, tag: Tag) -> bool {
        let tokens = self.lexicon.tokens(text);
        self.lexicon.hits(&tokens).iter().any(|hit| hit.is(tag))
    }
}

impl Message<'_> {
    /// The clause a token stands in.
    pub fn clause_of(&self, token: usize) -> Option<usize> {
        self.clauses.iter().position(|clause| clause.holds(token))
    }

    fn sentence_of(&self, clause: usize) -> Option<usize> {
        self.clauses.get(clause).map(|clause| clause.sentence)
    }

    fn has_figure(&self, clause: usize) -> bool {
        self.figures.iter().any(|figure| self.clause_of(figure.tokens.start) == Some(clause))
    }

    /// Whether a kind of word stands anywhere in it.
    pub fn has(&self, tag: Tag) -> bool {
        self.hits.iter().any(|hit| hit.is(tag))
    }

    /// Whether every word of a stretch is covered by hits that are let pass.
    fn covered(&self, tokens: &Range<usize>, passes: impl Fn(&Hit<'_>) -> bool) -> bool {
        let passing: Vec<&Hit<'_>> = self.hits.iter().filter(|hit| passes(hit)).collect();
        let inside = |at: usize| passing.iter().any(|hit| hit.start <= at && at < hit.end);
        let words = tokens.clone().filter(|at| {
            self.tokens.get(*at).is_some_and(|token| !matches!(token.kind, normal::TokenKind::Mark(_)))
        });
        let mut any = false;
        for at in words {
            any = true;
            if !inside(at) {
                return false;
            }
        }
        any
    }

    /// The bytes of a stretch of tokens.
    fn bytes(&self, tokens: &Range<usize>) -> Range<usize> {
        let start = self.tokens.get(tokens.start).map_or(0, |token| token.span.start);
        let last = tokens.end.checked_sub(1).and_then(|last| self.tokens.get(last));
        start..last.map_or(start, |token| token.span.end)
    }
}

/// What is open, what is known and what was said last: what the words of a message can point at.
#[derive(Clone, Copy)]
pub struct View<'v, 'g> {
    /// The book, as far as it concerns the chat.
    pub guide: &'v Guide<'g>,
    /// The chat so far.
    pub session: &'v Session,
}

impl<'g> View<'_, 'g> {
    /// The question that is open, or the one that something is picked for.
    pub fn question(&self) -> Option<&'g Question> {
        question_for(self.guide, self.session.open().fact()?)
    }
}

/// One fact as it was heard.
#[derive(Clone, Debug, PartialEq)]
pub struct Given {
    /// The fact.
    pub fact: FactKey,
    /// Its value.
    pub value: FactValue,
    /// Whether the unit was our guess, so that it must be echoed.
    pub assumed: bool,
    /// The unit it was written in, or taken to be in, where it is a measurement.
    pub written: Option<WrittenUnit>,
    /// The units the person measures lengths in, where this shows it.
    pub shows: Option<UsualUnit>,
}

impl Given {
    /// A value that was not measured: picked, counted, or settled by the book.
    pub const fn plain(fact: FactKey, value: FactValue) -> Self {
        Self { fact, value, assumed: false, written: None, shows: None }
    }
}

/// What a part of a message does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Act {
    /// Answers the question that is open.
    Answer,
    /// Says something else of this roof.
    State,
    /// Puts right what was said before, by its value.
    Correct,
    /// Says how much more or less something is.
    Relative,
    /// Exchanges two facts.
    Swap,
    /// Says yes.
    Agree,
    /// Says no.
    Refuse,
    /// Asks.
    Ask,
    /// Supposes that something were otherwise.
    WhatIf,
    /// Tells the bot what to do.
    Order,
    /// Tells how the job goes.
    Progress,
    /// Says something that changes nothing.
    Remark,
}

/// How sure an act is.
#[derive(Clone, Debug, PartialEq)]
pub enum Sure {
    /// It says just that.
    Sure,
    /// It likely says that: it is put back as a question.
    Unsure,
    /// It says one of these.
    OneOf {
        /// Why it is not clear.
        why: Note,
        /// The readings.
        options: Vec<Offer>,
    },
    /// A figure was meant that will not do, and why.
    Unreadable(Note),
}

/// One act of a message.
#[derive(Clone, Debug, PartialEq)]
pub struct Heard {
    /// What it does.
    pub act: Act,
    /// The fact with its value, where it gives one.
    pub given: Option<Given>,
    /// The bytes it was heard from.
    pub span: Range<usize>,
    /// The clause it stands in.
    pub clause: usize,
    /// The ways of saying things it was heard by, as they are written in the book.
    pub evidence: Vec<String>,
    /// How sure it is.
    pub sure: Sure,
}

/// What a whole message says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Interpretation {
    /// Its acts, in the order they were said.
    pub acts: Vec<Heard>,
    /// Whether it asks anything.
    pub asks: bool,
    /// Whether it only says that something will be done.
    pub promises: bool,
    /// The order it gives.
    pub order: Option<Order>,
    /// What it tells of the job.
    pub job: Option<Job>,
    /// The yes or the no it opens with, whatever it goes on with.
    pub opens_with: Option<bool>,
    /// A yes that cannot be a figure of speech, for what cannot be undone.
    pub surely: bool,
    /// Whether everybody is said to be all right, and nothing else.
    pub all_right: bool,
    /// Whether asbestos is spoken of, other than to say that there is none.
    pub asbestos: bool,
    /// Which of what was offered it points at, counted from nought.
    pub points_at: Option<usize>,
    /// Whether it gives figures that nobody asked for: sizes, or a measurement of it is not said what.
    pub loose: Option<Loose>,
}

/// Figures that nothing could be made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Loose {
    /// Two sizes at once.
    Sizes,
    /// A measurement.
    Measurement,
}

impl Interpretation {
    /// The facts it gives for sure, in the order they were said.
    pub fn sure_facts(&self) -> Vec<Given> {
        self.given(|heard| heard.sure == Sure::Sure)
    }

    /// The facts it likely gives.
    pub fn unsure_facts(&self) -> Vec<Given> {
        self.given(|heard| heard.sure == Sure::Unsure)
    }

    /// Takes what it says for sure as likely only, where that is doubted.
    pub fn doubt(&mut self, doubted: impl Fn(&Given) -> bool) {
        for heard in &mut self.acts {
            if heard.sure == Sure::Sure && heard.given.as_ref().is_some_and(&doubted) {
                heard.sure = Sure::Unsure;
            }
        }
    }

    fn given(&self, wanted: impl Fn(&Heard) -> bool) -> Vec<Given> {
        let states = self.acts.iter().filter(|heard| heard.states_a_fact() && wanted(heard));
        states.filter_map(|heard| heard.given.clone()).collect()
    }

    /// What it supposes.
    pub fn supposed(&self) -> Vec<Given> {
        let supposes = self.acts.iter().filter(|heard| heard.act == Act::WhatIf);
        supposes.filter_map(|heard| heard.given.clone()).collect()
    }

    /// Whether all it says is yes, or no.
    pub fn yes_or_no(&self) -> Option<bool> {
        self.acts.iter().find_map(|heard| match heard.act {
            Act::Agree => Some(true),
            Act::Refuse => Some(false),
            _ => None,
        })
    }

    /// The first act that could be several things, or that will not do.
    pub fn unclear(&self) -> Option<&Sure> {
        let open = |sure: &Sure| matches!(sure, Sure::OneOf { .. } | Sure::Unreadable(_));
        // What is only supposed need not be settled.
        let unclear = |heard: &&Heard| open(&heard.sure) && heard.act != Act::WhatIf;
        let first = self.acts.iter().filter(unclear).min_by_key(|heard| match heard.sure {
            Sure::OneOf { .. } => 0,
            Sure::Sure | Sure::Unsure | Sure::Unreadable(_) => 1,
        });
        first.map(|heard| &heard.sure)
    }
}

impl Heard {
    /// Whether it says something of this roof.
    pub fn states_a_fact(&self) -> bool {
        matches!(self.act, Act::Answer | Act::State | Act::Correct | Act::Relative | Act::Swap)
    }
}
