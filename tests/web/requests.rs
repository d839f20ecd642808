//! The page by hand-made requests: what is sent twice, what is kept, what every answer carries.

use crate::http::send;
use crate::server::{Person, Server, between};

#[tokio::test]
async fn looking_keeps_nothing_and_answering_does() {
    let server = Server::start().await;
    let page = server.get("/").await;
    assert!(page.body.contains("Hello, I&#x27;m lapwise."), "{}", page.body);
    let mut person = Person::new(&server).await;
    let said = person.say("felt").await.body;
    assert!(said.contains("Hello, I'm lapwise."), "the greeting comes first in what is kept");
    let (_, after) = said.split_once("You said:").expect("what was said");
    assert!(after.contains("felt") && after.contains("What is on the roof now: Felt."), "{after}");
    assert_eq!(after.matches("I'm lapwise.").count(), 0, "nobody is greeted twice");
}

#[tokio::test]
async fn a_message_sent_twice_is_worked_once() {
    let server = Server::start().await;
    let person = Person::new(&server).await;
    for _ in 0..2 {
        let answer = person.post(&[("token", &person.token), ("id", "same"), ("text", "felt")]).await;
        assert_eq!(answer.status, 303);
    }
    let page = person.page().await.body;
    assert_eq!(page.matches("You said:").count(), 1, "{page}");
}

#[tokio::test]
async fn messages_sent_at_once_are_all_worked() {
    let server = Server::start().await;
    let person = Person::new(&server).await;
    let sent = (0..8).map(|number| {
        let id = format!("at-once-{number}");
        let person = &person;
        async move { person.post(&[("token", &person.token), ("id", &id), ("text", "help")]).await.status }
    });
    let statuses = futures_util::future::join_all(sent).await;
    assert_eq!(statuses, [303; 8]);
    assert_eq!(person.page().await.body.matches("You said:").count(), 8);
}

#[tokio::test]
async fn with_the_script_the_answer_is_the_news_alone() {
    let server = Server::start().await;
    let person = Person::new(&server).await;
    let fields =
        crate::http::form(&[("token", &person.token), ("id", "a"), ("text", "felt"), ("after", "0")]);
    let headers = [
        ("cookie", person.cookie.as_str()),
        ("content-type", "application/x-www-form-urlencoded"),
        ("accept", "application/json"),
    ];
    let answer = send(server.address, "POST", "/say", &headers, &fields).await;
    let news: serde_json::Value = serde_json::from_str(&answer.body).expect("JSON");
    assert_eq!(news["last"], 3, "{news}");
    assert!(
        news["entries"].as_str().expect("entries").starts_with("\n<div")
            || news["entries"].as_str().expect("entries").starts_with("<div"),
        "{news}"
    );
    assert!(!answer.body.contains("<html"), "no whole page");
}

#[tokio::test]
async fn every_answer_carries_what_keeps_it_safe() {
    let server = Server::at_public("https://roof.example").await;
    for path in ["/", "/lapwise.css", "/lapwise.js", "/nowhere", "/s/x", "/healthz", "/readyz"] {
        let answer = server.get(path).await;
        let policy = answer.header("content-security-policy");
        for rule in ["default-src 'none'", "script-src 'self'", "style-src 'self'", "frame-ancestors 'none'"]
        {
            assert!(policy.contains(rule), "{path}: {policy}");
        }
        assert!(!policy.contains("unsafe"), "{path}: {policy}");
        assert_eq!(answer.header("x-content-type-options"), "nosniff", "{path}");
        assert_eq!(answer.header("referrer-policy"), "no-referrer", "{path}");
        assert!(answer.header("strict-transport-security").contains("max-age"), "{path}");
    }
    let page = server.get("/").await;
    let cookie = page.header("set-cookie");
    for part in ["__Host-lapwise=", "; HttpOnly", "; SameSite=Lax", "; Secure", "; Path=/"] {
        assert!(cookie.contains(part), "{cookie}");
    }
    for inline in ["<script>", "<style", " style=", " onclick=", "javascript:"] {
        assert!(!page.body.contains(inline), "{inline}");
    }
}

#[tokio::test]
async fn health_and_readiness_answer() {
    let server = Server::start().await;
    assert_eq!((server.get("/healthz").await.status, server.get("/readyz").await.status), (200, 200));
}

#[tokio::test]
async fn what_arrives_later_is_told_at_once() {
    use tokio::io::{AsyncReadExt as _, AsyncWriteExt as _};
    let server = Server::start().await;
    let mut person = Person::new(&server).await;
    person.say("felt").await;
    let mut stream = tokio::net::TcpStream::connect(server.address).await.expect("a connection");
    let request = format!("GET /events?after=3 HTTP/1.1\r\nhost: x\r\ncookie: {}\r\n\r\n", person.cookie);
    stream.write_all(request.as_bytes()).await.expect("sent");
    let mut heard = String::new();
    let mut buffer = [0; 4096];
    while !heard.contains("text/event-stream") {
        let read = stream.read(&mut buffer).await.expect("a head");
        heard.push_str(&String::from_utf8_lossy(&buffer[..read]));
    }
    person.say("sound").await;
    while !heard.contains("event: said") || !heard.contains("Roof timbers: All sound.") {
        let read = stream.read(&mut buffer).await.expect("news");
        assert!(read > 0, "the stream ended: {heard}");
        heard.push_str(&String::from_utf8_lossy(&buffer[..read]));
    }
    assert!(between(&heard, "id: ", "\n").is_some(), "{heard}");
}

#[tokio::test]
async fn two_thousand_emoji_are_as_welcome_as_two_thousand_letters() {
    let server = Server::start().await;
    let person = Person::new(&server).await;
    for (sign, id) in [("a", "letters"), ("🏠", "emoji")] {
        let fits = sign.repeat(2_000);
        let answer = person.post(&[("token", &person.token), ("id", id), ("text", &fits)]).await;
        assert_eq!(answer.status, 303, "{sign}");
        let too_long = sign.repeat(2_340);
        let answer = person.post(&[("token", &person.token), ("id", "long"), ("text", &too_long)]).await;
        assert_eq!(answer.status, 413);
        assert!(answer.body.contains("Letters too many: 340."), "{}", answer.body);
    }
    // An end of a line is sent as two signs, and is one letter.
    let lines = "a\r\n".repeat(1_000);
    let answer = person.post(&[("token", &person.token), ("id", "lines"), ("text", &lines)]).await;
    assert_eq!(answer.status, 303);
}

#[tokio::test]
async fn a_page_that_keeps_words_unsealed_is_for_its_own_machine_alone() {
    let server = Server::private().await;
    let get = async |headers: &[(&str, &str)]| send(server.address, "GET", "/", headers, "").await;
    assert_eq!(get(&[]).await.status, 200);
    for through in [("x-forwarded-for", "203.0.113.9"), ("via", "1.1 proxy"), ("host", "roof.example:80")] {
        let answer = get(&[through]).await;
        assert_eq!(answer.status, 403, "{through:?}");
        assert!(answer.body.contains("Not open yet"), "{}", answer.body);
    }
}

#[tokio::test]
async fn a_page_without_a_messenger_is_watched_too() {
    let dir = tempfile::tempdir().expect("a directory");
    let port =
        std::net::TcpListener::bind("127.0.0.1:0").and_then(|free| free.local_addr()).expect("a port").port();
    let watch = format!("127.0.0.1:{port}");
    let mut served = std::process::Command::new(env!("CARGO_BIN_EXE_lapwise"))
        .args(["serve", "--web", "127.0.0.1:0", "--watch", &watch, "--data"])
        .arg(dir.path())
        .stdout(std::process::Stdio::null())
        .spawn()
        .expect("it starts");
    let address = watch.parse().expect("an address");
    let begun = std::time::Instant::now();
    while tokio::net::TcpStream::connect(address).await.is_err() {
        assert!(begun.elapsed().as_secs() < 60, "it does not listen");
        tokio::time::sleep(std::time::Duration::from_millis(50)).await;
    }
    for (path, holds) in
        [("/healthz", "alive"), ("/readyz", "ready"), ("/metrics", "lapwise_chats{state=\"new\"}")]
    {
        let answer = send(address, "GET", path, &[], "").await;
        assert!(
            answer.status == 200 && answer.body.contains(holds),
            "{path}: {} {}",
            answer.status,
            answer.body
        );
    }
    served.kill().expect("ended");
    served.wait().expect("ended");
}
