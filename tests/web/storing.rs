//! What a visitor can make the server keep: words, and nothing that grows by itself.

use lapwise::app::Budget;
use lapwise::message::ChatId;
use lapwise::store::Store;

use crate::http::send;
use crate::server::{Person, Server, between};

impl Server {
    /// How many bytes are kept beside the events of the only chat there is.
    async fn kept(&self) -> usize {
        let chats = self.store.chats().await.expect("chats");
        let [(chat, _)] = chats.as_slice() else { panic!("{} chats", chats.len()) };
        let others = self.store.list_other(Some(ChatId::clone(chat))).await.expect("others");
        others.iter().map(|other| other.value.len()).sum()
    }
}

/// The address of the last file of that name on the page.
fn href(page: &str, name: &str) -> String {
    let before = page.rsplit_once(&format!("/{name}\"")).expect("the file is shown").0;
    format!("{}/{name}", &before[before.rfind("/file/").expect("a link to it")..])
}

#[tokio::test]
async fn an_export_holds_no_other_and_none_is_kept() {
    let server = Server::start().await;
    let mut person = Person::new(&server).await;
    person.plan().await;
    let mut sizes = Vec::new();
    for _ in 0..12 {
        let page = person.say("/export").await.body;
        let file = href(&page, "everything-kept.json");
        let export = send(server.address, "GET", &file, &[("cookie", &person.cookie)], "").await;
        assert_eq!((export.status, export.header("content-type")), (200, "application/json"));
        let held: serde_json::Value = serde_json::from_str(&export.body).expect("JSON");
        assert!(held["events"].as_array().expect("events").len() > 10);
        assert!(!export.body.contains("base64"));
        sizes.push(export.body.len());
    }
    let (first, last) = (sizes[0], sizes[11]);
    assert!(last < first + 12 * 2_000, "{sizes:?}");
    assert!(server.kept().await < 100_000, "{}", server.kept().await);
}

#[tokio::test]
async fn drawings_and_papers_are_made_when_they_are_looked_at() {
    let server = Server::start().await;
    let mut person = Person::new(&server).await;
    person.plan().await;
    let page = person.say("setting out").await.body;
    let drawing = page.find(".png").map(|at| {
        let start = page[..at].rfind("/file/").expect("a link");
        page[start..at + 4].to_owned()
    });
    let drawing = drawing.expect("a drawing is shown");
    for _ in 0..2 {
        let made = send(server.address, "GET", &drawing, &[("cookie", &person.cookie)], "").await;
        assert_eq!((made.status, made.header("content-type")), (200, "image/png"));
        assert!(made.body.len() > 5_000, "{}", made.body.len());
    }
    assert!(server.kept().await < 100_000, "{}", server.kept().await);
    // What fell out of the chat is gone, and so is what was never in it.
    let digest = between(&drawing, "/file/", "/").expect("a digest");
    let other = drawing.replace(digest, &"0".repeat(64));
    let answer = send(server.address, "GET", &other, &[("cookie", &person.cookie)], "").await;
    assert_eq!(answer.status, 404);
}

#[tokio::test]
async fn a_file_shows_the_roof_as_it_was_when_it_was_said() {
    let server = Server::start().await;
    let mut person = Person::new(&server).await;
    person.plan().await;
    let page = person.say("/export").await.body;
    let export = href(&page, "everything-kept.json");
    let before = person.say("papers").await.body;
    let listed = before.contains("roof-pack.pdf");
    assert!(listed, "{before}");
    let pack = href(&before, "supplier.csv");
    let cookie = person.cookie.clone();
    let get = async |path: &str| send(server.address, "GET", path, &[("cookie", &cookie)], "").await.body;
    let then = get(&pack).await;
    person.say("the roof is 4.8 m long").await;
    assert_eq!(get(&pack).await, then, "the list of the plan that was given");
    assert!(get(&export).await.len() > 1_000);
}

#[tokio::test]
async fn a_chat_that_is_full_says_so_kindly_and_can_be_exported_and_begun_afresh() {
    let server = Server::with_budget(Budget { chat: 40_000, ..Budget::default() }).await;
    let mut person = Person::new(&server).await;
    person.plan().await;
    let answers = ["the roof is 2.6 m long", "the roof is 2.8 m long"];
    let mut told = 0;
    for turn in 0..200 {
        let page = person.say(answers[turn % 2]).await.body;
        told = page.matches("This chat is full").count();
        if told > 2 {
            break;
        }
    }
    assert!(told > 2, "it was never full");
    let kept = server.kept().await;
    for turn in 0..30 {
        person.say(answers[turn % 2]).await;
    }
    assert!(server.kept().await < kept + 20_000, "{kept} and then {}", server.kept().await);
    let page = person.say("/export").await.body;
    let file = href(&page, "everything-kept.json");
    let export = send(server.address, "GET", &file, &[("cookie", &person.cookie)], "").await;
    assert!(export.body.contains("\"events\""));
    person.say("/delete").await;
    let page = person.press("yes").await.body;
    assert!(page.contains("deleted"), "{page}");
    let page = person.say("felt").await.body;
    assert!(page.contains("What is on the roof now: Felt."), "{page}");
}

#[tokio::test]
async fn where_all_is_full_nobody_new_is_taken() {
    let server = Server::with_budget(Budget { all: 100, ..Budget::default() }).await;
    Person::new(&server).await.say("felt").await;
    let page = Person::new(&server).await.say("felt").await.body;
    assert!(page.contains("I have no room left"), "{page}");
}
