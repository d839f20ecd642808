//! A way of saying something, as it is written in the book: `(show|see) [me] [the|my] plan`.
//!
//! `(a|b c)` is one of several, `[a|b c]` may be left out, `rot*` is any word that starts so, `_` is any one word,
//! `#` a number in digits or in words, and `...` a few words or none. Everything else stands for itself. Matched
//! word by word, never across a mark.

use super::super::normal::{Token, TokenKind};
use crate::units::reading::{Part, part_of};

/// A way of saying something.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Way {
    /// As it is written in the book.
    pub written: String,
    nodes: Vec<Node>,
    /// Of each of these, one word at least must stand in a message.
    needs: Vec<Words>,
}

/// A set of words, by a few bits of each: what is not in it is not there, what is may be.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Words([u64; 4]);

impl Words {
    /// Adds a word.
    pub fn add(&mut self, word: &str) {
        let hash = word.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
            (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
        });
        let place = usize::try_from(hash >> 62).unwrap_or_default();
        if let Some(part) = self.0.get_mut(place) {
            *part |= 1 << ((hash >> 32) & 63);
        }
    }

    fn meets(&self, other: &Self) -> bool {
        self.0.iter().zip(&other.0).any(|(one, other)| one & other != 0)
    }
}

/// What a way may begin with.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum First {
    /// This word.
    Word(String),
    /// A word that starts so.
    Start(String),
    /// A number.
    Number,
    /// Anything.
    Any,
}

#[derive(Clone, Debug, PartialEq, Eq)]
enum Node {
    Word(String),
    Start(String),
    Any,
    Number,
    Few,
    One(Vec<Vec<Node>>),
    Maybe(Vec<Vec<Node>>),
}

/// How many words `...` stands for at most.
const FEW: usize = 6;

impl Way {
    /// Reads a way as it is written.
    ///
    /// # Errors
    /// What is wrong with it, in plain words.
    pub fn read(written: &str) -> Result<Self, String> {
        let mut rest = written.chars().peekable();
        let mut nodes = sequence(&mut rest)?;
        if let Some(sign) = rest.next() {
            return Err(format!("`{sign}` closes nothing"));
        }
        match (nodes.pop(), nodes.is_empty()) {
            (Some(one), true) if one.is_empty() => Err("it says nothing".to_owned()),
            (Some(one), true) => Ok(Self { written: written.to_owned(), needs: needs_of(&one), nodes: one }),
            _ => Err("`|` stands outside of brackets".to_owned()),
        }
    }

    /// The same way, as it stands in the book: with the names of lists.
    #[must_use]
    pub fn written_as(self, written: &str) -> Self {
        Self { written: written.to_owned(), ..self }
    }

    /// Whether a message of these words may hold it: where not, it need not be looked for.
    pub fn may_stand_in(&self, words: &Words) -> bool {
        self.needs.iter().all(|one| one.meets(words))
    }

    /// Where it may end, beginning at a token: the furthest.
    pub fn end_from(&self, tokens: &[Token], at: usize) -> Option<usize> {
        let mut furthest = None;
        run(&self.nodes, tokens, at, &mut |end| {
            if furthest.is_none_or(|before| before < end) {
                furthest = Some(end);
            }
        });
        furthest.filter(|end| *end > at)
    }

    /// Whether it is all that the tokens say.
    pub fn is_whole(&self, tokens: &[Token]) -> bool {
        let mut whole = false;
        run(&self.nodes, tokens, 0, &mut |end| whole |= end == tokens.len());
        whole && !tokens.is_empty()
    }

    /// Whether any word at all may stand somewhere in it.
    pub fn is_open(&self) -> bool {
        is_open(&self.nodes)
    }

    /// What it may begin with.
    pub fn firsts(&self) -> Vec<First> {
        let mut found = Vec::new();
        firsts(&self.nodes, &mut found);
        found
    }

    /// Every word that stands in it.
    pub fn words(&self) -> Vec<&str> {
        let mut found = Vec::new();
        words_of(&self.nodes, &mut found);
        found
    }
}

type Written<'a> = std::iter::Peekable<std::str::Chars<'a>>;

/// Alternatives, up to the bracket that closes them.
fn sequence(rest: &mut Written<'_>) -> Result<Vec<Vec<Node>>, String> {
    let mut all = vec![Vec::new()];
    while let Some(sign) = rest.peek().copied() {
        match sign {
            ')' | ']' => break,
            '|' => {
                rest.next();
                all.push(Vec::new());
            }
            '(' | '[' => {
                rest.next();
                let inner = sequence(rest)?;
                if inner.iter().any(Vec::is_empty) {
                    return Err("a bracket holds nothing".to_owned());
                }
                let node = match (sign, rest.next()) {
                    ('(', Some(')')) => Node::One(inner),
                    ('[', Some(']')) => Node::Maybe(inner),
                    _ => return Err(format!("`{sign}` is not closed")),
                };
                push(&mut all, node);
            }
            _ if sign.is_whitespace() => {
                rest.next();
            }
            _ => {
                let mut word = String::new();
                while let Some(c) = rest.next_if(|c| !c.is_whitespace() && !"()[]|".contains(*c)) {
                    word.push(c);
                }
                let node = node_of(&word)?;
                push(&mut all, node);
            }
        }
    }
    Ok(all)
}

fn push(all: &mut [Vec<Node>], node: Node) {
    if let Some(last) = all.last_mut() {
        last.push(node);
    }
}

fn node_of(word: &str) -> Result<Node, String> {
    let plain: String = word.to_lowercase().chars().filter(|c| !matches!(c, '\'' | '’')).collect();
    match plain.as_str() {
        "_" => return Ok(Node::Any),
        "#" => return Ok(Node::Number),
        "..." => return Ok(Node::Few),
        _ => {}
    }
    let is_plain = |text: &str| !text.is_empty() && !text.contains(|c: char| c.is_ascii_punctuation());
    match plain.strip_suffix('*') {
        Some(start) if is_plain(start) => Ok(Node::Start(start.to_owned())),
        None if is_plain(&plain) => Ok(Node::Word(plain)),
        Some(_) | None => Err(format!("`{word}` is no word: part words by blanks")),
    }
}

/// Calls `then` with every place where the nodes may end.
fn run(nodes: &[Node], tokens: &[Token], at: usize, then: &mut dyn FnMut(usize)) {
    let [first, rest @ ..] = nodes else { return then(at) };
    let token = tokens.get(at);
    let is_word = token.is_some_and(|token| !matches!(token.kind, TokenKind::Mark(_)));
    match first {
        Node::Word(word) => {
            if is_word && token.is_some_and(|token| token.word == *word) {
                run(rest, tokens, at + 1, then);
            }
        }
        Node::Start(start) => {
            if token.is_some_and(|token| token.is_word() && token.word.starts_with(start.as_str())) {
                run(rest, tokens, at + 1, then);
            }
        }
        Node::Any => {
            if is_word {
                run(rest, tokens, at + 1, then);
            }
        }
        Node::Number => {
            if token.is_some_and(is_number) {
                run(rest, tokens, at + 1, then);
            }
        }
        Node::Few => {
            for more in 0..=FEW {
                run(rest, tokens, at + more, then);
                let goes_on =
                    tokens.get(at + more).is_some_and(|one| !matches!(one.kind, TokenKind::Mark(_)));
                if !goes_on {
                    break;
                }
            }
        }
        // Each place where an alternative may end is gone on from once, however many alternatives end there.
        Node::One(all) => {
            for end in ends_of(all, tokens, at) {
                run(rest, tokens, end, then);
            }
        }
        Node::Maybe(all) => {
            run(rest, tokens, at, then);
            for end in ends_of(all, tokens, at).into_iter().filter(|end| *end > at) {
                run(rest, tokens, end, then);
            }
        }
    }
}

/// Every place where one of several alternatives may end.
fn ends_of(all: &[Vec<Node>], tokens: &[Token], at: usize) -> Vec<usize> {
    let mut ends: Vec<usize> = Vec::new();
    let word = tokens.get(at).map(|token| token.word.as_str());
    for one in all {
        // Most alternatives begin with another word.
        if matches!((one.first(), word), (Some(Node::Word(first)), word) if word != Some(first.as_str())) {
            continue;
        }
        run(one, tokens, at, &mut |end| {
            if !ends.contains(&end) {
                ends.push(end);
            }
        });
    }
    ends
}

fn is_open(nodes: &[Node]) -> bool {
    nodes.iter().any(|node| match node {
        Node::Any | Node::Few | Node::Start(_) => true,
        Node::One(all) | Node::Maybe(all) => all.iter().any(|one| is_open(one)),
        Node::Word(_) | Node::Number => false,
    })
}

fn is_number(token: &Token) -> bool {
    token.kind == TokenKind::Number || (token.is_word() && part_of(&token.word) == Some(Part::Number))
}

/// The first words of some nodes; whether they may all be left out.
fn firsts(nodes: &[Node], found: &mut Vec<First>) -> bool {
    for node in nodes {
        let may_be_empty = match node {
            Node::Word(word) => {
                found.push(First::Word(word.clone()));
                false
            }
            Node::Start(start) => {
                found.push(First::Start(start.clone()));
                false
            }
            Node::Number => {
                found.push(First::Number);
                false
            }
            Node::Any => {
                found.push(First::Any);
                false
            }
            Node::Few => {
                found.push(First::Any);
                true
            }
            Node::One(all) => {
                let empty: Vec<bool> = all.iter().map(|one| firsts(one, found)).collect();
                empty.contains(&true)
            }
            Node::Maybe(all) => {
                for one in all {
                    firsts(one, found);
                }
                true
            }
        };
        if !may_be_empty {
            return false;
        }
    }
    true
}

/// Of each part that cannot be left out and is made of whole words, the words it may begin with.
fn needs_of(nodes: &[Node]) -> Vec<Words> {
    let mut needs = Vec::new();
    for node in nodes {
        let mut words = Words::default();
        let known = match node {
            Node::Word(word) => {
                words.add(word);
                true
            }
            Node::One(all) => all.iter().all(|one| match one.first() {
                Some(Node::Word(word)) => {
                    words.add(word);
                    true
                }
                _ => false,
            }),
            Node::Start(_) | Node::Any | Node::Number | Node::Few | Node::Maybe(_) => false,
        };
        if known {
            needs.push(words);
        }
    }
    needs
}

fn words_of<'a>(nodes: &'a [Node], found: &mut Vec<&'a str>) {
    for node in nodes {
        match node {
            Node::Word(word) => found.push(word),
            Node::One(all) | Node::Maybe(all) => all.iter().for_each(|one| words_of(one, found)),
            Node::Start(_) | Node::Any | Node::Number | Node::Few => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::conversation::ears::normal::tokens;

    #[test]
    fn a_way_matches_what_it_is_written_for() {
        let way = Way::read("(show|see) [me] [the|my] plan*").unwrap();
        for (text, whole) in [
            ("show me the plan", true),
            ("See plans", true),
            ("show, the plan", false),
            ("show the plan now", false),
            ("plan", false),
        ] {
            assert_eq!(way.is_whole(&tokens(text)), whole, "{text}");
        }
        assert_eq!(way.end_from(&tokens("show the plan now"), 0), Some(3));
        let count = Way::read("# ... sheets").unwrap();
        assert!(count.is_whole(&tokens("twenty good sheets")));
    }

    #[test]
    fn what_is_wrong_with_a_way_is_said() {
        for bad in ["", "(a", "a)", "a|b", "(a|)", "what.is", "*"] {
            assert!(Way::read(bad).is_err(), "{bad}");
        }
    }
}
