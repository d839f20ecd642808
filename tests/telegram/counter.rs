//! A small conversation, and a real one: it counts, asks, remembers, and keeps all of it in the store.

use std::sync::Arc;
use std::time::Duration;

use lapwise::message::{Attachment, ChatId, Choice, Content, Inbound, Say};
use lapwise::serve::{Answers, Menu, Phrase, TurnError, Turned};
use lapwise::store::{Commit, InboxKey, Store};
use serde_json::{Value, json};

/// Counts what it is told; `ask` puts a question, `/file`, `/long`, `/slow`, `/fault`, `/panic` and `/die` do as they say.
pub struct Counter<S> {
    pub store: Arc<S>,
}

/// The token of the question that stands open: how many events there were when it was put.
fn open_question(events: &[Vec<u8>]) -> Option<u64> {
    let last = events.last()?;
    (last == b"asked").then(|| u64::try_from(events.len()).unwrap())
}

fn question(prompt: u64) -> Say {
    let labels = ["Red", "Green & <blue>", "A colour that is far too long for half a row"];
    let choices = labels.iter().map(|label| Choice { id: label[..3].to_owned(), label: (*label).to_owned() });
    Say {
        id: "ask".into(),
        text: "Which colour < or > & why?".into(),
        choices: choices.collect(),
        prompt: Some(prompt),
        ..Say::default()
    }
}

fn words(text: String) -> Say {
    Say { id: "words".into(), text, ..Say::default() }
}

impl<S: Store> Answers for Counter<S> {
    async fn turn(&self, key: InboxKey, inbound: Inbound) -> Result<Turned, TurnError> {
        let session = self.store.load(inbound.chat.clone()).await?;
        let count = session.events.len() + 1;
        let open = open_question(&session.events);
        let mut answered = false;
        let (event, say) = match inbound.content {
            Content::Text(text) => match text.as_str() {
                "/panic" => panic!("as asked"),
                "/die" => std::process::abort(),
                "/fault" => return Err(TurnError::Fault("as asked".into())),
                "ask" => (Some("asked".to_owned()), question(u64::try_from(count).unwrap())),
                "/file" => (
                    Some("file".to_owned()),
                    Say {
                        files: vec![Attachment {
                            name: "plan.txt".into(),
                            media_type: "text/plain".into(),
                            alt: "The plan & all <of> it".into(),
                            bytes: vec![b'x'; 5_000],
                            recipe: None,
                        }],
                        ..words("Here it is.".into())
                    },
                ),
                "/long" => (Some("long".into()), words("A paragraph of some length.\n\n".repeat(1_000))),
                "/slow" => {
                    tokio::time::sleep(Duration::from_millis(500)).await;
                    (Some("slow".into()), words("That took a while.".into()))
                }
                _ => (Some(text.clone()), words(format!("{count}: {text} #{}", inbound.id))),
            },
            Content::Choice { prompt, id } if open.is_some() && prompt == open => {
                answered = true;
                (Some(format!("chose {id}")), words(format!("{count}: chose {id}")))
            }
            Content::Choice { .. } => match open {
                Some(prompt) => (None, question(prompt)),
                None => (None, words("There is no question.".into())),
            },
            Content::Other(kind) => (Some(kind.clone()), words(format!("{count}: ({kind})"))),
        };
        self.store
            .commit(Commit {
                chat: inbound.chat,
                read_at: session.revision,
                events: event.into_iter().map(String::into_bytes).collect(),
                says: vec![write(&say)],
                worked: Some(key),
                now: 1_700_000_000,
            })
            .await?;
        Ok(Turned { answered })
    }

    fn read_say(&self, say: &[u8]) -> Result<Say, String> {
        let value: Value = serde_json::from_slice(say).map_err(|error| error.to_string())?;
        let text = |value: &Value| value.as_str().unwrap().to_owned();
        let list = |value: &Value| value.as_array().unwrap().clone();
        Ok(Say {
            id: text(&value["id"]),
            text: text(&value["text"]),
            prompt: value["prompt"].as_u64(),
            choices: list(&value["choices"])
                .iter()
                .map(|choice| Choice { id: text(&choice[0]), label: text(&choice[1]) })
                .collect(),
            files: list(&value["files"])
                .iter()
                .map(|file| Attachment {
                    name: text(&file[0]),
                    media_type: text(&file[1]),
                    alt: text(&file[2]),
                    bytes: text(&file[3]).into_bytes(),
                    recipe: None,
                })
                .collect(),
        })
    }

    async fn made(&self, _: ChatId, files: Vec<Attachment>) -> Result<Vec<Attachment>, TurnError> {
        Ok(files)
    }

    fn apology(&self) -> Result<Vec<u8>, String> {
        Ok(write(&words("our fault".to_owned())))
    }

    fn phrase(&self, phrase: Phrase) -> String {
        format!("phrase {phrase:?}")
    }

    fn menus(&self) -> Vec<Menu> {
        let commands = vec![("help".to_owned(), "What I can do".to_owned())];
        vec![
            Menu { language: None, commands: commands.clone() },
            Menu { language: Some("en".into()), commands },
        ]
    }
}

fn write(say: &Say) -> Vec<u8> {
    let file = |file: &Attachment| {
        json!([file.name, file.media_type, file.alt, String::from_utf8(file.bytes.clone()).unwrap()])
    };
    json!({
        "id": say.id,
        "text": say.text,
        "prompt": say.prompt,
        "choices": say.choices.iter().map(|choice| json!([choice.id, choice.label])).collect::<Vec<_>>(),
        "files": say.files.iter().map(file).collect::<Vec<_>>(),
    })
    .to_string()
    .into_bytes()
}
