//! Attacks: each is answered properly, and nothing leaks.

use std::time::{Duration, Instant};

use tokio::io::{AsyncReadExt as _, AsyncWriteExt as _};
use tokio::net::TcpStream;

use crate::http::{form, send, send_raw};
use crate::server::{Person, Server, roomy};

const FORM: (&str, &str) = ("content-type", "application/x-www-form-urlencoded");

/// Text that would do harm where it is not escaped.
const VENOM: &[&str] = &[
    "<script>alert(1)</script>",
    "\"><img src=x onerror=alert(1)>",
    "'; DROP TABLE chats; --",
    "{{ 7 * 7 }} {% include \"/etc/passwd\" %}",
    "a\r\nset-cookie: evil=1\r\n\r\n<h1>x</h1>",
    "\u{202e}gnp.exe\u{2066}",
    "javascript:alert(1) http://127.0.0.1/s/aaa",
    "&lt;b&gt; &amp; \u{0}\u{1b}[31m",
];

fn is_harmless(page: &str) -> bool {
    // The chat's own script is the only one, and no tag of theirs was opened.
    page.matches("<script").count() <= 1
        && !page.contains("<img src=x")
        && !page.contains("<h1>x")
        && !page.contains("49 ")
}

#[tokio::test]
async fn what_people_type_is_never_markup() {
    let server = Server::start().await;
    let mut person = Person::new(&server).await;
    for text in VENOM {
        let page = person.say(text).await;
        assert!(is_harmless(&page.body), "{text}: {}", page.body);
        assert!(
            !page.headers.contains_key("set-cookie") || !page.header("set-cookie").contains("evil"),
            "{text}"
        );
        assert!(!page.body.contains("href=\"javascript"), "{text}");
    }
}

#[tokio::test]
async fn a_button_that_was_never_there_is_harmless() {
    let server = Server::start().await;
    let person = Person::new(&server).await;
    for (number, choice) in [
        "<script>:x",
        "999999999999999999999999:felt",
        ":../../etc/passwd",
        "-1:felt",
        ":",
        "",
        ":change-<b>",
        ":do-plan",
        ":pick-18446744073709551616",
        ":do-show-<i>",
    ]
    .iter()
    .enumerate()
    {
        let id = format!("b{number}");
        let answer = person.post(&[("token", &person.token), ("id", &id), ("choice", choice)]).await;
        assert_eq!(answer.status, 303, "{choice}");
    }
    assert!(is_harmless(&person.page().await.body));
}

#[tokio::test]
async fn what_a_supplier_types_is_never_markup_nor_a_link() {
    let server = Server::start().await;
    let mut person = Person::new(&server).await;
    person.plan().await;
    let path = person.share("send to supplier").await;
    for text in VENOM {
        let fields = form(&[("stock-0", "instead"), ("instead-0", text), ("price-1", text)]);
        let answer = send(server.address, "POST", &path, &[FORM], &fields).await;
        assert_eq!(answer.status, 422, "{text} is no price");
        assert!(is_harmless(&answer.body), "{text}: {}", answer.body);
        let fields = form(&[("stock-0", "instead"), ("instead-0", text)]);
        let answer = send(server.address, "POST", &path, &[FORM], &fields).await;
        assert_eq!(answer.status, 303, "{text}");
        for page in [person.page().await, server.get(&path).await] {
            assert!(is_harmless(&page.body), "{text}: {}", page.body);
            assert!(!page.body.contains("href=\"http://127.0.0.1/s/aaa"), "{text}");
            assert!(!page.body.contains('\u{202e}') || text.contains('\u{202e}'), "{text}");
        }
    }
    let told = person.page().await.body;
    assert!(!told.contains('\u{202e}'), "nothing turns the direction of what follows");
}

#[tokio::test]
async fn a_form_needs_the_cookie_and_the_token_of_its_own_page() {
    let server = Server::start().await;
    let (me, you) = (Person::new(&server).await, Person::new(&server).await);
    let forged = format!("{}x", me.cookie);
    let other = me.cookie.replace("lapwise=", "lapwise=aaaa");
    let mixed = format!("{}; {}", "lapwise=1.2.3", "other=1");
    for (cookie, token) in [
        (me.cookie.as_str(), you.token.as_str()),
        (&me.cookie, ""),
        (&me.cookie, "AAAA"),
        (&forged, &me.token),
        (&other, &me.token),
        (&mixed, &me.token),
        ("", &me.token),
    ] {
        let fields = form(&[("token", token), ("id", "x"), ("text", "felt")]);
        let answer = send(server.address, "POST", "/say", &[FORM, ("cookie", cookie)], &fields).await;
        assert_eq!(answer.status, 403, "{cookie} {token}");
        assert!(!answer.body.contains("felt"));
    }
    assert!(!me.page().await.body.contains("You said:"));
}

#[tokio::test]
async fn another_site_can_send_nothing() {
    let server = Server::start().await;
    let mut me = Person::new(&server).await;
    let fields = form(&[("token", &me.token), ("id", "x"), ("text", "felt")]);
    for site in ["cross-site", "same-site"] {
        let headers = [FORM, ("cookie", me.cookie.as_str()), ("sec-fetch-site", site)];
        assert_eq!(send(server.address, "POST", "/say", &headers, &fields).await.status, 403);
    }
    me.plan().await;
    let path = me.share("send to supplier").await;
    let headers = [FORM, ("sec-fetch-site", "cross-site")];
    assert_eq!(send(server.address, "POST", &path, &headers, &form(&[("stock-0", "in")])).await.status, 403);
}

#[tokio::test]
async fn nobody_reads_anothers_chat_or_files() {
    let server = Server::start().await;
    let mut me = Person::new(&server).await;
    me.plan().await;
    let page = me.page().await.body;
    let file = page.split("src=\"/file/").nth(1).and_then(|rest| rest.split('"').next()).expect("a file");
    let file = format!("/file/{file}");
    let mine = send(server.address, "GET", &file, &[("cookie", &me.cookie)], "").await;
    assert_eq!(
        (mine.status, mine.header("content-type")),
        (200, "image/png"),
        "the roof, as it was understood"
    );
    assert!(mine.header("content-security-policy").contains("sandbox"));
    let you = Person::new(&server).await;
    for cookie in [you.cookie.as_str(), ""] {
        let answer = send(server.address, "GET", &file, &[("cookie", cookie)], "").await;
        assert_eq!(answer.status, 404);
        let answer = send(server.address, "GET", "/", &[("cookie", cookie)], "").await;
        assert!(!answer.body.contains("You said:"));
        let answer = send(server.address, "GET", "/events?after=0", &[("cookie", "")], "").await;
        assert_eq!(answer.status, 204);
    }
}

#[tokio::test]
async fn tricks_with_paths_lead_nowhere() {
    let server = Server::start().await;
    let me = Person::new(&server).await;
    let digest = "a".repeat(64);
    for path in [
        "/file/../../etc/passwd",
        "/file/%2e%2e%2f%2e%2e%2fetc%2fpasswd/x",
        "/file/..%2f..%2fweb.key/x",
        &format!("/file/{digest}/..%2f..%2fweb.key"),
        &format!("/file/{digest}/x%0d%0aset-cookie:%20a=b"),
        "/file/web.key/x",
        "/web.key",
        "//etc/passwd",
        "/s/..%2f..%2fetc%2fpasswd",
        "/s/%00",
        "/s/",
        "/templates/chat.html",
        "/%",
        "/file/%ff/x",
    ] {
        let answer = send(server.address, "GET", path, &[("cookie", &me.cookie)], "").await;
        assert!((400..=404).contains(&answer.status), "{path}: {}", answer.status);
        assert!(!answer.body.contains("root:") && !answer.headers.contains_key("set-cookie"), "{path}");
    }
}

#[tokio::test]
async fn tokens_of_links_cannot_be_guessed_or_bent() {
    let server = Server::start().await;
    let mut me = Person::new(&server).await;
    me.plan().await;
    let path = me.share("send to supplier").await;
    let upper = path.to_uppercase().replace("/S/", "/s/");
    let cut = &path[..path.len() - 1];
    for wrong in [
        upper.as_str(),
        cut,
        &format!("{path}A"),
        &format!("{cut}!"),
        "/s/*",
        &format!("/s/{}", "A".repeat(43)),
    ] {
        let answer = server.get(wrong).await;
        assert_eq!(answer.status, 404, "{wrong}");
    }
    assert_eq!(server.get(&path).await.status, 200);
}

#[tokio::test]
async fn a_body_of_ten_megabytes_is_refused_unread() {
    let server = Server::start().await;
    let me = Person::new(&server).await;
    let body = "a".repeat(10_000_000);
    for (path, cookie) in [("/say", me.cookie.as_str()), ("/s/x", ""), ("/nowhere", "")] {
        let begun = Instant::now();
        let headers = [FORM, ("cookie", cookie)];
        let fields = format!("token={}&id=x&text={body}", me.token);
        let answer = send(server.address, "POST", path, &headers, &fields).await;
        // A client that still writes when we close may miss the answer: then its connection is simply gone.
        assert!(matches!(answer.status, 413 | 404 | 0), "{path}: {}", answer.status);
        assert!(begun.elapsed() < Duration::from_secs(5));
    }
    let said = format!(
        "POST /say HTTP/1.1\r\nhost: x\r\ncontent-type: {}\r\ncontent-length: 10000000\r\n\r\n",
        FORM.1
    );
    let answer = send_raw(server.address, said.as_bytes()).await;
    assert_eq!(answer.status, 413, "refused by what it announces, before a byte of it");
    let long = "a".repeat(2_001);
    let answer = me.post(&[("token", &me.token), ("id", "x"), ("text", &long)]).await;
    assert_eq!(answer.status, 413);
    assert!(me.page().await.status == 200 && !me.page().await.body.contains("aaaa"));
}

#[tokio::test]
async fn broken_requests_are_refused_and_the_server_lives() {
    let server = Server::start().await;
    let huge = format!("GET / HTTP/1.1\r\nhost: x\r\nx: {}\r\n\r\n", "a".repeat(100_000));
    let many = format!("GET / HTTP/1.1\r\nhost: x\r\n{}\r\n", "a: b\r\n".repeat(500));
    let both =
        "POST /say HTTP/1.1\r\nhost: x\r\ncontent-length: 5\r\ntransfer-encoding: chunked\r\n\r\n0\r\n\r\n";
    for bytes in
        [huge.as_str(), &many, "\u{0}\u{1}\u{2}\r\n\r\n", "GET\r\n\r\n", "GET / HTTP/9.9\r\n\r\n", both]
    {
        let answer = send_raw(server.address, bytes.as_bytes()).await;
        assert!(
            answer.status == 0 || (400..500).contains(&answer.status) || answer.status == 505,
            "{}: {bytes:.40}",
            answer.status
        );
    }
    assert_eq!(server.get("/healthz").await.status, 200);
}

#[tokio::test]
async fn whoever_sends_slowly_is_hung_up_on() {
    let mut limits = roomy();
    limits.listen.head_within = Duration::from_millis(300);
    limits.answer_within = Duration::from_millis(300);
    let server = Server::with_limits(limits).await;
    let slow_head = "GET / HTTP/1.1\r\nhost: x\r\nx-slow: ";
    let slow_body = "POST /say HTTP/1.1\r\nhost: x\r\ncontent-type: application/x-www-form-urlencoded\r\ncontent-length: 500\r\n\r\n";
    for start in [slow_head, slow_body, ""] {
        let mut stream = TcpStream::connect(server.address).await.expect("a connection");
        stream.write_all(start.as_bytes()).await.expect("sent");
        let begun = Instant::now();
        let mut heard = Vec::new();
        // A drop at a time, each well within any usual patience.
        let closed = loop {
            let _ = stream.write_all(b"a").await;
            match tokio::time::timeout(Duration::from_millis(50), stream.read_buf(&mut heard)).await {
                Ok(Ok(0) | Err(_)) => break true,
                Ok(Ok(_)) if heard.starts_with(b"HTTP/1.1 408") => break true,
                _ if begun.elapsed() > Duration::from_secs(5) => break false,
                _ => {}
            }
        };
        assert!(closed, "{start:?} was let go on for {:?}", begun.elapsed());
    }
    assert_eq!(server.get("/healthz").await.status, 200);
}

#[tokio::test]
async fn whoever_asks_too_fast_waits() {
    let mut limits = roomy();
    limits.words_per_minute = 5.try_into().expect("not zero");
    limits.looks_per_minute = 20.try_into().expect("not zero");
    let server = Server::with_limits(limits).await;
    let me = Person::new(&server).await;
    let mut statuses = Vec::new();
    for number in 0..7 {
        let id = format!("m{number}");
        statuses.push(me.post(&[("token", &me.token), ("id", &id), ("text", "help")]).await.status);
    }
    assert_eq!(statuses, [303, 303, 303, 303, 303, 429, 429]);
    // Another client behind the same proxy is not made to wait for this one.
    let headers = [FORM, ("cookie", me.cookie.as_str()), ("x-forwarded-for", "203.0.113.9, 198.51.100.7")];
    let fields = form(&[("token", &me.token), ("id", "z"), ("text", "help")]);
    assert_eq!(send(server.address, "POST", "/say", &headers, &fields).await.status, 303);
    let mut last = 0;
    for _ in 0..25 {
        last = server.get("/s/AAAA").await.status;
    }
    assert_eq!(last, 429, "links cannot be tried out at will");
    assert_eq!(server.get("/healthz").await.status, 200, "health is never refused");
}

/// Opens a stream of news for somebody, as a client that the proxy names; answers the connection and the first line.
async fn stream_of(server: &Server, cookie: &str, client: &str) -> (TcpStream, String) {
    let mut stream = TcpStream::connect(server.address).await.expect("a connection");
    let request = format!(
        "GET /events?after=99 HTTP/1.1\r\nhost: x\r\ncookie: {cookie}\r\nx-forwarded-for: {client}\r\n\r\n"
    );
    stream.write_all(request.as_bytes()).await.expect("sent");
    let mut head = [0; 64];
    let read = stream.read(&mut head).await.expect("an answer");
    let first = String::from_utf8_lossy(&head[..read]).lines().next().unwrap_or_default().to_owned();
    (stream, first)
}

#[tokio::test]
async fn one_client_cannot_hold_all_streams_and_each_stream_ends() {
    let mut limits = roomy();
    limits.watchers_of_client = 3;
    limits.watched_for = Duration::from_secs(1);
    let server = Server::with_limits(limits).await;
    let mut people = Vec::new();
    for _ in 0..5 {
        people.push(Person::new(&server).await);
    }
    let mut open = Vec::new();
    // A cookie is free: it is the client that counts, an IPv6 one by its network.
    for (number, person) in people.iter().enumerate() {
        let client = format!("2001:db8:1:2::{number}");
        let (stream, first) = stream_of(&server, &person.cookie, &client).await;
        assert_eq!(first.contains(" 200 "), number < 3, "{number}: {first}");
        open.push(stream);
    }
    let (_, first) = stream_of(&server, &people[4].cookie, "2001:db8:1:3::1").await;
    assert!(first.contains(" 200 "), "another network: {first}");
    let mut rest = Vec::new();
    let ended = tokio::time::timeout(Duration::from_secs(5), open[0].read_to_end(&mut rest)).await;
    assert!(String::from_utf8_lossy(&rest).ends_with("0\r\n\r\n") || ended.is_ok(), "it never ends");
    let (_, first) = stream_of(&server, &people[4].cookie, "2001:db8:1:2::9").await;
    assert!(first.contains(" 200 "), "its places are free again: {first}");
}
