//! Starting, stopping and being watched.

use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Duration;

use lapwise::app::App;
use lapwise::book::Book;
use lapwise::serve::{AtQuestion, Census, Config, ServeError, Token, Watched, run, watch};
use lapwise::store::{MemoryStore, Store};
use tokio_util::sync::CancellationToken;

use crate::botapi::{Faults, Server};
use crate::counter::Counter;
use crate::harness::{Bot, config, free_port, unlimited};

#[tokio::test]
async fn a_wrong_token_is_an_error_that_does_not_repeat_it() {
    let server = Server::start(Faults::default(), None).await;
    let token = Token::new("701:WRONG-SECRET").unwrap();
    let config = Config { token, ..config(&server, unlimited()) };
    let store = Arc::new(MemoryStore::new(None).unwrap());
    let turns = Arc::new(Counter { store: Arc::clone(&store) });
    let error = run(config, store, turns, std::future::pending()).await.unwrap_err();
    assert!(matches!(error, ServeError::Token(_)));
    assert!(!format!("{error} {error:?}").contains("SECRET"));
}

#[tokio::test]
async fn what_was_kept_and_said_before_a_stop_goes_on_after_it() {
    let server = Server::start(Faults::default(), None).await;
    let bot = Bot::start(config(&server, unlimited()));
    server.says(1, "before");
    server.message(1, 1).await;
    server.behave(Faults { bad_gateway: 1_000, ..Faults::default() });
    let store = bot.stop().await;

    // The platform comes back; nothing of the session is gone.
    server.behave(Faults::default());
    let bot = Bot::start_on(config(&server, unlimited()), store);
    server.says(1, "after");
    assert!(server.message(1, 2).await.text.starts_with("2: after"));
    bot.stop().await;
}

#[tokio::test]
async fn stopping_sends_what_was_said() {
    let server = Server::start(Faults { slow: 1_000, ..Faults::default() }, None).await;
    let bot = Bot::start(config(&server, unlimited()));
    for chat in 1..=20 {
        server.says(chat, "hello");
    }
    while server.unacknowledged() > 0 {
        tokio::time::sleep(Duration::from_millis(10)).await;
    }
    let store = bot.stop().await;
    let unworked = store.arrived(100).await.unwrap().len();
    assert!(store.waiting(100).await.unwrap().is_empty());
    assert_eq!(server.chats().len() + unworked, 20);
}

/// Knows how many chats stand where.
struct Numbers;

impl Watched for Numbers {
    fn census(&self) -> Census {
        let question = AtQuestion { id: "colour".to_owned(), waiting: 3, quiet: 2, repeats: 5 };
        Census { states: vec![("interviewing", 7)], questions: vec![question] }
    }
}

#[tokio::test]
async fn health_and_metrics_tell_how_it_is() {
    let server = Server::start(Faults::default(), None).await;
    let address = ([127, 0, 0, 1], free_port()).into();
    let store = Arc::new(MemoryStore::new(None).unwrap());
    let stop = CancellationToken::new();
    watch(Some(address), Arc::clone(&store), Arc::new(Numbers), stop.clone()).await.unwrap();
    let bot = Bot::start_on(config(&server, unlimited()), store);
    server.says(1, "my secret words");
    server.message(1, 1).await;
    let get = |path: &'static str| async move {
        let answer = reqwest::get(format!("http://{address}{path}")).await.unwrap();
        (answer.status().as_u16(), answer.text().await.unwrap())
    };
    assert_eq!(get("/healthz").await, (200, "alive\n".to_owned()));
    assert_eq!(get("/readyz").await, (200, "ready\n".to_owned()));
    let (_, metrics) = get("/metrics").await;
    for name in [
        "lapwise_updates_total{outcome=\"taken\"}",
        "lapwise_turns_total{outcome=\"done\"}",
        "lapwise_turn_duration_seconds_bucket",
        "lapwise_telegram_calls_total{method=\"sendMessage\",outcome=\"ok\"}",
        "lapwise_outbox_chats",
        "lapwise_chats{state=\"interviewing\"} 7",
        "lapwise_question_chats{question=\"colour\"} 3",
        "lapwise_question_quiet_chats{question=\"colour\"} 2",
        "lapwise_reprompts_total{question=\"colour\"} 5",
        "lapwise_chats_gone",
    ] {
        assert!(metrics.contains(name), "{name} is not in\n{metrics}");
    }
    assert!(!metrics.contains("secret"));
    bot.stop().await;
}

#[tokio::test]
async fn the_commands_are_registered_in_each_language() {
    let server = Server::start(Faults::default(), None).await;
    let bot = Bot::start(config(&server, unlimited()));
    while server.calls("setMyCommands") < 2 {
        tokio::task::yield_now().await;
    }
    let languages: Vec<_> = server.commands().iter().map(|wish| wish["language_code"].clone()).collect();
    assert_eq!(languages, [serde_json::Value::Null, "en".into()]);
    bot.stop().await;
}

#[tokio::test]
async fn who_was_quiet_for_long_is_told_before_everything_is_deleted() {
    static NOW: AtomicU64 = AtomicU64::new(1_795_608_000);
    let server = Server::start(Faults::default(), None).await;
    let store = Arc::new(MemoryStore::new(None).unwrap());
    let app = || {
        let clock = || NOW.load(Ordering::Relaxed);
        App::new(Arc::new(Book::shipped()), Arc::clone(&store), clock, "kept-by-the-adviser").keeping_for(180)
    };
    let start = || Bot::serve(config(&server, unlimited()), Arc::clone(&store), Arc::new(app()));
    let bot = start();
    server.says(1, "/start");
    server.message(1, 1).await;
    server.says(1, "felt");
    server.message(1, 2).await;
    bot.stop().await;

    NOW.fetch_add(166 * 86_400, Ordering::Relaxed);
    app().tidy().await.unwrap();
    let bot = start();
    let told = server.message(1, 3).await.text;
    assert!(told.contains("I keep your answers about your roof until 24 May 2027."), "{told}");
    bot.stop().await;

    // Told once; and one word is enough.
    app().tidy().await.unwrap();
    NOW.fetch_add(13 * 86_400, Ordering::Relaxed);
    let bot = start();
    server.says(1, "help");
    let helped = server.message(1, 4).await.text;
    assert!(!helped.contains("24 May"), "{helped}");
    NOW.fetch_add(2 * 86_400, Ordering::Relaxed);
    app().tidy().await.unwrap();
    assert_eq!(store.chats().await.unwrap().len(), 1);
    bot.stop().await;
}
