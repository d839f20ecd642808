//! The list for a supplier: what they see, what they send back, and when the link ends.

use std::sync::atomic::Ordering;

use crate::http::{form, send};
use crate::server::{DAY, Person, Server, TURNED};

const FORM: (&str, &str) = ("content-type", "application/x-www-form-urlencoded");

#[tokio::test]
async fn exactly_what_is_shared_is_shown_first_and_nothing_else_is() {
    let server = Server::start().await;
    let mut person = Person::new(&server).await;
    person.plan().await;
    let asked = person.say("send to supplier").await.body;
    let preview = asked.rsplit("This is what your supplier would see").next().expect("a preview");
    let link = person.press("yes").await.body;
    let token = link.rsplit("/s/").next().expect("a link").split(['"', '<']).next().expect("a token");
    assert_eq!(token.len(), 43, "256 bits");
    let sheet = server.get(&format!("/s/{token}")).await;
    assert_eq!(sheet.status, 200);
    let csv = server.get(&format!("/s/{token}/list.csv")).await.body;
    for line in csv.lines().skip(1) {
        let fields: Vec<&str> = line.split(',').collect();
        assert!(fields.len() >= 10, "{line}");
        let name = line.split('"').nth(1).unwrap_or(fields[1]);
        assert!(preview.contains(name), "{name} was not shown before");
        assert!(sheet.body.contains(name), "{name} is not on the sheet");
    }
    let id = person.cookie.split('=').nth(1).and_then(|value| value.split('.').next()).expect("an id");
    for secret in [id, "web:", "25°", "felt", "Felt", "2.4 m", "1.8 m", "Spare", "set-cookie"] {
        assert!(!sheet.body.contains(secret) && !csv.contains(secret), "{secret} is shown to the supplier");
    }
    assert_eq!(sheet.header("set-cookie"), "");
}

#[tokio::test]
async fn no_is_no() {
    let server = Server::start().await;
    let mut person = Person::new(&server).await;
    person.plan().await;
    person.say("send to supplier").await;
    let page = person.press("no").await.body;
    assert!(!page.contains("/s/"), "a link was made against a no");
    assert!(page.contains("Your plan is ready"), "and the chat goes on where it was");
}

#[tokio::test]
async fn the_answer_comes_to_the_chat_with_its_totals() {
    let server = Server::start().await;
    let mut person = Person::new(&server).await;
    person.plan().await;
    let path = person.share("send to supplier").await;
    let fields = form(&[
        ("stock-0", "in"),
        ("price-0", "£60"),
        ("stock-1", "instead"),
        ("instead-1", "zinc, 1 m"),
        ("price-1", "10.50"),
        ("stock-2", "out"),
    ]);
    let answer = send(server.address, "POST", &path, &[FORM], &fields).await;
    assert_eq!(answer.status, 303, "{}", answer.body);
    assert!(server.get(&format!("{path}?sent=1")).await.body.contains("Your answer has been sent"));
    let page = person.page().await.body;
    let told = page.rsplit("Your supplier has answered.").next().expect("told");
    for part in [
        "in stock, £60.00",
        "instead “zinc, 1 m”, £10.50",
        "not in stock",
        "In all £70.50, without the 9 lines that have no price.",
        "check that its size is the same",
    ] {
        assert!(told.contains(part), "{part}: {told}");
    }
}

#[tokio::test]
async fn an_answer_that_cannot_be_read_is_shown_again_and_not_sent() {
    let server = Server::start().await;
    let mut person = Person::new(&server).await;
    person.plan().await;
    let path = person.share("send to supplier").await;
    for (fields, said) in [
        (form(&[("price-0", "a lot"), ("stock-0", "in")]), "plain number"),
        (form(&[("price-0", "$12"), ("stock-0", "in")]), "This list is in pounds."),
        (form(&[("price-0", "12 €")]), "This list is in pounds."),
        (form(&[("stock-0", "instead")]), "Say what you have instead"),
        (form(&[("stock-0", "perhaps")]), "Say what you have instead"),
        (String::new(), "Nothing is marked yet"),
    ] {
        let answer = send(server.address, "POST", &path, &[FORM], &fields).await;
        assert_eq!(answer.status, 422, "{fields}");
        assert!(answer.body.contains(said), "{fields}: {}", answer.body);
    }
    assert!(!person.page().await.body.contains("Your supplier has answered"));
}

#[tokio::test]
async fn a_link_ends_when_it_is_closed_and_so_do_all_others() {
    let server = Server::start().await;
    let mut person = Person::new(&server).await;
    person.plan().await;
    let first = person.share("send to supplier").await;
    let second = person.share("send it to the merchant for 7 days").await;
    assert_ne!(first, second);
    for path in [&first, &second] {
        assert_eq!(server.get(path).await.status, 200);
    }
    let said = person.say("revoke the link").await.body;
    assert!(said.contains("The link is closed."), "{said}");
    for path in [&first, &second] {
        let gone = server.get(path).await;
        assert_eq!(gone.status, 404);
        assert!(gone.body.contains("This link no longer works"));
        let answer = send(server.address, "POST", path, &[FORM], &form(&[("stock-0", "in")])).await;
        assert_eq!(answer.status, 404);
        assert_eq!(server.get(&format!("{path}/list.csv")).await.status, 404);
    }
}

#[tokio::test]
async fn starting_again_closes_links_too() {
    let server = Server::start().await;
    let mut person = Person::new(&server).await;
    person.plan().await;
    let path = person.share("send to supplier").await;
    person.say("start again").await;
    person.press("yes").await;
    assert_eq!(server.get(&path).await.status, 404);
}

#[tokio::test]
async fn deleting_everything_deletes_links_too() {
    let server = Server::start().await;
    let mut person = Person::new(&server).await;
    person.plan().await;
    let path = person.share("send to supplier").await;
    person.say("delete my data").await;
    let page = person.press("yes").await.body;
    assert!(page.contains("eleted") && !page.contains("You said:"), "{page}");
    assert_eq!(server.get(&path).await.status, 404);
    // The chat begins anew, with nothing known.
    let again = person.say("my answers").await.body;
    assert!(again.contains("Hello, I'm lapwise.") && !again.contains("Felt."), "{again}");
}

#[tokio::test]
async fn a_link_ends_when_its_time_is_up() {
    let server = Server::with_clock().await;
    let mut person = Person::new(&server).await;
    person.plan().await;
    let usual = person.share("send to supplier").await;
    let short = person.share("send to supplier for 2 days").await;
    TURNED.store(2 * DAY, Ordering::Relaxed);
    assert_eq!((server.get(&usual).await.status, server.get(&short).await.status), (200, 404));
    TURNED.store(30 * DAY - 1, Ordering::Relaxed);
    assert_eq!(server.get(&usual).await.status, 200);
    TURNED.store(30 * DAY, Ordering::Relaxed);
    assert_eq!(server.get(&usual).await.status, 404);
    // The cookie, too, is not for ever.
    TURNED.store(91 * DAY, Ordering::Relaxed);
    assert!(person.page().await.header("set-cookie").contains("lapwise="), "a new visitor");
}

#[tokio::test]
async fn a_changed_plan_says_that_the_link_is_old() {
    let server = Server::start().await;
    let mut person = Person::new(&server).await;
    person.plan().await;
    let path = person.share("send to supplier").await;
    person.say("change the length to 4.8 m").await;
    let changed = person.say("yes").await.body;
    assert!(changed.contains("The link you gave still shows the old one"), "{changed}");
    send(server.address, "POST", &path, &[FORM], &form(&[("stock-0", "in")])).await;
    assert!(person.page().await.body.contains("your plan has changed since they got the list"));
}
