//! What goes wrong, and whom it must not touch.

use std::time::{Duration, Instant};

use crate::botapi::{Faults, Published, Server, poison};
use crate::harness::{Bot, config, unlimited, webhook};
use lapwise::serve::{Config, Limits, Way};
use lapwise::store::Store;
use serde_json::json;
use tokio::io::{AsyncReadExt as _, AsyncWriteExt as _};

#[tokio::test]
async fn a_message_that_cannot_be_worked_is_set_aside_and_the_next_one_is_answered() {
    let server = Server::start(Faults::default(), None).await;
    let bot = Bot::start(config(&server, unlimited()));
    server.says(1, "/panic");
    server.says(2, "/fault");
    let next = server.says(1, "and now?");
    let others = server.says(3, "unharmed");
    assert_eq!(server.message(3, 1).await.text, format!("1: unharmed #{others}"));
    server
        .until(1, "the apology and the answer", |m| {
            m.iter().any(|m| m.text == "our fault")
                && m.iter().any(|m| m.text == format!("1: and now? #{next}"))
        })
        .await;
    assert_eq!(server.message(2, 1).await.text, "our fault");
    let store = bot.stop().await;
    assert_eq!(store.aside(10).await.unwrap().len(), 2);
    assert!(store.arrived(10).await.unwrap().is_empty());
}

#[tokio::test]
async fn an_update_that_nobody_can_read_keeps_none_of_the_others_back() {
    for way in [Way::Polling, webhook()] {
        let server = Server::start(Faults::default(), None).await;
        let polls = matches!(way, Way::Polling);
        let bot = Bot::start(Config { way, ..config(&server, unlimited()) });
        for (chat, kind) in (1..).zip(poison::KINDS) {
            server.says(chat, "before");
            server.sends(chat, &json!({ "text": "felt", "x": format!("poison:{kind}") }));
            server.says(chat, "after");
        }
        for (chat, kind) in (1..).zip(poison::KINDS) {
            // Bytes that are no text are taken as signs that cannot be read; such a message is worked all the same.
            let answers = if kind == "no-text" { 3 } else { 2 };
            let last = server.message(chat, answers).await.text;
            assert!(last.starts_with(&format!("{answers}: after")) || !polls, "{kind}: {last}");
        }
        while server.unacknowledged() > 0 {
            tokio::time::sleep(Duration::from_millis(10)).await;
        }
        let store = bot.stop().await;
        assert_eq!(store.aside(10).await.unwrap().len(), 4);
    }
}

#[tokio::test]
async fn a_chat_told_to_wait_does_not_hold_up_another() {
    let server = Server::start(Faults::default(), None).await;
    let bot = Bot::start(config(&server, unlimited()));
    server.says(1, "first");
    server.message(1, 1).await;
    // The first call from now on is told to wait; it is chat 1's.
    server.behave(Faults { too_many: 1_000, ..Faults::default() });
    server.says(1, "second");
    while server.refused(429) == 0 {
        tokio::task::yield_now().await;
    }
    server.behave(Faults::default());
    let began = Instant::now();
    server.says(2, "another");
    server.message(2, 1).await;
    assert!(began.elapsed() < Duration::from_millis(800), "{:?}", began.elapsed());
    server.message(1, 2).await;
    bot.stop().await;
}

#[tokio::test]
async fn replies_arrive_through_failures_and_keep_their_order() {
    let server = Server::start(Faults::everywhere(7), None).await;
    let bot = Bot::start(config(&server, unlimited()));
    for turn in 0..10 {
        for chat in 1..=5 {
            server.says(chat, &format!("turn {turn}"));
        }
    }
    for chat in 1..=5 {
        let messages =
            server.until(chat, "the tenth reply", |m| m.iter().any(|m| m.text.starts_with("10: "))).await;
        let mut texts: Vec<String> = messages.into_iter().map(|m| m.text).collect();
        texts.dedup();
        let counts: Vec<_> =
            texts.iter().filter_map(|text| text.split(':').next()?.parse::<u32>().ok()).collect();
        assert_eq!(counts, (1..=10).collect::<Vec<_>>(), "{texts:?}");
    }
    bot.stop().await;
}

#[tokio::test]
async fn refused_formatting_falls_back_to_plain_text() {
    let server = Server::start(Faults { unparsable: 1_000, ..Faults::default() }, None).await;
    let bot = Bot::start(config(&server, unlimited()));
    let id = server.says(1, "a < b");
    let message = server.message(1, 1).await;
    assert_eq!((message.text, message.parse_mode), (format!("1: a < b #{id}"), None));
    bot.stop().await;
}

#[tokio::test]
async fn a_person_who_blocked_the_bot_is_left_alone_until_they_return() {
    let server = Server::start(Faults::default(), None).await;
    let bot = Bot::start(config(&server, unlimited()));
    server.blocks(1);
    server.says(1, "goodbye");
    while server.refused(403) == 0 {
        tokio::task::yield_now().await;
    }
    server.unblocks(1);
    server.says(1, "I am back");
    assert!(server.message(1, 1).await.text.starts_with("2: I am back"));
    let store = bot.stop().await;
    assert!(store.waiting(10).await.unwrap().is_empty());
}

#[tokio::test]
async fn repeated_updates_are_worked_once() {
    let server = Server::start(Faults { repeated: 1_000, ..Faults::default() }, None).await;
    let bot = Bot::start(config(&server, unlimited()));
    for turn in 0..20 {
        server.says(1, &format!("{turn}"));
    }
    server.message(1, 20).await;
    server.says(1, "last");
    let messages = server.until(1, "the last", |m| m.iter().any(|m| m.text.contains("last"))).await;
    assert_eq!(messages.len(), 21);
    assert!(messages[20].text.starts_with("21: last"));
    bot.stop().await;
}

#[tokio::test]
async fn the_published_limits_are_kept_without_being_told() {
    let server = Server::start(Faults::default(), Some(Published::default())).await;
    let limits = Limits { poll_for: Duration::from_secs(5), ..Limits::default() };
    let bot = Bot::start(config(&server, limits));
    for chat in 1..=40 {
        server.says(chat, "hello");
    }
    for _ in 0..5 {
        server.says(1, "and again");
    }
    for chat in 2..=40 {
        server.message(chat, 1).await;
    }
    server.message(1, 6).await;
    assert_eq!(server.refused(429), 0);
    bot.stop().await;
}

#[tokio::test]
async fn a_chat_that_floods_is_told_once_and_others_do_not_notice() {
    let server = Server::start(Faults::default(), None).await;
    let limits = Limits { read_per_minute: Limits::default().read_per_minute, ..unlimited() };
    let bot = Bot::start(config(&server, limits));
    for turn in 0..300 {
        server.says(1, &format!("flood {turn}"));
    }
    let began = Instant::now();
    server.says(2, "hello");
    server.message(2, 1).await;
    assert!(began.elapsed() < Duration::from_secs(2), "{:?}", began.elapsed());
    let told = |text: &str| text == "phrase TooFast";
    let messages = server.until(1, "told to slow down", |m| m.iter().any(|m| told(&m.text))).await;
    assert_eq!(messages.iter().filter(|m| told(&m.text)).count(), 1);
    server.until(1, "what was read is answered", |m| m.len() >= 41).await;
    assert_eq!(server.unacknowledged(), 0);
    bot.stop().await;
}

#[tokio::test]
async fn whoever_knows_no_secret_has_no_byte_of_a_body_read() {
    let server = Server::start(Faults::default(), None).await;
    let way = webhook();
    let Way::Webhook { listen, .. } = way.clone() else { unreachable!() };
    let bot = Bot::start(Config { way, ..config(&server, unlimited()) });
    let head = "POST /telegram HTTP/1.1\r\nhost: x\r\nx-telegram-bot-api-secret-token: guess\r\n\
                content-type: application/json\r\ncontent-length: 900000\r\n\r\n";
    let mut stream = loop {
        match tokio::net::TcpStream::connect(listen).await {
            Ok(stream) => break stream,
            Err(_) => tokio::time::sleep(Duration::from_millis(10)).await,
        }
    };
    stream.write_all(head.as_bytes()).await.unwrap();
    let mut answer = vec![0; 256];
    let read = tokio::time::timeout(Duration::from_secs(5), stream.read(&mut answer)).await.unwrap().unwrap();
    assert!(answer[..read].starts_with(b"HTTP/1.1 401"), "{}", String::from_utf8_lossy(&answer[..read]));
    bot.stop().await;
}
