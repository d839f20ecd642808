//! The terminal: the chat for somebody at a keyboard. Choices are numbered; a number or words both answer.

use std::path::Path;

use tokio::io::{AsyncBufRead, AsyncBufReadExt, AsyncWrite, AsyncWriteExt};

use super::Turns;
use crate::message::{Attachment, ChatId, Choice, Content, Inbound, Say};

/// What the terminal itself has to say, in the person's language.
#[derive(Clone, Debug)]
pub struct Phrases {
    /// How to leave, shown once at the start.
    pub how_to_leave: String,
    /// Said on leaving.
    pub goodbye: String,
    /// Said when a turn failed.
    pub fault: String,
}

/// Where files go, and how pictures are drawn.
#[derive(Clone, Copy)]
pub struct Desk<'a> {
    /// The folder for files.
    pub papers: &'a Path,
    /// An SVG as this terminal shows it, line ends included; none where it shows words alone.
    pub draw: &'a dyn Fn(&Attachment) -> Option<String>,
}

/// Chats until the input ends or the person leaves.
///
/// # Errors
/// Only those of the two streams.
pub async fn run<T: Turns>(
    turns: &T,
    chat: &ChatId,
    phrases: &Phrases,
    desk: Desk<'_>,
    mut input: impl AsyncBufRead + Unpin,
    mut output: impl AsyncWrite + Unpin,
) -> std::io::Result<()> {
    show(&mut output, &format!("({})", phrases.how_to_leave)).await?;
    let (mut offered, mut more): (Vec<Choice>, Option<Choice>) = (Vec::new(), None);
    let mut number = 0_u64;
    let mut content = Content::Text("/start".to_owned());
    loop {
        let inbound = Inbound { chat: chat.clone(), id: number.to_string(), content };
        number += 1;
        match turns.turn(inbound).await {
            Ok(replied) => {
                let choices = || replied.says.iter().flat_map(|say| &say.choices);
                more = choices().rfind(|choice| choice.id.starts_with("do-more-")).cloned();
                for say in &replied.says {
                    show_pictures(&mut output, desk, say).await?;
                    offered = show_say(&mut output, say).await?;
                    show_files(&mut output, desk.papers, say).await?;
                }
            }
            Err(_) => show(&mut output, &phrases.fault).await?,
        }
        output.write_all(b"\n> ").await?;
        output.flush().await?;
        let mut line = Vec::new();
        let ended = input.read_until(b'\n', &mut line).await? == 0;
        let text = String::from_utf8_lossy(&line).trim().to_owned();
        if ended || is_leaving(&text) {
            return show(&mut output, &phrases.goodbye).await;
        }
        content = match more.take().filter(|more| asks_for(more, &text)) {
            Some(more) => Content::Choice { prompt: None, id: more.id },
            None => picked(&offered, &text),
        };
    }
}

const PICTURE: &str = "image/svg+xml";

/// What is drawn goes before the words, which end with what can be chosen.
async fn show_pictures(
    output: &mut (impl AsyncWrite + Unpin),
    desk: Desk<'_>,
    say: &Say,
) -> std::io::Result<()> {
    for file in say.files.iter().filter(|file| file.media_type == PICTURE) {
        match (desk.draw)(file) {
            Some(drawn) => output.write_all(format!("\n{drawn}").as_bytes()).await?,
            None => show(output, &file.alt).await?,
        }
    }
    Ok(())
}

/// Files are written beside the answers, and their paths said.
async fn show_files(output: &mut (impl AsyncWrite + Unpin), papers: &Path, say: &Say) -> std::io::Result<()> {
    for file in say.files.iter().filter(|file| file.media_type != PICTURE) {
        let path = papers.join(&file.name);
        let written = match tokio::fs::create_dir_all(papers).await {
            Ok(()) => tokio::fs::write(&path, &file.bytes).await,
            Err(error) => Err(error),
        };
        match written {
            Ok(()) => show(output, &format!("→ {}", path.display())).await?,
            Err(error) => show(output, &format!("→ {}: {error}", path.display())).await?,
        }
    }
    Ok(())
}

fn is_leaving(text: &str) -> bool {
    matches!(text.to_lowercase().as_str(), "quit" | "exit" | "bye" | "goodbye" | "/quit" | "/exit" | ":q")
}

/// "More" and "tell me more" ask for the more of what was just said, which another message may have come after.
fn asks_for(more: &Choice, text: &str) -> bool {
    const MOST_WORDS: usize = 3;
    let words = || text.split_whitespace();
    let last = words().last().unwrap_or_default().trim_end_matches(['.', '!', '?']);
    words().count() <= MOST_WORDS && last.to_lowercase() == more.label.to_lowercase()
}

/// A number picks the choice it stands before; anything else is what it says.
fn picked(offered: &[Choice], text: &str) -> Content {
    let number: Option<usize> = text.trim_end_matches(['.', ')']).parse().ok();
    let choice = number.and_then(|number| offered.get(number.checked_sub(1)?));
    // Where the choices are mere helps ("Not sure"), a number is an answer.
    match choice {
        Some(choice) if !offered.iter().any(|offer| offer.id == "do-how") => {
            Content::Choice { prompt: None, id: choice.id.clone() }
        }
        _ => Content::Text(text.to_owned()),
    }
}

async fn show_say(output: &mut (impl AsyncWrite + Unpin), say: &Say) -> std::io::Result<Vec<Choice>> {
    let are_helps = say.choices.iter().any(|choice| choice.id == "do-how");
    let choices = say.choices.iter().enumerate().map(|(index, choice)| {
        if are_helps {
            format!("   [{}]", choice.label)
        } else {
            format!("   {}) {}", index + 1, choice.label)
        }
    });
    let gap = if say.choices.is_empty() { None } else { Some(String::new()) };
    let text: Vec<String> = [say.text.clone()].into_iter().chain(gap).chain(choices).collect();
    show(output, &text.join("\n")).await?;
    Ok(say.choices.clone())
}

async fn show(output: &mut (impl AsyncWrite + Unpin), text: &str) -> std::io::Result<()> {
    output.write_all(b"\n").await?;
    for line in text.lines() {
        for part in wrapped(line) {
            output.write_all(part.as_bytes()).await?;
            output.write_all(b"\n").await?;
        }
    }
    output.flush().await
}

/// As wide as is pleasant to read.
const WIDTH: usize = 80;

fn wrapped(line: &str) -> Vec<String> {
    let indent: String = line.chars().take_while(|c| *c == ' ').collect();
    let hang = if line.starts_with("• ") { "  " } else { "" };
    let mut lines = vec![indent];
    for word in line.trim_start().split(' ') {
        let Some(last) = lines.last_mut() else { continue };
        if !last.trim().is_empty() && last.chars().count() + 1 + word.chars().count() > WIDTH {
            lines.push(format!("{hang}{word}"));
        } else {
            if !last.trim().is_empty() {
                last.push(' ');
            }
            last.push_str(word);
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn more_is_asked_for_in_a_word_or_three() {
        let more = Choice { id: "do-more-gutter".to_owned(), label: "More".to_owned() };
        for (text, asks) in [
            ("more", true),
            ("Tell me more!", true),
            ("some more please", false),
            ("can i use one more", false),
            ("", false),
        ] {
            assert_eq!(asks_for(&more, text), asks, "{text}");
        }
    }
}
