//! What it costs to read an update, and what is answered to a message that was sent: by the few fields that are looked
//! at, as the server does, and into the client library's own type, which holds all that either may be.
//!
//! The server reads by hand for two reasons beside this: an update of a kind that is newer than the library is let go
//! and not refused, and what is kept of one holds no name, number or place of anybody.

#![expect(clippy::unwrap_used, reason = "a measurement that meets what it does not expect should end there")]

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use lapwise::channel::telegram::update::{Me, read};
use lapwise::serve::message_id;
use serde_json::{Value, json};
use teloxide::types::{Message, Update};

fn pressed() -> String {
    let person = json!({ "id": 42, "is_bot": false, "first_name": "Wren", "language_code": "en" });
    let row = |label: &str| json!([{ "text": label, "callback_data": format!("7~~{label}") }]);
    json!({ "update_id": 1_001, "callback_query": {
        "id": "7", "from": person, "chat_instance": "1", "data": "7~~felt",
        "message": {
            "message_id": 11, "date": 1_795_608_000,
            "chat": { "id": 42, "type": "private", "first_name": "Wren" },
            "from": { "id": 1, "is_bot": true, "first_name": "lapwise" },
            "text": "What is on the roof now?",
            "reply_markup": { "inline_keyboard": [row("felt"), row("tiles"), row("nothing"), row("not sure")] },
        },
    }})
    .to_string()
}

fn typed() -> String {
    let person = json!({ "id": 42, "is_bot": false, "first_name": "Wren", "language_code": "en" });
    json!({ "update_id": 1_002, "message": {
        "message_id": 12, "date": 1_795_608_000, "from": person, "text": "2.4 m",
        "chat": { "id": 42, "type": "private", "first_name": "Wren" },
    }})
    .to_string()
}

fn updates(bench: &mut Criterion) {
    let me = Me { id: 1, username: "lapwise_bot".to_owned() };
    for (name, text) in [("typed", typed()), ("pressed", pressed())] {
        bench.bench_function(&format!("{name}, by its fields"), |bench| {
            bench.iter(|| read(&serde_json::from_str::<Value>(black_box(&text)).unwrap(), &me));
        });
        bench.bench_function(&format!("{name}, the library's type"), |bench| {
            bench.iter(|| serde_json::from_str::<Update>(black_box(&text)).unwrap());
        });
    }
}

fn sent(bench: &mut Criterion) {
    let text = json!({
        "message_id": 12, "date": 1_795_608_000, "text": "What is on the roof now?",
        "chat": { "id": 42, "type": "private", "first_name": "Wren" },
        "from": { "id": 1, "is_bot": true, "first_name": "lapwise", "username": "lapwise_bot" },
    })
    .to_string();
    bench.bench_function("sent, by its number", |bench| bench.iter(|| message_id(black_box(&text)).unwrap()));
    bench.bench_function("sent, the library's type", |bench| {
        bench.iter(|| serde_json::from_str::<Message>(black_box(&text)).unwrap());
    });
}

criterion_group!(benches, updates, sent);
criterion_main!(benches);
