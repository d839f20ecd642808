//! What a person sees.

use lapwise::serve::Way;
use serde_json::json;

use crate::botapi::{BOT, BOT_NAME, Faults, Server};
use crate::harness::{Bot, config, unlimited, webhook};

async fn start() -> (Server, Bot) {
    let server = Server::start(Faults::default(), None).await;
    let bot = Bot::start(config(&server, unlimited()));
    (server, bot)
}

#[tokio::test]
async fn a_message_is_answered_and_remembered() {
    let (server, bot) = start().await;
    let first = server.says(1, "hello <b>& you</b>");
    assert_eq!(server.message(1, 1).await.text, format!("1: hello <b>& you</b> #{first}"));
    let second = server.says(1, "again");
    assert_eq!(server.message(1, 2).await.text, format!("2: again #{second}"));
    bot.stop().await;
}

#[tokio::test]
async fn a_pressed_button_answers_once_and_leaves_the_choice_in_the_message() {
    let (server, bot) = start().await;
    server.says(1, "ask");
    let question = server.message(1, 1).await;
    let labels: Vec<Vec<&str>> =
        question.buttons.iter().map(|row| row.iter().map(|(label, _)| label.as_str()).collect()).collect();
    assert_eq!(labels, [vec!["Red", "Green & <blue>"], vec!["A colour that is far too long for half a row"]]);
    server.presses(1, "Green & <blue>");
    let messages =
        server.until(1, "the choice in the message", |m| m.len() == 2 && m[0].text.contains('✓')).await;
    assert_eq!(messages[0].text, "Which colour < or > & why?\n\n✓ Green & <blue>");
    assert!(messages[0].buttons.is_empty());
    assert_eq!(messages[1].text, "2: chose Gre");

    // The second tap came before the buttons were gone: it changes nothing.
    server.presses_on(1, 1, &question, "Red");
    assert_eq!(server.message(1, 3).await.text, "There is no question.");
    assert_eq!(server.messages(1)[0].text, messages[0].text);
    assert_eq!(server.callbacks().0.len(), 2, "every press stops the spinner");
    bot.stop().await;
}

#[tokio::test]
async fn a_stale_button_shows_the_current_question() {
    let (server, bot) = start().await;
    server.says(1, "ask");
    let old = server.message(1, 1).await;
    server.says(1, "something else");
    server.says(1, "ask");
    server.message(1, 3).await;
    server.presses_on(1, 1, &old, "Red");
    let shown = server.message(1, 4).await;
    assert_eq!(shown.text, "Which colour < or > & why?");
    server
        .until(1, "only the last question has buttons", |m| {
            m.iter().map(|m| !m.buttons.is_empty()).collect::<Vec<_>>() == [false, false, false, true]
        })
        .await;
    bot.stop().await;
}

#[tokio::test]
async fn long_answers_come_in_parts_and_files_as_files() {
    let (server, bot) = start().await;
    server.says(1, "/long");
    let parts = server.until(1, "all parts", |m| m.len() == 8).await;
    assert!(parts.iter().all(|part| part.text.ends_with("length.")));
    server.says(2, "/file");
    let file = server.message(2, 2).await;
    assert_eq!(file.file, Some(("plan.txt".to_owned(), 5_000)));
    assert_eq!(file.text, "The plan & all <of> it");
    bot.stop().await;
}

#[tokio::test]
async fn everything_a_person_can_send_gets_an_answer() {
    let (server, bot) = start().await;
    let sent = [
        ("photo", json!([{ "file_id": "x" }])),
        ("voice", json!({ "duration": 3 })),
        ("sticker", json!({ "emoji": "🏠" })),
        ("location", json!({ "latitude": 1.0, "longitude": 2.0 })),
        ("contact", json!({ "phone_number": "1" })),
        ("something_new", json!({})),
    ];
    for (kind, content) in &sent {
        server.sends(1, &json!({ *kind: content }));
    }
    server.sends(1, &json!({ "text": "x".repeat(100_000) }));
    let answers = server.until(1, "an answer to each", |m| m.len() == sent.len() + 1).await;
    let kinds: Vec<&str> =
        answers.iter().filter_map(|m| m.text.split_once(": ").map(|(_, kind)| kind)).collect();
    assert_eq!(
        kinds,
        ["(photo)", "(voice)", "(sticker)", "(location)", "(contact)", "(unknown)", "(long-text)"]
    );
    bot.stop().await;
}

#[tokio::test]
async fn in_a_group_it_speaks_when_spoken_to_and_knows_people_apart() {
    let (server, bot) = start().await;
    let says = |person: i64, text: &str| {
        server.update(json!({ "message": {
            "message_id": 50 + person, "date": 0, "chat": { "id": -9, "type": "supergroup", "title": "Allotments" },
            "from": { "id": person, "is_bot": false, "first_name": "x" }, "text": text,
        }}))
    };
    says(1, "nobody asked you");
    says(1, "/help@some_other_bot");
    says(1, &format!("@{BOT_NAME} ask"));
    let question = server.message(-9, 1).await;
    assert_eq!(question.reply_to, Some(51));
    server.presses_on(-9, 2, &question, "Red");
    let two = says(2, &format!("@{BOT_NAME} hello"));
    assert_eq!(server.message(-9, 2).await.text, format!("1: hello #{two}"));
    assert_eq!(server.callbacks().1, ["phrase NotYourButton"]);
    server.presses_on(-9, 1, &question, "Red");
    assert_eq!(server.message(-9, 3).await.text, "2: chose Red");
    assert_eq!(server.messages(-9).len(), 3);
    bot.stop().await;
}

#[tokio::test]
async fn in_a_forum_it_answers_in_the_same_topic() {
    let (server, bot) = start().await;
    server.update(json!({ "message": {
        "message_id": 5, "date": 0, "chat": { "id": -9, "type": "supergroup", "is_forum": true },
        "from": { "id": 1, "is_bot": false }, "text": format!("@{BOT_NAME} hello"),
        "message_thread_id": 31, "is_topic_message": true,
    }}));
    assert_eq!(server.message(-9, 1).await.thread, Some(31));
    bot.stop().await;
}

#[tokio::test]
async fn channels_other_bots_and_new_kinds_of_update_are_let_go() {
    let (server, bot) = start().await;
    server.update(
        json!({ "channel_post": { "message_id": 1, "chat": { "id": -8, "type": "channel" }, "text": "x" }}),
    );
    server.update(json!({ "quantum_message": { "superposition": [true, false] } }));
    server.update(json!({ "message": "not even an object" }));
    server.update(json!({ "message": {
        "message_id": 1, "chat": { "id": BOT, "type": "private" }, "from": { "id": 5, "is_bot": true }, "text": "x",
    }}));
    let id = server.says(1, "still there?");
    assert_eq!(server.message(1, 1).await.text, format!("1: still there? #{id}"));
    assert_eq!(server.chats(), [1]);
    bot.stop().await;
}

#[tokio::test]
async fn a_slow_turn_shows_that_something_is_done() {
    let (server, bot) = start().await;
    server.says(1, "quick");
    server.message(1, 1).await;
    assert_eq!(server.calls("sendChatAction"), 0);
    server.says(1, "/slow");
    server.message(1, 2).await;
    assert_eq!(server.calls("sendChatAction"), 1);
    bot.stop().await;
}

#[tokio::test]
async fn the_webhook_serves_the_same_chat() {
    let server = Server::start(Faults::default(), None).await;
    let mut config = config(&server, unlimited());
    config.way = webhook();
    let Way::Webhook { public_url, .. } = config.way.clone() else { unreachable!() };
    let bot = Bot::start(config);
    let id = server.says(1, "hello");
    assert_eq!(server.message(1, 1).await.text, format!("1: hello #{id}"));
    assert_eq!(server.unacknowledged(), 0);

    // Whoever does not know the secret is sent away, whatever they send.
    let client = reqwest::Client::new();
    let forged = json!({ "update_id": 5, "message": {
        "message_id": 1, "chat": { "id": 6, "type": "private" }, "from": { "id": 6 }, "text": "forged",
    }});
    for secret in ["", "wrong", &"0".repeat(64)] {
        let sent =
            client.post(&public_url).header("X-Telegram-Bot-Api-Secret-Token", secret).json(&forged).send();
        assert_eq!(sent.await.unwrap().status(), 401);
    }
    let (_, secret) = server.webhook().unwrap();
    let large = client.post(&public_url).header("X-Telegram-Bot-Api-Secret-Token", &secret);
    assert_eq!(large.body(vec![b' '; 1_000_001]).send().await.unwrap().status(), 413);
    let broken = client.post(&public_url).header("X-Telegram-Bot-Api-Secret-Token", &secret);
    assert_eq!(broken.body("no json").send().await.unwrap().status(), 200);
    bot.stop().await;
    assert!(server.webhook().is_some(), "the webhook is left for whoever takes over");
    assert!(server.messages(6).is_empty());
}
